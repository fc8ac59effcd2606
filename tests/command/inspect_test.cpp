// `linefall inspect`, `keys`, `list`, help, and what is no command line at all.

#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "command/program.h"
#include "support/expected_messages.h"
#include "support/folders.h"

using namespace linefall;
using namespace linefall::test;
using nlohmann::json;

TEST_CASE("the finished program gives the messages of every bad file, in words and as JSON") {
    Arguments all{"inspect"};
    for (const std::string& file : badFiles()) all.push_back(file);
    const Said words = run(all);
    CHECK(words.code == 2);
    CHECK(words.out.empty());
    all.emplace_back("--json");
    const Said said = run(all);
    CHECK(said.code == 2);
    CHECK(said.err == words.err);
    const json report = said.json();
    REQUIRE(report.size() == badFiles().size());
    std::string lines;
    for (const json& entry : report) {
        const std::string file = entry["file"];
        CAPTURE(file);
        CHECK(entry["sound"] == false);
        const std::vector<std::string> expected = expectedMessages(file);
        REQUIRE(entry["problems"].size() == expected.size());
        for (std::size_t i = 0; i < expected.size(); ++i) {
            const std::string text = entry["problems"][i]["text"];
            lines += text + "\n";
            CAPTURE(text, expected[i]);
            CHECK(matches(withoutPath(text, file), expected[i]));
        }
    }
    CHECK(words.err == lines);
}

TEST_CASE("sound files are called sound, and one bad file among them makes the exit code 2") {
    const std::string good = scenesFolder() + "/places/slopes.toml";
    const std::string bad = testsFolder() + "/bad/flight-no-unit.toml";
    const Said one = run({"inspect", good});
    CHECK(one.code == 0);
    CHECK(one.out == good + ": sound\n");
    const Said both = run({"inspect", bad, good});
    CHECK(both.code == 2);
    CHECK(both.out == good + ": sound\n");
    CHECK(both.err.find("flight.height: read '3000'") != std::string::npos);
    CHECK(run({"inspect", "/nonexistent.toml"}).code == 2);
    CHECK(run({"inspect"}).code == 2);
}

TEST_CASE("keys lists every key with unit, range, default and help") {
    const Said said = run({"keys", "--json"});
    REQUIRE(said.code == 0);
    std::set<std::string> keys, units;
    for (const json& row : said.json()) {
        const std::string key = row["key"];
        CAPTURE(key);
        keys.insert(key);
        CHECK(row["help"].get<std::string>().size() > 10);
        CHECK_FALSE(row["range"].get<std::string>().empty());
        CHECK(row.contains("default"));
        for (const std::string unit : row["units"]) units.insert(unit);
        if (row.contains("least")) CHECK(row["least"].get<double>() < row["most"].get<double>());
    }
    for (const char* key : {"flight.height", "flight.speed", "flight.heading", "instrument.ifov", "instrument.fov",
                            "instrument.samples", "instrument.focal_length", "instrument.detector_pitch", "instrument.bits",
                            "instrument.line_rate", "sun.azimuth", "sun.elevation", "sun.time", "earth.radius", "noise.seed"}) {
        CAPTURE(key);
        CHECK(keys.count(key) == 1);
    }
    for (const char* unit :
         {"m", "km", "ft", "mm", "um", "deg", "rad", "mrad", "s", "ms", "us", "m/s", "km/h", "kn", "Hz", "kHz", "%", "e"}) {
        CAPTURE(unit);
        CHECK(units.count(unit) == 1);
    }
    const std::string words = run({"keys"}).out;
    for (const std::string& key : keys) CHECK(words.find(key + "\n") != std::string::npos);
}

TEST_CASE("a default that keys states is one that --set takes") {
    Arguments all{"facts", "--json", "--instrument", "whisk-broom"};
    std::map<std::string, std::string> defaults;
    for (const json& row : run({"keys", "--json"}).json()) {
        const std::string key = row["key"], value = row["default"];
        const bool instrument = row.contains("instruments");
        if (value.empty() || value == "auto" ||
            (instrument && row["instruments"].dump().find("whisk-broom") == std::string::npos))
            continue;
        if (key == "sun.azimuth" || key == "sun.elevation" || key == "instrument.focal_length")
            continue;  // each in place of another
        defaults[key] = value;
    }
    for (const auto& [key, value] : defaults) {
        all.emplace_back("--set");
        all.push_back(key + "=" + value);
    }
    CHECK(defaults.size() > 40);
    const Said said = run(all);
    INFO(said.err);
    CHECK(said.code == 0);
}

TEST_CASE("list names what comes with the program") {
    const json out = run({"list", "--json"}).json();
    std::set<std::string> names;
    for (const char* folder : {"places", "instruments", "flights"}) {
        for (const json& entry : out[folder]) {
            names.insert(entry["name"]);
            CHECK_FALSE(entry["title"].get<std::string>().empty());
            CHECK_FALSE(entry["description"].get<std::string>().empty());
        }
    }
    for (const char* name :
         {"island", "proving-ground", "slopes", "hill-and-hollow", "whisk-broom", "push-broom", "frame-camera", "eye", "straight"}) {
        CAPTURE(name);
        CHECK(names.count(name) == 1);
        CHECK(run({"list"}).out.find(name) != std::string::npos);
    }
}

TEST_CASE("help and version go to the standard output, wrong command lines to the error output with code 2") {
    for (const Arguments& help : {Arguments{"--help"},
                                  {"form", "--help"},
                                  {"facts", "--help"},
                                  {"why", "--help"},
                                  {"sun", "--help"},
                                  {"keys", "--help"},
                                  {"inspect", "--help"},
                                  {"list", "--help"},
                                  {"--version"}}) {
        const Said said = run(help);
        CAPTURE(help[0]);
        CHECK(said.code == 0);
        CHECK(said.err.empty());
        CHECK(said.out.size() > 10);
    }
    const std::string out = fresh("never");
    for (const Arguments& wrong : {Arguments{"fly"},
                                   {"form"},
                                   {"form", "--out"},
                                   {"form", "--out", out, "--place"},
                                   {"form", "--out", out, "--place", ""},
                                   {"form", "--out", out, "--instrument", ""},
                                   {"form", "--out", out, "--threads", "-1"},
                                   {"form", "--out", out, "--threads", "2000"},
                                   {"form", "--out", out, "--height", "5 km"},
                                   {"why", "--sample", "1"},
                                   {"facts", "keys"},
                                   {"keys", "extra"}}) {
        const Said said = run(wrong);
        CAPTURE(wrong.back(), said.err);
        CHECK(said.code == 2);
        CHECK(said.out.empty());
        CHECK_FALSE(said.err.empty());
    }
    CHECK(filesIn(out).empty());
}

TEST_CASE("wrong names, seeds and settings end with code 2, all told at once, and nothing is written") {
    const std::string out = fresh("nothing");
    const Said said = run({"form", "--place", "iland", "--instrument", "pushbroom", "--flight", "strait", "--seed", "x", "--set",
                           "flight.height=5", "--set", "instrument.bit=8", "--out", out});
    CHECK(said.code == 2);
    CHECK(said.out.empty());
    for (const char* message :
         {"--place: read 'iland'", "did you mean 'island'?", "--instrument: read 'pushbroom'", "did you mean 'push-broom'?",
          "--flight: read 'strait'", "did you mean 'straight'?", "--seed: noise.seed: read 'x', expected a whole number",
          "--set:1:1: flight.height: read '5', expected a number with a unit",
          "--set:1:2: instrument.bit: read an unknown key"}) {
        CAPTURE(message, said.err);
        CHECK(said.err.find(message) != std::string::npos);
    }
    CHECK_FALSE(std::filesystem::exists(out));
    for (const std::string& place :
         {std::string("../x"), std::string("/etc/passwd"), std::string("."), std::string(".."), std::string(3000, 'p'),
          std::string("a\nb"), std::string("/dev/zero"), std::string("\xff\xfe.toml"), std::string("$(id)")}) {
        const Said odd = run({"form", "--place", place, "--out", out});
        CAPTURE(place, odd.err);
        CHECK(odd.code == 2);
        CHECK_FALSE(odd.err.empty());
        CHECK(odd.err.find('\x1b') == std::string::npos);
    }
    CHECK_FALSE(std::filesystem::exists(out));
}
