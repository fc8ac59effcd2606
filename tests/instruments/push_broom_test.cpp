#include "instruments/push_broom.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Scene push(const Sets& sets) { return sceneOf("slopes", oneBand("push-broom"), sets, false); }
Facts factsFor(const Sets& sets) { return factsOfScene(push(sets), 0); }

}  // namespace

TEST_CASE("6000 detectors over 4.13 degrees from 832 km: cells of 10 m and a swath of 60 km", "[push broom]") {
    // CNES 1981 (optical.md, Push broom, A; 0.5 km).
    const Facts f = factsFor({"instrument.fov=4.13 deg", "instrument.detector_pitch=13 um", "instrument.focal_length=1.0816 m", "flight.height=832 km", "flight.speed=6.7 km/s", "flight.length=10 km"});
    CHECK(f.flat.swath_m / 1e3 == Approx(60.0).epsilon(0.0).margin(0.5));
    CHECK(f.derived.samples == Approx(6000).margin(5));
    CHECK(f.flat.nadir.cell.across_m == Approx(10.0).margin(0.01));
    CHECK(f.curved->swath_m / 1e3 == Approx(60.0).epsilon(0.0).margin(0.5));
}

TEST_CASE("10 m of focal length and 12 um detectors from 681 km: 0.82 m", "[push broom]") {
    // eoPortal (optical.md; 12 um from memory; 0.005 m).
    const Facts f = factsFor({"instrument.focal_length=10 m", "instrument.detector_pitch=12 um", "instrument.samples=13000", "flight.height=681 km", "flight.speed=6.8 km/s", "flight.length=1 km"});
    CHECK(f.flat.nadir.cell.across_m == Approx(0.82).epsilon(0.0).margin(0.005));
}

TEST_CASE("lines of 10 m at 200 m/s take 5e-2 s", "[push broom]") {
    // Sabins, Remote Sensing (optical.md, M), exact. And 30 m at 6.76 km/s take 4.44 ms (SMAD table 9-15).
    CHECK(factsFor({"instrument.ifov=1 mrad", "flight.height=10 km", "flight.speed=200 m/s"}).derived.dwell_s == Approx(5e-2).epsilon(1e-12));
    CHECK(factsFor({"instrument.ifov=" + std::to_string(30.0 / 700.0) + " mrad", "flight.height=700 km", "flight.speed=6.76 km/s", "flight.length=100 km"}).derived.dwell_s == Approx(4.44e-3).epsilon(0.0).margin(0.01e-3));
}

TEST_CASE("orbits give the ground speeds that flights are set to: 6.76 km/s at 700 km, 101.4 min at 822 km", "[push broom]") {
    // SMAD, 3rd ed., table 9-15 (98.8 min, 6.76 km/s; 0.05, 0.005) and Spot Image technical data (101.4 min, 7.44 km/s; 0.1 min) (optical.md, A).
    // Kepler's third law with the core's constants; a flight's speed is that of the nadir point.
    const auto orbit = [](double height_m) {
        const double a = constants::earth_radius_m + height_m;
        const double speed = std::sqrt(constants::earth_gm_m3_s2 / a);
        struct Orbit {
            double minutes, speed_km_s, ground_km_s;
        };
        return Orbit{2.0 * constants::pi * a / speed / 60.0, speed / 1e3, speed * constants::earth_radius_m / a / 1e3};
    };
    CHECK(orbit(700e3).minutes == Approx(98.8).epsilon(0.0).margin(0.05));
    CHECK(orbit(700e3).ground_km_s == Approx(6.76).epsilon(0.0).margin(0.005));
    CHECK(orbit(822e3).minutes == Approx(101.4).epsilon(0.0).margin(0.1));
    CHECK(orbit(822e3).speed_km_s == Approx(7.44).epsilon(0.0).margin(0.005));
}

TEST_CASE("the ground cell of a flat focal plane is the same from the nadir to the edge", "[push broom]") {
    const Facts f = factsFor({"instrument.focal_length=10 mm", "instrument.detector_pitch=10 um", "instrument.samples=2000", "flight.height=2 km"});
    CHECK(f.derived.fov_rad == Approx(2.0 * std::atan(1.0)));
    CHECK(f.flat.nadir.cell.across_m == Approx(2.0));
    CHECK(f.flat.edge.cell.across_m == Approx(2.0));
    CHECK(f.flat.edge.cell.along_m == Approx(2.0));
    CHECK(f.flat.swath_m == Approx(4000.0));
    // Its IFOV is p cos^2(t) / f: half at 45 degrees. On a sphere the cell does grow.
    Problems problems;
    const auto i = makeInstrument(push({"instrument.focal_length=10 mm", "instrument.detector_pitch=10 um", "instrument.samples=2000"}), 0, problems);
    const auto angle = [&](int s) { return std::atan2(i->look(0, s, {}).direction.y, i->look(0, s, {}).direction.z); };
    CHECK((angle(0) - angle(1)) / (angle(999) - angle(1000)) == Approx(0.5).epsilon(2e-3));
    CHECK(f.curved->edge.cell.across_m > 2.0);
    CHECK(i->offAxisCosine(0, 0) == Approx(std::cos(angle(0))).epsilon(1e-12));
    for (const int s : {0, 500, 1999}) CHECK(i->detectorOf(17, s) == s);
}

TEST_CASE("duty cycle shortens the dwell and leaves the lines where they are", "[push broom]") {
    const Facts all = factsFor({}), third = factsFor({"instrument.duty_cycle=30 %"});
    CHECK(third.derived.dwell_s == Approx(0.3 * all.derived.dwell_s));
    CHECK(third.derived.line_period_s == all.derived.line_period_s);
    CHECK(third.bands[0].signal_e == Approx(0.3 * all.bands[0].signal_e));
}

TEST_CASE("a line rate of one's own makes oblong pixels: gaps and overlap along the track", "[push broom]") {
    const Sets sets{"instrument.ifov=1 mrad", "flight.height=2 km", "flight.speed=60 m/s"};  // auto: 30 lines a second
    CHECK(factsFor(sets).derived.line_rate_Hz == Approx(30.0));
    CHECK(factsFor(sets + Sets{"instrument.line_rate=15 Hz"}).flat.spacing_along_m == Approx(4.0));
    CHECK(factsFor(sets + Sets{"instrument.line_rate=15 Hz"}).flat.overlap_nadir_m == Approx(-2.0));
    CHECK(factsFor(sets + Sets{"instrument.line_rate=60 Hz"}).flat.overlap_nadir_m == Approx(1.0));
}

TEST_CASE("a push broom is read from 10 m to 40 000 km", "[push broom]") {
    CHECK(complaintsOf("slopes", oneBand("push-broom"), {"flight.height=10 m", "flight.length=10 m"}).empty());
    CHECK(complaintsOf("slopes", oneBand("push-broom"), {"flight.height=40000 km", "flight.length=40000 km", "flight.speed=3 km/s", "instrument.focal_length=5 m"}).empty());
    CHECK_THAT(complaintsOf("slopes", oneBand("push-broom"), {"instrument.line_rate=10 MHz"}), Catch::Contains("instrument.line_rate"));  // more lines than an image may have
}
