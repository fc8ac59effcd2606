// One cause at a time in the real window: switches, the difference, arrows, and the map, by clicks and by keys.

#include <algorithm>

#include "driven_window.h"
#include "golden_window.h"

using namespace linefall::driven;

namespace {

bool contains(const Json& list, const std::string& word) { return std::find(list.begin(), list.end(), word) != list.end(); }

}  // namespace

TEST_CASE("A cause is switched off, its difference is shown, its arrows are drawn, and the picture becomes a map", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "proving-ground", "--set", "A.instrument.samples=200", "--set", "B.instrument.samples=240"});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until([](const Json& line) { return has(line, "settled") && line["time_s"] == line["duration_s"] && line["settled"] == Json{true, true}; }));
    window.act("key y");
    REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Causes" && contains(line["causes"], "air"); }));
    checkGolden(window, "causes.picture", "picture A");

    // The difference of air: haze and lost light, nearly everywhere.
    window.click("cause air");
    REQUIRE(window.until([](const Json& line) { return line.value("cause", "") == "air"; }));
    window.act("key d");
    REQUIRE(window.until([](const Json& line) { return has(line, "difference") && line["difference"]["lines"] == line["lines"][0] && line["difference"]["changed"][0] > 0.5; }));
    const double rms = window.last()["difference"]["rms"][0];
    CHECK(rms > 1.0);
    checkGolden(window, "causes.difference", "picture A");

    // Off in the scene: the same difference, seen from the other side.
    window.click("switch air");
    REQUIRE(window.until([](const Json& line) { return line.contains("causes") && !contains(line["causes"], "air"); }));
    REQUIRE(window.until([&](const Json& line) { return has(line, "difference") && line["difference"]["lines"] == line["lines"][0] && line["difference"]["rms"][0] == rms; }));
    window.click("switch air");
    REQUIRE(window.until([](const Json& line) { return line.contains("causes") && contains(line["causes"], "air"); }));

    // Relief moves the towers; arrows and outlines say how far.
    window.click("cause relief");
    window.act("key d");
    window.act("key a");
    REQUIRE(window.until([](const Json& line) { return line.value("cause", "") == "relief" && has(line, "arrows") && line["arrows"]["count"] > 3 && line["arrows"]["most"] > 1.0; }));
    checkGolden(window, "causes.arrows", "picture A");
    CHECK(window.last()["arrows"]["outlines"] > 3);

    // A map, and both ways of filling it.
    window.act("key p");
    REQUIRE(window.until([](const Json& line) { return has(line, "map") && line["map"]["resampling"] == "nearest" && line["map"]["covered"] > 1000 && line["difference"].is_null(); }));
    window.click("map A", 0.5, 0.5);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
    checkGolden(window, "causes.map", "map A");
    window.click("bilinear");
    REQUIRE(window.until([](const Json& line) { return has(line, "map") && line["map"]["resampling"] == "bilinear" && line["map"]["covered"] > 1000; }));
    checkGolden(window, "causes.map-bilinear", "map A");
    window.click("on the ground");
    REQUIRE(window.until([](const Json& line) { return has(line, "map") && line["map"]["level"] == "ground" && line["map"]["covered"] > 1000; }));
    window.click("show picture");
    CHECK(window.until([](const Json& line) { return line.contains("map") && line["map"].is_null(); }));
}
