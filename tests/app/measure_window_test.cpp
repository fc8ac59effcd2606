// Measuring, and choosing bands and stretch, by real input.

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "app/driven_window.h"
#include "app/golden_window.h"

using linefall::driven::canDrive;
using linefall::driven::checkGolden;
using linefall::driven::DrivenWindow;
using linefall::driven::has;
using linefall::driven::Json;

namespace {

void fill(DrivenWindow& window) {
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until([](const Json& line) {
        return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][0] == true && line["settled"][1] == true;
    }));
}

}  // namespace

TEST_CASE("Lengths, areas and undo are measured in a picture by pointer and by keys", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "proving-ground"});
    fill(window);
    window.act("key m");
    REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Measure"; }));
    window.drag("picture B", {0.3, 0.2}, {0.6, 0.3});
    REQUIRE(window.until([](const Json& line) { return line.contains("measured") && line["measured"].size() >= 2; }));
    // Level ground under a push broom without attitude: the picture alone says the same as the ground, as sure as both are.
    REQUIRE(window.until([](const Json& line) { return line.contains("measured") && line["measured"].size() >= 2 && line["measured"][0]["value"] > 100.0; }));
    const Json measured = window.last()["measured"];
    checkGolden(window, "measure.line", "picture B");
    CHECK(measured[0]["name"] == "distance on the ground");
    const double on_ground = measured[0]["value"], in_picture = measured[1]["value"];
    CHECK(std::abs(on_ground - in_picture) < 4.0 * (measured[0]["sigma"].get<double>() + measured[1]["sigma"].get<double>()));

    window.click("measure back");
    REQUIRE(window.until([](const Json& line) { return line.contains("measured") && line["measured"].empty(); }));
    window.click("measure back");  // the line's other end goes too: the next place begins a line
    checkGolden(window, "measure.none", "picture B");

    // By keys alone: pick, Enter, move, Enter.
    window.click("tool Measure");
    window.click("picture B", 0.5, 0.4);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
    const int line_before = window.last()["picked"]["line"];
    window.act("key m");
    window.act("key Return");
    window.act("key Down");
    REQUIRE(window.until([&](const Json& line) { return has(line, "picked") && line["picked"]["line"] == line_before + 1; }));
    window.act("key Return");
    REQUIRE(window.until([](const Json& line) { return line.contains("measured") && line["measured"].size() >= 2 && !line["measured"][0]["value"].is_null(); }));
    CHECK(window.last()["measured"][0]["value"].get<double>() > 0.0);

    // The mean of an area in reflectance lies between black and white.
    window.click("measure Area");
    window.click("scale reflectance");
    window.drag("picture A", {0.45, 0.45}, {0.55, 0.5});
    REQUIRE(window.until([](const Json& line) { return line.contains("measured") && line["measured"].size() > 4; }));
    checkGolden(window, "measure.area", "picture A");
    const double reflectance = window.last()["measured"][0]["value"];
    CHECK(reflectance > 0.0);
    CHECK(reflectance < 1.2);
}

TEST_CASE("Any band drives any colour, and the stretch is what was typed", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "island", "--set", "A.instrument.samples=200", "--set", "B.instrument.samples=240"});
    fill(window);
    window.act("key b");
    checkGolden(window, "bands.true", "picture A");
    window.click("Red by infrared");
    REQUIRE(window.until([](const Json& line) { return line.value("bands", "") == "infrared, green, blue"; }));
    checkGolden(window, "bands.infrared", "picture A");
    window.click("only red");
    REQUIRE(window.until([](const Json& line) { return line.value("bands", "") == "band red"; }));
    checkGolden(window, "bands.red", "picture A");
    window.click("show.stretch value");
    REQUIRE(window.until([](const Json& line) { return line.contains("stretch") && line["stretch"][0][1] == 4095.0; }));
    window.click("show.high_count");
    window.act("sleep 0.3 key ctrl+a type 1500");
    window.act("sleep 0.3 key Return");
    REQUIRE(window.until([](const Json& line) { return line.contains("stretch") && line["stretch"][0][1] == 1500.0; }));
    checkGolden(window, "bands.stretched", "picture A");
    window.act("key z");
    REQUIRE(window.until([](const Json& line) { return line.value("turned", false); }));
}
