// Drives the real window on the present screen with real input, and reads what it reports of itself.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

#include "app/driven_window.h"

using linefall::driven::canDrive;
using linefall::driven::DrivenWindow;
using linefall::driven::has;
using linefall::driven::Json;
using linefall::driven::sleepFor;

TEST_CASE("A person flies, holds, picks, opens a stop, drags the sun, types a height and leaves", "[window]") {
    if (!canDrive()) return;
    DrivenWindow program({"--place", "slopes"});
    REQUIRE(program.until([](const Json& line) { return line["event"] == "first-frame"; }));
    REQUIRE(program.until([](const Json& line) { return line["event"] == "first-line"; }));
    const std::vector<Json>& begun = program.lines();
    CHECK(begun.front()["event"] == "start");

    // Lines fall by themselves.
    REQUIRE(program.until([](const Json& line) { return has(line, "lines") && line["lines"][0] > 20 && line["lines"][1] > 20; }));
    program.act(DrivenWindow::to(400, 300) + " key space");
    REQUIRE(program.until([](const Json& line) { return line.value("paused", false); }));
    sleepFor(1200);
    const Json held = program.last();
    sleepFor(1500);
    CHECK(program.last()["lines"] == held["lines"]);
    CHECK(program.last()["time_s"] == held["time_s"]);

    program.act("key t");
    CHECK(program.until([](const Json& line) { return line.value("theme", "") == "night"; }));
    program.act("key End");
    REQUIRE(program.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][1] == true; }));
    const Json full = program.last();

    // A pixel of picture A, and the same ground in B.
    program.click("picture A", 0.5, 0.25);
    REQUIRE(program.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
    const Json picked = program.last();
    CHECK(picked["picked"]["craft"] == "A");
    CHECK(has(picked, "linked"));
    program.act("key Down");
    CHECK(program.until([&](const Json& line) { return has(line, "picked") && line["picked"]["line"] == picked["picked"]["line"].get<int>() + 1; }));
    program.act("key 3");
    CHECK(program.until([](const Json& line) { return line.value("stop", 0) == 3; }));
    program.act("key Escape");
    CHECK(program.until([](const Json& line) { return line.contains("stop") && line["stop"] == 0; }));

    // The sun dragged over its dome: the light moves with the pointer, and all pictures are lit again.
    program.drag("sun dome", {0.5, 0.3}, {0.3, 0.35});
    CHECK(program.until([&](const Json& line) { return has(line, "sun") && line["sun"] != full["sun"]; }));
    CHECK(program.until([](const Json& line) { return has(line, "settled") && line["settled"][0] == true && line["settled"][1] == true; }));
    CHECK(program.last()["picked"]["counts"] != picked["picked"]["counts"]);

    // A height typed with its unit, by keyboard alone: Tab until the field has the focus.
    for (int i = 0; i < 40 && program.last().value("focus", "") != "legend flight.height"; ++i) {
        const std::string before = program.last().value("focus", "");
        program.act("key Tab");
        program.until([&](const Json& line) { return line.contains("focus") && line["focus"] != before; });
    }
    REQUIRE(program.last()["focus"] == "legend flight.height");
    program.act("key Return");
    REQUIRE(program.until([](const Json& line) { return line.value("typing", false); }));
    program.act("key ctrl+a type '1500 m'");
    sleepFor(1000);
    program.act("key Return");
    CHECK(program.until([](const Json& line) { return line.value("height_m", 0.0) == 1500.0; }));

    program.act("key Escape");  // closes what is open and never quits
    sleepFor(500);
    program.askToEnd();
    CHECK(program.exitCode() == 0);
    CHECK(program.last()["event"] == "end");
}

TEST_CASE("Without a screen the window says so and ends with 1", "[window]") {
    const std::string command = std::string("env -u DISPLAY -u WAYLAND_DISPLAY ") + LINEFALL_PROGRAM + " 2>&1 | grep -q 'no display was found'";
    CHECK(std::system(command.c_str()) == 0);
    const int state = std::system((std::string("env -u DISPLAY -u WAYLAND_DISPLAY ") + LINEFALL_PROGRAM + " >/dev/null 2>&1").c_str());
    CHECK(WEXITSTATUS(state) == 1);
}
