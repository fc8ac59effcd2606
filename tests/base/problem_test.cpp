// How a mistake in an input is told.
#include <catch2/catch.hpp>

#include "base/problem.h"

using namespace linefall;

TEST_CASE("a problem names place, key, what was read, what was expected and the nearest name") {
    const Problem misspelt{{"a.toml", 3, 7}, "flight.hight", "'5 km'", "a known key", "flight.height"};
    CHECK(misspelt.text() == "a.toml:3:7: flight.hight: read '5 km', expected a known key; did you mean 'flight.height'?");
    const Problem missing{{"a.toml", 0, 0}, "", "", "a table [flight]", ""};
    CHECK(missing.text() == "a.toml: expected a table [flight]");
    const Problem no_file{{"", 0, 0}, "--set", "'x'", "key=value", ""};
    CHECK(no_file.text() == "--set: read 'x', expected key=value");
}

TEST_CASE("a place without a line is its file alone") {
    CHECK(Place{"a.toml", 0, 0}.text() == "a.toml");
    CHECK(Place{"a.toml", 12, 3}.text() == "a.toml:12:3");
}

TEST_CASE("an input error carries all problems and says them one a line") {
    const Problem first{{"a", 1, 1}, "x", "", "y", ""};
    const Problem second{{"a", 2, 1}, "z", "", "w", ""};
    const InputError error(Problems{first, second});
    CHECK(error.problems().size() == 2);
    CHECK(std::string(error.what()) == first.text() + "\n" + second.text());
    CHECK(std::string(InputError(first).what()) == first.text());
}

TEST_CASE("the nearest known name is found, and none when none is near") {
    const std::vector<std::string> known{"flight.height", "flight.heading", "flight.speed", "sun.elevation"};
    CHECK(nearestName("flight.hight", known) == "flight.height");
    CHECK(nearestName("flight.headnig", known) == "flight.heading");
    CHECK(nearestName("flght.speed", known) == "flight.speed");
    CHECK(nearestName("sun.elevation", known) == "sun.elevation");
    CHECK(nearestName("camera.aperture", known).empty());
    CHECK(nearestName("", known).empty());
    CHECK(nearestName("x", {}).empty());
    CHECK(nearestName(std::string(100000, 'a'), known).empty());
}

TEST_CASE("a short name is near only to names that share a letter with it") {
    CHECK(nearestName("x", {"m", "km"}).empty());
    CHECK(nearestName("q", {"ab"}).empty());
    CHECK(nearestName("on", {"off", "of"}) == "of");
    CHECK(nearestName("bix", {"box", "wall"}) == "box");
}

TEST_CASE("a message is fit for a terminal whatever the input was") {
    const Problem p{{"a\x1b[2Jb.toml", 3, 4}, "ke\ny", "'\x7f\t'", "a name", "o\x01"};
    CHECK(p.text() == "a\\x1b[2Jb.toml:3:4: ke\\x0ay: read '\\x7f\\x09', expected a name; did you mean 'o\\x01'?");
    // Long texts are cut, never within a letter of UTF-8.
    const Problem longer{{"", 0, 0}, std::string(5000, 'k'), std::string("x") + [] {
        std::string text;
        for (int i = 0; i < 1000; ++i) text += "\xc3\xa9";
        return text;
    }(), "", ""};
    const std::string text = longer.text();
    CHECK(text.size() < 500);
    CHECK(text.find(std::string(120, 'k') + "...: read x\xc3\xa9") == 0);
    CHECK(text.substr(text.size() - 5) == "\xc3\xa9...");
}
