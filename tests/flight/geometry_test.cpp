// Which way round pictures are, and what attitude, wind and lean do to them.

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

const std::vector<std::pair<std::string, std::string>>& kinds() {
    static const std::vector<std::pair<std::string, std::string>> all{
        {"whisk-broom", "focal_length = \"10 mm\"\nifov = \"10 mrad\"\nfov = \"60 deg\""},
        {"push-broom", "focal_length = \"5 mm\"\ndetector_pitch = \"50 um\"\nsamples = 115"},
        {"frame-camera", "focal_length = \"5 mm\"\ndetector_pitch = \"50 um\"\nsamples = 115\nrows = 115"}};
    return all;
}

/// Level ground seen from 1 km in the middle of a flight of 1 km.
Scene over(const std::pair<std::string, std::string>& kind, double heading_deg, const Sets& more = {}, const std::string& things = "") {
    const double a = radiansFromDegrees(heading_deg);
    return exposed(sceneOf(written(levelPlace(things, "4 km", "20 m")), oneBand(kind.first, kind.second),
                           bare() + Sets{"flight.height=1 km", "flight.length=1 km", "flight.heading=" + std::to_string(heading_deg) + " deg",
                                         "flight.start_east=" + metres(-500.0 * std::sin(a)), "flight.start_north=" + metres(-500.0 * std::cos(a)), "sun.elevation=80 deg"} + more));
}

Vec3 ground(Formation& f, int line, int sample) {
    const auto point = f.groundPoint(line, sample);
    REQUIRE(point.has_value());
    return *point;
}

/// The middle of the picture on the ground.
Vec3 middleOf(const Scene& scene) {
    Formation f(scene, 0);
    return ground(f, f.lines() / 2, f.samples() / 2);
}

}  // namespace

TEST_CASE("flying south gives north up: column 0 is the west and row 0 the north", "[geometry]") {
    Formation f(over(GENERATE(from_range(kinds())), 180.0), 0);
    const int last_line = f.lines() - 1, last_sample = f.samples() - 1;
    CHECK(ground(f, 0, 0).x < -400.0);
    CHECK(ground(f, 0, last_sample).x > 400.0);
    CHECK(ground(f, 0, 57).y > 400.0);
    CHECK(ground(f, last_line, 57).y < -400.0);
}

TEST_CASE("column 0 is starboard and rows grow forward on any heading, so no picture is mirrored", "[geometry]") {
    const double heading = GENERATE(0.0, 63.0, 90.0, 180.0, 251.0, 330.0);
    Formation f(over(GENERATE(from_range(kinds())), heading), 0);
    const int l = f.lines() / 2, s = f.samples() / 2;
    const Vec3 right = ground(f, l, s + 20) - ground(f, l, s - 20);  // along a row of the picture
    const Vec3 down = ground(f, l + 20, s) - ground(f, l - 20, s);   // along a column
    // A picture as a map is: right x down points into the ground. A mirror image would point up.
    CHECK(right.x * down.y - right.y * down.x < 0.0);
    const double a = radiansFromDegrees(heading);
    CHECK(down.x * std::sin(a) + down.y * std::cos(a) > 0.98 * glm::length(down));   // forward
    CHECK(right.x * std::cos(a) - right.y * std::sin(a) < -0.98 * glm::length(right));  // to port
}

TEST_CASE("a letter L on the ground reads as an L in the picture of a flight due south - never mirrored - in counts", "[geometry]") {
    // A long bar from north to south with a short foot to the east.
    const std::string letter = paint("solid", -100, 0, 400, 80, "material = \"white\"") + paint("solid", 0, -160, 80, 280, "material = \"white\"");
    const Image image = imageOf(over(GENERATE(from_range(kinds())), 180.0, {}, letter));
    const double mid_l = 0.5 * image.lines(), mid_s = 0.5 * image.samples();
    const auto bright = [&](double east, double north) {
        return image.counts[0].at(static_cast<int>(mid_s + east / 10.0), static_cast<int>(mid_l - north / 10.0)) > 20000;
    };
    CHECK(bright(-100, 150));
    CHECK(bright(-100, -150));
    CHECK(bright(80, -160));
    CHECK_FALSE(bright(80, 150));
    CHECK_FALSE(bright(-250, -160));
}

TEST_CASE("positive roll puts starboard down: the view swings to port by H tan(roll)", "[geometry]") {
    const auto& kind = GENERATE(from_range(kinds()));
    const double heading = GENERATE(180.0, 40.0);
    const Vec3 shift = middleOf(over(kind, heading, {"flight.roll=5 deg"})) - middleOf(over(kind, heading));
    const double a = radiansFromDegrees(heading);
    CHECK(shift.x * std::cos(a) - shift.y * std::sin(a) == Approx(-1000.0 * std::tan(radiansFromDegrees(5.0))).epsilon(0.01));  // along starboard
    CHECK(shift.x * std::sin(a) + shift.y * std::cos(a) == Approx(0.0).margin(1.0));
}

TEST_CASE("positive pitch puts the nose up: the view swings forward by H tan(pitch)", "[geometry]") {
    const auto& kind = GENERATE(from_range(kinds()));
    const Vec3 shift = middleOf(over(kind, 180.0, {"flight.pitch=4 deg"})) - middleOf(over(kind, 180.0));
    CHECK(-shift.y == Approx(1000.0 * std::tan(radiansFromDegrees(4.0))).epsilon(0.01));
    CHECK(shift.x == Approx(0.0).margin(1.0));
}

TEST_CASE("positive yaw turns the line clockwise about the nadir - seen from above", "[geometry]") {
    const auto& kind = GENERATE(from_range(kinds()));
    Formation straight(over(kind, 180.0, {"effect.sweep_motion=false"}), 0), turned(over(kind, 180.0, {"flight.yaw=10 deg", "effect.sweep_motion=false"}), 0);
    const int l = straight.lines() / 2, s = straight.samples() - 1;
    const Vec3 nadir = straight.motion().positionAt(straight.instrument().lineTime_s(l));
    const Vec3 before = ground(straight, l, s) - nadir, after = ground(turned, l, s) - nadir;
    const double azimuth_before = std::atan2(before.x, before.y), azimuth_after = std::atan2(after.x, after.y);
    CHECK(degreesFromRadians(azimuth_after - azimuth_before) == Approx(10.0).margin(0.01));
    CHECK(std::hypot(after.x, after.y) == Approx(std::hypot(before.x, before.y)).epsilon(1e-6));
    // With the attitude switched off nothing of it acts.
    CHECK(middleOf(over(kind, 180.0, {"flight.yaw=10 deg", "flight.roll=5 deg", "flight.attitude=false"})) == middleOf(over(kind, 180.0)));
}

TEST_CASE("attitude belongs to the time of each sample: a whisk broom rolls on during its sweep", "[geometry]") {
    // Half a roll period in one sweep: the ends of the line swing to opposite sides.
    const Scene still = over({"whisk-broom", "focal_length = \"10 mm\"\nifov = \"10 mrad\"\nfov = \"60 deg\"\nline_rate = \"1 Hz\"\nduty_cycle = \"100 %\""}, 180.0);
    Formation f(with(still, {"flight.roll_swing=2 deg", "flight.roll_period=1 s"}), 0), calm(still, 0);
    // Line 3 is swept from 3 s to 4 s; roll = 2 deg sin(2 pi t): a quarter of the sweep +2, three quarters -2 degrees.
    for (const double share : {0.25, 0.5, 0.75}) {
        const int s = static_cast<int>(share * f.samples());
        const Why rolled = f.why(3, s), level = calm.why(3, s);
        const auto angle = [](const Why& w) { return degreesFromRadians(std::atan2(-w.look.x, -w.look.z)); };  // to starboard, the west
        CHECK(angle(rolled) - angle(level) == Approx(-2.0 * std::sin(2.0 * constants::pi * share)).margin(0.1));
    }
}

TEST_CASE("in a side wind the nose points into it and the track keeps off the heading: lines lie askew to the track", "[geometry]") {
    // Heading south with a wind of 20 m/s from the east at 70 m/s over the ground: drift angle asin(20 / 70) = 16.6 degrees to the west.
    Formation f(over(kinds()[1], 180.0, {"flight.wind_speed=20 m/s", "flight.wind_from=90 deg", "flight.speed=70 m/s"}), 0);
    const double drift = std::asin(20.0 / 70.0);
    CHECK(f.motion().track_rad() == Approx(constants::pi + drift).epsilon(1e-9));
    const int last = f.lines() - 1;
    const Vec3 track = ground(f, last, 57) - ground(f, 0, 57), line = ground(f, 10, 114) - ground(f, 10, 0);
    CHECK(std::atan2(-track.x, -track.y) == Approx(drift).epsilon(1e-3));  // to the west of south
    CHECK(glm::dot(track, line) / glm::length(track) / glm::length(line) == Approx(-std::sin(drift)).epsilon(1e-3));
    CHECK(line.y == Approx(0.0).margin(1e-3));  // the line itself stays across the heading
}

TEST_CASE("lean x k multiplies relief displacement by k and leaves the datum where it is", "[geometry][lean]") {
    // The column where the top of a tower's near edge appears; flying south, the tower 300 m to the east.
    const auto& kind = kinds()[static_cast<std::size_t>(GENERATE(0, 1))];
    const std::string keys = kind.first == "whisk-broom" ? "ifov = \"1 mrad\"\nfov = \"60 deg\"" : "focal_length = \"50 mm\"\ndetector_pitch = \"50 um\"\nsamples = 1154";
    const double near_m = 300.0, height_m = 60.0;
    const auto measured = [&](double lean) {
        const Scene scene = over({kind.first, keys}, 180.0, {"flight.lean=" + std::to_string(lean), "effect.sweep_motion=false"},
                                 tower(near_m + 15.0, 0.0, 30.0, height_m) + paint("solid", -200, 0, 2000, 10, "material = \"black\""));
        Formation f(scene, 0);
        const int line = f.lines() / 2;
        f.form(line, line + 1);
        const auto counts = lineOf(f.image(), line);
        const double middle = 0.5 * f.samples();
        // Ground distance of a column on the datum.
        const auto datum = [&](double column) { return kind.first == "whisk-broom" ? 1000.0 * std::tan((column - middle) * 1e-3) : column - middle; };
        const double top = datum(edgeBetween(counts, static_cast<int>(middle), 1, 20000.0));
        const double road = datum(darkMiddles(std::vector<double>(counts.begin(), counts.begin() + static_cast<int>(middle)), 4000.0).at(0));
        CHECK(road == Approx(-200.0).margin(1.5));
        return top - near_m;
    };
    const double true_displacement = near_m * height_m / (1000.0 - height_m);  // 19.1 m on the datum
    CHECK(measured(1.0) == Approx(true_displacement).margin(1.5));
    CHECK(measured(0.0) == Approx(0.0).margin(1.5));  // an orthographic picture
    // The lean multiplies the run of the ray above the datum: from the top's place x the datum point lies at x + k (x_d - x), solved for x = 300.
    for (const double k : {2.0, 5.0}) {
        const double run = measured(k);
        CHECK(run == Approx(k * (near_m + run) * height_m / 1000.0).margin(1.5));
    }
}

TEST_CASE("the orthographic reference image is the same map that a lean of nothing makes", "[geometry][lean]") {
    Formation f(over(kinds()[2], 180.0, {"flight.lean=0"}, tower(200, 100, 60, 100)), 0);
    f.formAll();
    for (int l = 0; l < f.lines(); l += 10) {
        for (int s = 0; s < f.samples(); s += 10) {
            const Vec3 p = ground(f, l, s);
            const double half = 57.0;
            CHECK(p.x == Approx((s - half) * 10.0).margin(0.01));  // wherever it met something, right below its datum point
            CHECK(p.y == Approx((half - l) * 10.0).margin(0.01));
        }
    }
}
