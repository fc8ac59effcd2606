// Relief inversion: when the displayed sun comes from below, a discreet warning; one key turns the pictures; the profile settles
// what is a hill. By geometry without a window, and by real input in the real one.

#include <algorithm>
#include <cmath>

#include "app/picture_marks.h"
#include "base/angle.h"
#include "driven_window.h"
#include "golden_window.h"
#include "support/scenes.h"
#include "view/outline.h"

using namespace linefall;
using namespace linefall::driven;
using namespace linefall::test;

namespace {

bool warns(const Json& line, std::size_t picture) {
    for (const Json& words : line["warnings"][picture]) {
        if (words.get<std::string>().find("inverted") != std::string::npos || words.get<std::string>().find("from below") != std::string::npos) return true;
    }
    return false;
}

bool isTurned(const Json& line, bool turned) { return line.contains("turned") && line["turned"] == turned; }

}  // namespace

TEST_CASE("The sun counts as below by where it stands on the page: for every instrument and heading, turned or not") {
    const std::string place = written(levelPlace());
    int below = 0, above = 0;
    for (const char* instrument : {"whisk-broom", "push-broom", "frame-camera"}) {
        for (const char* heading : {"0 deg", "65 deg", "180 deg", "290 deg"}) {
            Formation formation(sceneOf(place, instrument, Sets{"flight.heading=" + std::string(heading), "flight.start_east=0 m", "flight.start_north=0 m", "flight.length=400 m", "flight.height=1500 m"}), 0);
            // Down on the page: from what the first row sees to what the last one sees, on level ground.
            const int middle = formation.samples() / 2;
            const LookManner manner = formation.lightPath().manner;
            const Vec3 down = groundOf(formation, manner, formation.lines() - 1, middle) - groundOf(formation, manner, 0, middle);
            for (int azimuth = 0; azimuth < 360; azimuth += 15) {
                Sunlight sun = formation.why(0, middle).sun;
                sun.azimuth_rad = radiansFromDegrees(azimuth);
                sun.elevation_rad = radiansFromDegrees(30.0);
                const double share = (down.x * std::sin(sun.azimuth_rad) + down.y * std::cos(sun.azimuth_rad)) / std::hypot(down.x, down.y);
                CAPTURE(instrument, heading, azimuth, share);
                if (std::abs(share) < 0.3) continue;  // from the side: either is right
                CHECK(litFromBelow(sun, downOf(formation), false) == (share > 0.0));
                CHECK(litFromBelow(sun, downOf(formation), true) == (share < 0.0));
                ++(share > 0.0 ? below : above);
                sun.elevation_rad = radiansFromDegrees(85.0);  // hardly any shading: no warning
                CHECK_FALSE(litFromBelow(sun, downOf(formation), false));
            }
        }
    }
    CHECK(below > 100);
    CHECK(above > 100);
}

TEST_CASE("At the hill and the hollow the warning stands in both pictures, Z turns them, and the elevation profile settles it", "[window][golden]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "hill-and-hollow"});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until([](const Json& line) { return has(line, "settled") && line["time_s"] == line["duration_s"] && line["settled"] == Json({true, true}); }));
    // The light of this place comes from the south-east, and the flight goes south: from below.
    REQUIRE(window.until([](const Json& line) { return isTurned(line, false) && warns(line, 0) && warns(line, 1); }));
    checkGolden(window, "relief.fallen", "picture A");
    window.act("key z");
    REQUIRE(window.until([](const Json& line) { return isTurned(line, true) && !warns(line, 0) && !warns(line, 1); }));
    checkGolden(window, "relief.turned", "picture A");
    // Turned, a sun from the north comes from below.
    window.click("legend sun.azimuth");
    REQUIRE(window.until([](const Json& line) { return line.value("typing", false); }));
    window.act("key ctrl+a type '320 deg'");
    window.act("key Return");
    REQUIRE(window.until([](const Json& line) { return has(line, "sun") && std::abs(line["sun"][0].get<double>() - 320.0) < 1e-6 && isTurned(line, true) && warns(line, 0) && warns(line, 1); }));
    window.act("key z");
    REQUIRE(window.until([](const Json& line) { return isTurned(line, false) && !warns(line, 0) && !warns(line, 1); }));

    // The profile from west to east, by pointer: up in the west, down in the east, whatever the light makes of it.
    window.act("key m");
    REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Measure"; }));
    window.click("measure Profile");
    window.drag("picture A", {0.12, 0.5}, {0.88, 0.5});
    REQUIRE(window.until([](const Json& line) { return has(line, "profile"); }));
    window.act("key z");  // also turned: the line keeps its ground
    REQUIRE(window.until([](const Json& line) { return isTurned(line, true) && has(line, "profile"); }));
    const Json profile = window.last()["profile"];
    checkGolden(window, "relief.profile", "picture A");
    checkGolden(window, "relief.plot", "flight", {0.0, 1.1, 1.0, 2.1});
    INFO(profile.dump());
    // The line need not run through the middles: the bumps are 140 m high and deep, 480 m in radius, 1400 m apart.
    CHECK(profile["highest_m"].get<double>() > 100.0);
    CHECK(profile["highest_m"].get<double>() < 140.5);
    CHECK(profile["lowest_m"].get<double>() < -100.0);
    CHECK(profile["lowest_m"].get<double>() > -140.5);
    CHECK(std::abs(profile["lowest_at_m"].get<double>() - profile["highest_at_m"].get<double>()) == Approx(1400.0).margin(60.0));
    // Column 0 is starboard, which is west on a flight southwards: the hill comes first.
    CHECK(profile["highest_at_m"].get<double>() < profile["lowest_at_m"].get<double>());
    window.act("key m");
    REQUIRE(window.until([](const Json& line) { return line.value("tool", "x").empty() && line["profile"].is_null(); }));
}

TEST_CASE("Flown northwards the picture is lit from above where its map, north up, is lit from below", "[window]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "hill-and-hollow", "--instrument", "whisk-broom", "--set", "flight.heading=0 deg", "--set", "flight.start_north=-1000 m"});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until([](const Json& line) { return has(line, "settled") && line["time_s"] == line["duration_s"] && line["settled"] == Json({true}); }));
    REQUIRE(window.until([](const Json& line) { return has(line, "warnings") && !warns(line, 0); }));
    window.act("key p");
    REQUIRE(window.until([](const Json& line) { return has(line, "map") && warns(line, 0); }));
    CHECK(window.last()["warnings"][0][0] == "relief may look inverted: lit from below");  // no key turns a map
    window.act("key p");
    REQUIRE(window.until([](const Json& line) { return line.contains("map") && line["map"].is_null() && !warns(line, 0); }));
}
