// Twin flight in the real window: instruments exchanged in flight, one cursor for all pictures, and pictures by turns.

#include "driven_window.h"
#include "golden_window.h"

using namespace linefall::driven;

namespace {

bool fly(const Json& line, const std::string& a, const std::string& b) {
    return has(line, "instruments") && line["instruments"] == Json{a, b} && line["exchanging"] == false;
}

}  // namespace

TEST_CASE("Any two instruments fly together: exchanged while the others fly on, sent home and called back", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes", "--set", "flight.length=1500 m"});
    REQUIRE(window.untilFlying());
    window.act("key n");
    REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Twin"; }));
    window.click("A frame-camera");
    REQUIRE(window.until([](const Json& line) { return fly(line, "frame-camera", "push-broom"); }));
    window.click("B frame-camera");  // the same one twice
    REQUIRE(window.until([](const Json& line) { return fly(line, "frame-camera", "frame-camera"); }));
    window.click("B none");
    REQUIRE(window.until([](const Json& line) { return has(line, "instruments") && line["instruments"] == Json::array({"frame-camera"}) && line["lines"].size() == 1; }));
    window.click("B whisk-broom");
    REQUIRE(window.until([](const Json& line) { return fly(line, "frame-camera", "whisk-broom"); }));
    window.act("key End");
    CHECK(window.until([](const Json& line) { return has(line, "settled") && line["settled"] == Json{true, true} && line["lines"].size() == 2 && line["lines"][1] > 100; }));
    CHECK(window.last()["refused"] == "");
    checkGolden(window, "twin.frame", "picture A");
    checkGolden(window, "twin.whisk", "picture B");
}

TEST_CASE("One cursor: the ground under the pointer is shown in the other picture, over the land and in the profile", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "proving-ground"});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until([](const Json& line) { return has(line, "settled") && line["time_s"] == line["duration_s"] && line["settled"] == Json{true, true}; }));
    const auto over = [&](const std::string& control, double across, double along) {
        const auto r = window.placeOf(control);
        window.act(DrivenWindow::to(r[0] + static_cast<int>(across * r[2]), r[1] + static_cast<int>(along * r[3])));
    };
    over("picture A", 0.5, 0.5);
    REQUIRE(window.until([](const Json& line) { return has(line, "cursor") && line["cursor"]["pixels"].size() == 2 && !line["cursor"]["pixels"][1].is_null(); }));
    const Json in_a = window.last()["cursor"];
    checkGolden(window, "twin.cursor", "picture B");
    // Back from the other picture: the same ground, to a few samples of both.
    over("picture B", 0.5, 0.5);
    REQUIRE(window.until([&](const Json& line) { return has(line, "cursor") && line["cursor"]["point"] != in_a["point"] && !line["cursor"]["pixels"][0].is_null(); }));
    // Over the land: both pictures see it.
    over("flight", 0.5, 0.62);
    REQUIRE(window.until([](const Json& line) { return has(line, "cursor"); }));
    // Along a profile.
    window.act("key m");
    window.click("measure Profile");
    window.drag("picture A", {0.4, 0.5}, {0.6, 0.55});
    over("picture A", 0.5, 0.525);
    REQUIRE(window.until([](const Json& line) { return has(line, "cursor"); }));
    // Nowhere.
    over("hold", 0.5, 0.5);
    CHECK(window.until([](const Json& line) { return line.contains("cursor") && line["cursor"].is_null(); }));
    checkGolden(window, "twin.no-cursor", "picture B");
}

TEST_CASE("Pictures by turns stand in one place, and Escape gives each its own again", "[window]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes", "--set", "flight.length=1500 m"});
    REQUIRE(window.untilFlying());
    window.act("key q");
    REQUIRE(window.until([](const Json& line) { return line.value("blink", "") == "A"; }));
    REQUIRE(window.until([](const Json& line) { return line.value("blink", "") == "B"; }));
    window.act("key Escape");
    CHECK(window.until([](const Json& line) { return line.contains("blink") && line["blink"] == ""; }));
}
