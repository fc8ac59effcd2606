#include "instruments/light_walk.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "physics/solar_spectrum.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("walking part of a line gives what the whole line gives there", "[light walk]") {
    // `why` walks one sample by the same functions: its counts are the image's, for every sample of a line.
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    Formation f(sceneOf("slopes", preset, {"quality.contributions=2"}), 0);
    for (int s = 0; s < f.samples(); s += 13) {
        const Why why = f.why(20, s);
        for (std::size_t b = 0; b < why.counts.size(); ++b) CHECK(why.counts[b] == f.image().counts[b].at(s, 20));
    }
}

TEST_CASE("electrons for a radiance: pi t / (4 N^2 + 1) x pitch^2 x band x dwell x QE / photon", "[light walk]") {
    Problems problems;
    const auto i = makeInstrument(sceneOf("slopes", oneBand("push-broom"), {"instrument.f_number=4", "instrument.transmission=100 %", "instrument.detector_pitch=10 um", "instrument.line_rate=1 kHz"}, false), 0, problems);
    // 0.04833 L x 1e-10 m2 x 0.08 um x 1e-3 s x 0.5 / 3.6117e-19 J at 550 nm.
    CHECK(electronsPerRadiance(*i, 0, 0.55) == Approx(0.048332 * 1e-10 * 0.08 * 1e-3 * 0.5 / 3.6117e-19).epsilon(1e-4));
}

TEST_CASE("light is linear: twice the reflectance without air and noise is twice the counts", "[light walk]") {
    const auto counts = [](const std::string& material) {
        const std::string place = levelPlace(paint("solid", 0, 0, 1500, 1500, "material = \"" + material + "\""));
        return imageOf(exposed(sceneOf(written(place), oneBand("push-broom"), bare() + Sets{"flight.start_north=10 m", "flight.length=10 m", "instrument.samples=100"}))).counts[0].at(50, 0) + 0.5;
    };
    const double ten = counts("grey10");
    CHECK(counts("grey40") / ten == Approx(4.0).epsilon(1e-3));
    CHECK(counts("grey80") / ten == Approx(8.0).epsilon(1e-3));
    CHECK(counts("white") / ten == Approx(10.0).epsilon(1e-3));
    CHECK(counts("black") < 1.0);
}

TEST_CASE("a sun below the horizon lights nothing", "[light walk]") {
    const Image night = imageOf(sceneOf("slopes", "push-broom", {"sun.elevation=-5 deg", "effect.read_noise=false", "effect.dark_current=false", "effect.pattern=false", "flight.length=100 m", "effect.cast_shadow=false"}));
    for (const auto& band : night.counts) {
        for (const auto count : band.values()) REQUIRE(count == 0);
    }
}

TEST_CASE("haze grows with the length of the path and lifts what is dark", "[light walk]") {
    const std::string place = levelPlace(paint("solid", 0, 0, 2000, 2000, "material = \"black\""));
    const auto dark = [&](const Sets& sets) {
        return imageOf(exposed(sceneOf(written(place), oneBand("push-broom"), bare() + Sets{"air.on=true", "flight.start_north=10 m", "flight.length=10 m", "instrument.samples=3"} + sets))).counts[0].at(1, 0);
    };
    CHECK(dark({"flight.height=3 km"}) > dark({"flight.height=1 km"}) + 20);
    CHECK(dark({"flight.height=1 km"}) > 20);
    CHECK(dark({"air.aerosol_depth=0.5"}) > dark({"air.aerosol_depth=0.05"}) + 100);
}
