#include "instruments/frame_camera.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("a sensor of 13.125 mm behind 15.4 mm at 100 m, 4608 pixels: 1.85 cm and 85 m", "[frame camera]") {
    // Worksheet (optical.md, Vertical photograph, A), last digit.
    const Facts f = factsOfScene(sceneOf("slopes", oneBand("frame-camera"), {"instrument.focal_length=15.4 mm", "instrument.detector_pitch=" + std::to_string(13125.0 / 4608.0) + " um", "instrument.samples=4608", "flight.height=100 m"}, false), 0);
    CHECK(f.flat.nadir.cell.across_m * 100.0 == Approx(1.85).epsilon(0.0).margin(0.005));
    CHECK(f.flat.swath_m == Approx(85.0).epsilon(0.0).margin(0.5));
}

TEST_CASE("all of a frame is taken at one instant, at its station of the flight", "[frame camera]") {
    Problems problems;
    const auto i = makeInstrument(sceneOf("slopes", oneBand("frame-camera"), {"instrument.station=25 %", "flight.length=1400 m", "flight.speed=70 m/s", "instrument.exposure=4 ms"}, false), 0, problems);
    REQUIRE(problems.empty());
    for (const int line : {0, 400, 799}) {
        CHECK(i->lookTime_s(line, 3, 0.0) == Approx(5.0));
        CHECK(i->lookTime_s(line, 900, 0.5) - i->lookTime_s(line, 900, -0.5) == Approx(4e-3));
    }
    CHECK(i->derived().lines_at_once == i->lines());
    CHECK(i->derived().line_period_s == 0.0);
    CHECK(i->detectorOf(2, 5) == 2 * i->samples() + 5);
    CHECK(i->derived().detectors == i->samples() * i->lines());
}

TEST_CASE("row 0 is aft and column 0 starboard, symmetric about the axis", "[frame camera]") {
    Problems problems;
    const auto i = makeInstrument(sceneOf("slopes", oneBand("frame-camera"), {"instrument.samples=5", "instrument.rows=3", "instrument.focal_length=10 mm", "instrument.detector_pitch=1 mm"}, false), 0, problems);
    const auto at = [&](int line, int sample) {
        const Vec3 d = i->look(line, sample, {}).direction;
        return Vec2{d.x / d.z, d.y / d.z};
    };
    CHECK(at(0, 0).x == Approx(-0.1));
    CHECK(at(0, 0).y == Approx(0.2));
    CHECK(at(1, 2).x == Approx(0.0).margin(1e-15));
    CHECK(at(1, 2).y == Approx(0.0).margin(1e-15));
    CHECK(at(2, 4).x == Approx(0.1));
    CHECK(at(2, 4).y == Approx(-0.2));
    CHECK(i->offAxisCosine(0, 0) == Approx(1.0 / std::sqrt(1.0 + 0.01 + 0.04)));
}

TEST_CASE("a frame too large to hold is refused", "[frame camera]") {
    CHECK_THAT(complaintsOf("slopes", oneBand("frame-camera"), {"instrument.samples=65536", "instrument.rows=65536"}), Catch::Contains("instrument.rows"));
}

TEST_CASE("a frame darkens towards its corners by cos^4 - and not when the switch is off", "[frame camera]") {
    const Scene scene = exposed(sceneOf(written(levelPlace("", "4 km", "20 m")), oneBand("frame-camera", "focal_length = \"10 mm\"\ndetector_pitch = \"100 um\"\nsamples = 201\nrows = 101"),
                                        bare() + Sets{"effect.cos4=true", "flight.height=1 km", "flight.start_north=0 m", "flight.length=0.01 m"}));
    const Image dim = imageOf(scene);
    const double middle = dim.counts[0].at(100, 50) + 0.5;
    for (const int s : {0, 40, 160, 200}) {
        for (const int l : {0, 50, 100}) {
            const double x = (s - 100) * 0.1 / 10.0, y = (l - 50) * 0.1 / 10.0;
            CHECK((dim.counts[0].at(s, l) + 0.5) / middle == Approx(std::pow(1.0 + x * x + y * y, -2.0)).epsilon(1e-3));
        }
    }
    const Image even = imageOf(with(scene, {"effect.cos4=false"}));
    CHECK(even.counts[0].at(0, 0) == even.counts[0].at(100, 50));
}
