// A lecture, driven as from a presenter's remote: steps there and back, blank, freeze, test card, large words.

#include "app/driven_window.h"

namespace linefall {

using namespace driven;

namespace {

/// What a step has to bring back.
Json stateOf(const Json& line) {
    Json out;
    for (const char* key : {"time_s", "paused", "pace", "view", "stop", "tool", "sun", "height_m", "picked", "linked", "lines", "large", "turned"}) out[key] = line[key];
    return out;
}

bool settled(const Json& line) { return has(line, "settled") && line["settled"][0] == true && line["settled"][1] == true; }

}  // namespace

TEST_CASE("A remote goes through the kept steps and back, each exactly as it was", "[window]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes"});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && settled(line); }));
    window.click("picture A", 0.4, 0.5);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
    window.act("key 3");
    REQUIRE(window.until([](const Json& line) { return line.value("stop", 0) == 3; }));
    window.act("key ctrl+k");
    REQUIRE(window.until([](const Json& line) { return line.value("steps", 0) == 1; }));
    const Json first = stateOf(window.last());

    // Another state: another sun, another view, no pixel, half of the flight.
    window.act("key Escape");
    REQUIRE(window.until([](const Json& line) { return line["stop"] == 0; }));
    window.act("key Escape");
    REQUIRE(window.until([](const Json& line) { return line["picked"].is_null(); }));
    window.act("key v");
    window.drag("sun dome", {0.5, 0.3}, {0.3, 0.35});
    REQUIRE(window.until([&](const Json& line) { return has(line, "sun") && line["sun"] != first["sun"] && settled(line); }));
    window.click("clock", 0.5, 0.3);
    REQUIRE(window.until([&](const Json& line) { return has(line, "lines") && line["lines"] != first["lines"] && line["paused"] == true; }));
    window.act("key ctrl+k");
    REQUIRE(window.until([](const Json& line) { return line.value("steps", 0) == 2; }));
    const Json second = stateOf(window.last());
    REQUIRE(first != second);

    // Outside a lecture the keys mean something else.
    window.act("key Prior");
    sleepFor(700);
    CHECK(window.last()["step"] == 2);
    window.act("key F5");
    REQUIRE(window.until([](const Json& line) { return line.value("lecture", false); }));
    window.act("key Prior");
    CHECK(window.until([&](const Json& line) { return line["step"] == 1 && settled(line) && stateOf(line) == first; }));
    INFO(stateOf(window.last()).dump() << "\n" << first.dump());
    // The lecturer plays, and then the next step stands as it was kept.
    window.act("key space");
    sleepFor(400);
    window.act("key Next");
    CHECK(window.until([&](const Json& line) { return line["step"] == 2 && settled(line) && stateOf(line) == second; }));
    // A held key goes one step, not many.
    window.act("keydown Prior sleep 1.2 keyup Prior");
    CHECK(window.until([&](const Json& line) { return line["step"] == 1 && settled(line) && stateOf(line) == first; }));
    window.act("key Next sleep 0.2 key Next sleep 0.2 key Next");
    CHECK(window.until([](const Json& line) { return line["step"] == 2; }));
}

TEST_CASE("In a lecture words are large, the page goes blank and freezes, and Esc leaves the topmost thing and never quits", "[window]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes"});
    REQUIRE(window.untilFlying());
    // Not in a lecture: B and F do nothing of the kind.
    window.act("key f");
    sleepFor(500);
    CHECK(window.last()["frozen"] == false);
    window.act("key F5");
    REQUIRE(window.until([](const Json& line) { return line.value("lecture", false); }));
    CHECK(20.0 * window.last()["scale"].get<double>() >= 0.039 * 720.0);  // main words, in pixels

    window.act("key b");
    REQUIRE(window.until([](const Json& line) { return line.value("blank", false); }));
    const double held = window.last()["time_s"];
    sleepFor(1200);
    window.act("key 3");  // any key comes back, and does nothing else
    REQUIRE(window.until([](const Json& line) { return line.contains("blank") && line["blank"] == false; }));
    CHECK(window.last()["stop"] == 0);
    CHECK(window.last()["time_s"].get<double>() - held < 0.6 * window.last()["pace"].get<double>());
    window.act("key period");
    REQUIRE(window.until([](const Json& line) { return line.value("blank", false); }));
    window.act("key Escape");
    REQUIRE(window.until([](const Json& line) { return line.contains("blank") && line["blank"] == false; }));

    window.act("key f");
    REQUIRE(window.until([](const Json& line) { return line.value("frozen", false); }));
    sleepFor(500);
    const Json frozen = window.last();
    window.act("key End");
    window.act("key 4");
    window.click("tool Measure");  // a tool that always has its button
    sleepFor(1500);
    CHECK(window.last()["frozen"] == true);
    CHECK(window.last()["time_s"] == frozen["time_s"]);
    CHECK(window.last()["lines"] == frozen["lines"]);
    CHECK(window.last()["stop"] == 0);
    CHECK(window.last()["tool"] == "");
    window.act("key f");
    REQUIRE(window.until([](const Json& line) { return line.contains("frozen") && line["frozen"] == false; }));
    CHECK(window.until([&](const Json& line) { return line["time_s"] > frozen["time_s"]; }));  // it flies on

    window.act("key h");
    window.act("key F6");
    REQUIRE(window.until([](const Json& line) { return line.value("test_card", false); }));
    window.act("key Escape");  // the card lies over the help
    REQUIRE(window.until([](const Json& line) { return line.contains("test_card") && line["test_card"] == false; }));
    for (int i = 0; i < 5; ++i) window.act("key Escape");
    sleepFor(500);
    CHECK(window.last()["lecture"] == true);
    window.askToEnd();
    CHECK(window.exitCode() == 0);
}

}  // namespace linefall
