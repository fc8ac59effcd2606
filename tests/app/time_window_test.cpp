// Time in the real window: paces, steps, the ruler and slow motion, by real keys and clicks.

#include "driven_window.h"
#include "golden_window.h"

using namespace linefall::driven;

namespace {

void typePace(DrivenWindow& window, const std::string& pace) {
    window.click("pace");
    sleepFor(400);
    window.act("key ctrl+a type '" + pace + "'");
    sleepFor(400);
    window.act("key Return");
}

/// The state once the hand rests: what was dragged has been taken in, however slow the machine is.
Json rested(DrivenWindow& window) {
    Json before = window.last();
    for (int i = 0; i < 20; ++i) {
        sleepFor(1500);
        Json now = window.last();
        if (now["hand"] == before["hand"] && now["at"] != before["at"]) return now;
        before = std::move(now);
    }
    return before;
}

}  // namespace

TEST_CASE("The clock slows down to one dwell: paces, steps, ruler and samples, by real input", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes", "--set", "flight.height=900 m", "--set", "flight.length=900 m", "--set", "show.time=5 s"});
    REQUIRE(window.untilFlying());
    REQUIRE(window.until([](const Json& line) { return has(line, "lines") && line["lines"][0] > 8; }));
    CHECK(window.last()["slow"][0] == false);
    checkGolden(window, "time.fast", "flight");

    typePace(window, "1/2000");
    REQUIRE(window.until([](const Json& line) { return line.value("pace", 0.0) == 0.0005; }));
    REQUIRE(window.until([](const Json& line) { return has(line, "slow") && line["slow"][0] == true && line["slow"][1] == true; }));
    checkGolden(window, "time.slow", "flight");
    window.act("key space");
    REQUIRE(window.until([](const Json& line) { return line.contains("paused") && line["paused"] == false; }));
    // The ruler's page holds the time, and is no longer than a sweep or some dwells.
    CHECK(window.until([](const Json& line) {
        return has(line, "ruler") && line["ruler"][0] <= line["time_s"] && line["ruler"][1] >= line["time_s"] && line["ruler"][1].get<double>() - line["ruler"][0].get<double>() < 0.2;
    }));
    // Simulated time goes on at that pace, samples fall one by one.
    const Json before = window.last();
    window.forget();
    REQUIRE(window.until([&](const Json& line) { return has(line, "time_s") && line["at"].get<double>() > before["at"].get<double>() + 2.0; }));
    const Json after = window.last();
    const double waited_s = after["at"].get<double>() - before["at"].get<double>(), simulated_s = after["time_s"].get<double>() - before["time_s"].get<double>();
    CHECK(simulated_s > 0.2 * 0.0005 * waited_s);
    CHECK(simulated_s < 1.2 * 0.0005 * waited_s);

    // What is no pace is refused in words, and the old one goes on.
    typePace(window, "1/900000");
    sleepFor(1200);
    CHECK(window.last()["pace"] == 0.0005);
    window.act("key Escape");

    // Steps: one sample, and a whole line; both ways.
    window.act("key space");
    REQUIRE(window.until([](const Json& line) { return line.value("paused", false); }));
    window.act("key period");
    REQUIRE(window.until([](const Json& line) { return has(line, "samples") && line["samples"][0] == 0 && line["settled"][0] == true; }));
    const Json done = window.last();
    window.act("key shift+period");
    REQUIRE(window.until([&](const Json& line) { return has(line, "samples") && line["samples"][0] == 1 && line["lines"][0] == done["lines"][0]; }));
    window.act("key shift+period key shift+period");
    REQUIRE(window.until([&](const Json& line) { return has(line, "samples") && line["samples"][0] == 3; }));
    window.act("key shift+comma");
    REQUIRE(window.until([&](const Json& line) { return has(line, "samples") && line["samples"][0] == 2; }));
    window.act("key comma");
    REQUIRE(window.until([&](const Json& line) { return has(line, "samples") && line["samples"][0] == 0 && line["lines"][0] == done["lines"][0]; }));

    // The ruler: longer up to the whole pass, shorter down to one dwell; dragged both ways within its page.
    window.act("key bracketleft key bracketleft key bracketleft key bracketleft key bracketleft key bracketleft");
    REQUIRE(window.until([](const Json& line) { return has(line, "ruler") && line["ruler"][0] == 0.0 && line["ruler"][1] == line["duration_s"]; }));
    window.drag("clock", {0.2, 0.3}, {0.6, 0.3});
    REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"].get<double>() > 0.5 * line["duration_s"].get<double>(); }));
    for (int i = 0; i < 7; ++i) window.click("ruler shorter");
    REQUIRE(window.until([](const Json& line) { return has(line, "ruler") && line["ruler"][1].get<double>() - line["ruler"][0].get<double>() < 0.02; }));
    const double time_s = window.last()["time_s"];
    window.drag("clock", {0.5, 0.3}, {0.3, 0.3});
    REQUIRE(window.until([&](const Json& line) { return has(line, "time_s") && line["time_s"] != time_s; }));
    CHECK(std::abs(window.last()["time_s"].get<double>() - time_s) < 0.02);
}

TEST_CASE("Be the mirror: one line is swept by drags and keys, then the machine takes over, by real input", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes", "--set", "flight.height=900 m", "--set", "flight.length=900 m", "--set", "show.time=5 s"});
    REQUIRE(window.untilFlying());
    REQUIRE(window.until([](const Json& line) { return has(line, "lines") && line["lines"][0] > 8; }));
    window.act("key j");
    REQUIRE(window.until([](const Json& line) { return has(line, "hand") && line["settled"][0] == true; }));
    const Json begun = window.last();
    CHECK(begun["paused"] == true);
    CHECK(begun["hand"]["gathered"] == 0);
    CHECK(begun["focus"] == "mirror by hand");
    checkGolden(window, "time.hand-begun", "flight");
    const int samples = begun["hand"]["samples"], line_by_hand = begun["hand"]["line"];

    // Along the strip in the plate, then with keys, then over the land.
    window.drag("mirror by hand", {0.1, 0.76}, {0.3, 0.76});
    REQUIRE(window.until([&](const Json& line) { return has(line, "hand") && line["hand"]["gathered"] > samples / 8; }));
    const Json dragged = rested(window);
    checkGolden(window, "time.hand-swept", "flight");
    CHECK(dragged["hand"]["gathered"] < samples / 3);
    CHECK(dragged["lines"][0] == line_by_hand);  // one line, and no other
    CHECK(dragged["time_s"] == begun["time_s"]);
    window.act("key Right");
    REQUIRE(window.until([&](const Json& line) { return has(line, "hand") && line["hand"]["sample"] == dragged["hand"]["sample"].get<int>() + samples / 100; }));
    window.act("key shift+period");
    REQUIRE(window.until([&](const Json& line) { return has(line, "hand") && line["hand"]["sample"] == dragged["hand"]["sample"].get<int>() + samples / 100 + 1; }));
    window.drag("flight", {0.4, 0.45}, {0.5, 0.45});
    REQUIRE(window.until([&](const Json& line) { return has(line, "hand") && line["hand"]["gathered"] > dragged["hand"]["gathered"].get<int>() + samples / 50; }));
    CHECK(rested(window)["hand"]["gathered"] < samples);

    // Enter: the line is done and the flight goes on.
    window.act("key j");
    REQUIRE(window.until([&](const Json& line) { return line.contains("hand") && line["hand"].is_null() && line["lines"][0] > line_by_hand && line["paused"] == false; }));
    window.act("key space");
    REQUIRE(window.until([](const Json& line) { return line.value("paused", false); }));
    window.click("tool Time");
    REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Time"; }));
    window.click("be the mirror");
    REQUIRE(window.until([](const Json& line) { return has(line, "hand"); }));
    window.act("key Return");
    REQUIRE(window.until([](const Json& line) { return line.contains("hand") && line["hand"].is_null() && line["paused"] == false; }));
    window.click("pace of a sweep");
    REQUIRE(window.until([](const Json& line) { return has(line, "slow") && line["slow"][0] == true; }));
}
