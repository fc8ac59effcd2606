// Declared parameters: layers, partners, ranges, and the struct that they fill.
#include <catch2/catch.hpp>

#include "base/parameter.h"

using namespace linefall;

namespace {

enum class Colour { red, green, blue };

struct Sample {
    double height_m = -1.0;
    int count = -1;
    std::optional<double> dwell_s;
    std::optional<double> rate_Hz;
    bool on = false;
    std::string name;
    Colour colour = Colour::red;
};

const Keys<Sample>& sampleKeys() {
    static const Keys<Sample> keys = [] {
        Keys<Sample> k("sample.");
        k.number("height", Kind::length, &Sample::height_m, 3000.0, 10.0, 4e7, "height above datum")
            .count("count", &Sample::count, 8, 1, 64, "how many")
            .derived("dwell", Kind::time, &Sample::dwell_s, 1e-6, 1.0, "dwell time")
            .derived("rate", Kind::frequency, &Sample::rate_Hz, 1.0, 1e6, "sampling rate")
            .insteadOf("dwell")
            .flag("on", &Sample::on, true, "whether it acts")
            .text("name", &Sample::name, "nobody", "a name")
            .choice("colour", &Sample::colour, Colour::green, {"red", "green", "blue"}, "a colour");
        return k;
    }();
    return keys;
}

const Parameter& row(const std::string& name) {
    for (const Parameter& parameter : sampleKeys().rows()) {
        if (parameter.key == "sample." + name) return parameter;
    }
    throw std::out_of_range(name);
}

/// Gives text to a key as a reader of files would.
void give(Settings& settings, const std::string& name, const std::string& text, Layer layer, Problems& problems, int line = 1) {
    const Place place{"test", line, 1};
    if (auto value = readValue(row(name), text, place, problems)) {
        settings.give(row(name), {std::move(*value), place, layer}, problems);
    }
}

}  // namespace

TEST_CASE("without settings every member has its declared default") {
    const Sample sample = sampleKeys().defaults();
    CHECK(sample.height_m == 3000.0);
    CHECK(sample.count == 8);
    CHECK_FALSE(sample.dwell_s);
    CHECK_FALSE(sample.rate_Hz);
    CHECK(sample.on);
    CHECK(sample.name == "nobody");
    CHECK(sample.colour == Colour::green);
}

TEST_CASE("given values of every kind reach their members") {
    Settings settings;
    Problems problems;
    give(settings, "height", "5 km", Layer::scene, problems);
    give(settings, "count", "3", Layer::scene, problems);
    give(settings, "dwell", "2 ms", Layer::scene, problems);
    give(settings, "on", "off", Layer::scene, problems);
    give(settings, "name", "somebody", Layer::scene, problems);
    give(settings, "colour", "blue", Layer::scene, problems);
    REQUIRE(problems.empty());
    const Sample sample = sampleKeys().read(settings);
    CHECK(sample.height_m == 5000.0);
    CHECK(sample.count == 3);
    CHECK(sample.dwell_s == 2e-3);
    CHECK_FALSE(sample.rate_Hz);
    CHECK_FALSE(sample.on);
    CHECK(sample.name == "somebody");
    CHECK(sample.colour == Colour::blue);
    CHECK(settings.all().size() == 6);
    REQUIRE(settings.find("sample.height") != nullptr);
    CHECK(settings.find("sample.height")->place == Place{"test", 1, 1});
    CHECK(settings.find("sample.rate") == nullptr);
}

TEST_CASE("a later layer overrides an earlier one in whatever order they are read") {
    for (const bool forwards : {true, false}) {
        Settings settings;
        Problems problems;
        const std::vector<std::pair<std::string, Layer>> order{
            {"1 km", Layer::preset}, {"2 km", Layer::scene}, {"3 km", Layer::user}};
        for (std::size_t i = 0; i < order.size(); ++i) {
            const auto& [text, layer] = order[forwards ? i : order.size() - 1 - i];
            give(settings, "height", text, layer, problems);
        }
        CHECK(problems.empty());
        CHECK(sampleKeys().read(settings).height_m == 3000.0);
        CHECK(settings.find("sample.height")->layer == Layer::user);
    }
}

TEST_CASE("a key twice in one file is a problem that names the first place, and the user may repeat one") {
    Settings settings;
    Problems problems;
    give(settings, "height", "1 km", Layer::scene, problems, 4);
    give(settings, "height", "2 km", Layer::scene, problems, 9);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].text() == "test:9:1: sample.height: expected this key once; it is already set at test:4:1");
    CHECK(sampleKeys().read(settings).height_m == 1000.0);

    give(settings, "height", "3 km", Layer::user, problems);
    give(settings, "height", "4 km", Layer::user, problems);
    CHECK(problems.size() == 1);
    CHECK(sampleKeys().read(settings).height_m == 4000.0);
}

TEST_CASE("of two partners in one layer only one may have a value") {
    for (const Layer layer : {Layer::preset, Layer::scene, Layer::user}) {
        Settings settings;
        Problems problems;
        give(settings, "dwell", "2 ms", layer, problems);
        give(settings, "rate", "100 Hz", layer, problems);
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].key == "sample.rate");
        CHECK(problems[0].expected == "either sample.rate or sample.dwell, not both: each follows from the other");
        CHECK(sampleKeys().read(settings).dwell_s == 2e-3);
        CHECK_FALSE(sampleKeys().read(settings).rate_Hz);
    }
}

TEST_CASE("a partner of a later layer takes the place of the earlier layer's") {
    Settings settings;
    Problems problems;
    give(settings, "dwell", "2 ms", Layer::preset, problems);
    give(settings, "rate", "100 Hz", Layer::user, problems);
    CHECK(problems.empty());
    CHECK_FALSE(sampleKeys().read(settings).dwell_s);
    CHECK(sampleKeys().read(settings).rate_Hz == 100.0);
    // And a preset read afterwards does not bring the old one back.
    give(settings, "dwell", "5 ms", Layer::preset, problems);
    CHECK(problems.empty());
    CHECK_FALSE(sampleKeys().read(settings).dwell_s);
    CHECK(sampleKeys().read(settings).rate_Hz == 100.0);
}

TEST_CASE("auto beside a partner with a value keeps that value, in either order") {
    for (const bool value_first : {true, false}) {
        INFO((value_first ? "value first" : "auto first"));
        Settings settings;
        Problems problems;
        if (value_first) give(settings, "rate", "100 Hz", Layer::scene, problems);
        give(settings, "dwell", "auto", Layer::scene, problems);
        if (!value_first) give(settings, "rate", "100 Hz", Layer::scene, problems);
        CHECK(problems.empty());
        CHECK(sampleKeys().read(settings).rate_Hz == 100.0);
        CHECK_FALSE(sampleKeys().read(settings).dwell_s);
    }
}

TEST_CASE("the window's sliders replace a value and its partner") {
    Settings settings;
    Problems problems;
    give(settings, "dwell", "2 ms", Layer::scene, problems);
    settings.replace(row("rate"), Value{250.0});
    CHECK(sampleKeys().read(settings).rate_Hz == 250.0);
    CHECK_FALSE(sampleKeys().read(settings).dwell_s);
    settings.forget("sample.rate");
    CHECK_FALSE(sampleKeys().read(settings).rate_Hz);
}

TEST_CASE("values are refused by unit, range, word and type, never moved into range") {
    struct Bad {
        const char* name;
        const char* text;
        const char* expected;
        const char* nearest;
    };
    const std::vector<Bad> rows{
        {"height", "5", "a number with a unit of length (m, km, cm, mm, um, nm, ft)", ""},
        {"height", "9 m", "10 m to 40000 km", ""},
        {"height", "40001 km", "10 m to 40000 km", ""},
        {"height", "auto", "a number with a unit of length (m, km, cm, mm, um, nm, ft)", ""},
        {"count", "2.5", "a whole number", ""},
        {"count", "0", "1 to 64", ""},
        {"dwell", "2", "a number with a unit of time (s, ms, us, min, h), or auto", ""},
        {"dwell", "2 s", "1 us to 1 s, or auto", ""},
        {"on", "yes", "true or false", ""},
        {"colour", "bleu", "one of red, green, blue", "blue"},
    };
    for (const Bad& bad : rows) {
        Problems problems;
        const auto value = readValue(row(bad.name), bad.text, {"f", 2, 3}, problems);
        INFO(bad.name << " = " << bad.text);
        CHECK_FALSE(value);
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].place == Place{"f", 2, 3});
        CHECK(problems[0].key == row(bad.name).key);
        CHECK(problems[0].read == "'" + std::string(bad.text) + "'");
        CHECK(problems[0].expected == bad.expected);
        CHECK(problems[0].nearest == bad.nearest);
    }
}

TEST_CASE("both ends of a range belong to it") {
    Problems problems;
    CHECK(readValue(row("height"), "10 m", {}, problems));
    CHECK(readValue(row("height"), "40000 km", {}, problems));
    CHECK(readValue(row("count"), "1", {}, problems));
    CHECK(readValue(row("count"), "64", {}, problems));
    CHECK(problems.empty());
}

TEST_CASE("a very long value is shortened in the message") {
    Problems problems;
    CHECK_FALSE(readValue(row("height"), std::string(500, 'x'), {}, problems));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].read == "'" + std::string(60, 'x') + "...'");
}

TEST_CASE("what is written for a value reads back as the same value") {
    Problems problems;
    const std::vector<std::pair<std::string, Value>> rows{
        {"height", 1234.5678}, {"dwell", Auto{}}, {"dwell", 1.0 / 3000.0}, {"on", false},
        {"on", true},          {"colour", std::string("red")}, {"name", std::string("a b")}, {"count", 17.0}};
    for (const auto& [name, value] : rows) {
        const std::string text = exactText(row(name), value);
        const auto back = readValue(row(name), text, {}, problems);
        INFO(name << " = " << text);
        REQUIRE(back);
        CHECK(*back == value);
    }
    CHECK(problems.empty());
}

TEST_CASE("a slider moves in factors when the range spans more than two hundred to one") {
    CHECK(row("height").logarithmic);
    CHECK_FALSE(row("count").logarithmic);
    CHECK(row("dwell").logarithmic);
}
