// The trace of a pixel answers "why this grey?" in numbers. Here its numbers are put into the formulas again, by code of
// this file alone, and must give every later number of the trace and, at its end, the count in the image - exactly.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/random.h"
#include "physics/noise.h"
#include "support/effort.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

using std::numbers::pi;

/// Recomputes one pixel from its trace; `n` contributions a band. `eye`: bands look from receptors of their own. Adds checks.
void recompute(const Why& why, const Image& image, int bands, int n, const Instrument* eye = nullptr) {
    const Trace& t = why.trace;
    const double zenith_cosine = std::cos(t.value("theta_s"));
    for (int b = 0; b < bands; ++b) {
        INFO("line " << why.line << ", sample " << why.sample << ", band " << b);
        // Up to the sensor: for each contribution E = E_b max(0, cos i) V_sun + E_s V_sky, L_g = rho E / pi + L_glint,
        // L = mean of L_g T + L_p. A contribution that met nothing has no reflectance and weighs nothing.
        double sum = 0.0;
        const int first = eye != nullptr ? b * n : 0;
        for (int c = first; c < first + n; ++c) {
            const double beam = t.value("E_b", b, c);
            const double irradiance = beam * std::max(0.0, t.value("cos i", -1, c)) * t.value("V_sun", -1, c) + t.value("E_s", b, c) * t.value("V_sky", -1, c);
            CHECK(t.value("E", b, c) == Approx(irradiance).epsilon(1e-13).margin(1e-300));
            const double leaving = t.value("rho", b, c) * irradiance / pi + t.value("L_glint", b, c);
            CHECK(t.value("L_g", b, c) == Approx(leaving).epsilon(1e-13).margin(1e-300));
            CHECK(beam <= t.value("E_0", b));
            CHECK(t.value("T", b, c) <= 1.0);
            CHECK(t.value("w", -1, c) == Approx(1.0 / n));
            sum += leaving * t.value("T", b, c) + t.value("L_p", b, c);
        }
        if (image.sky.at(why.sample, why.line) == 0) CHECK(t.value("L", b) == Approx(sum / n).epsilon(1e-7));  // kept in single precision

        // Power, electrons, noise, count.
        const double number = t.value("N", b), pitch = t.value("p", b), cosine = t.value("cos a", b);
        const double power = t.value("L", b) * pi * t.value("t_o", b) / (4.0 * number * number + 1.0) * pitch * pitch * t.value("dlambda", b) * std::pow(cosine, 4.0);
        CHECK(t.value("P", b) == Approx(power).epsilon(1e-13).margin(1e-300));
        const double photon = 6.62607015e-34 * 299792458.0 / (t.value("lambda", b) * 1e-6);
        const double electrons = std::clamp(power * t.value("t_d", b) * t.value("eta", b) / photon * t.value("g", b) + t.value("n_d", b) + t.value("o", b), 0.0, t.value("n_w", b));
        CHECK(t.value("n_e", b) == Approx(electrons).epsilon(1e-12).margin(1e-9));

        // The noise is a pure function of the seed and the pixel: Philox words, a normal pair (or exact inversion below 30 e).
        const std::uint32_t line = eye != nullptr ? 0 : static_cast<std::uint32_t>(why.line);
        const std::uint32_t sample = eye != nullptr ? static_cast<std::uint32_t>(eye->receptorOf(why.line, why.sample, b)->id) : static_cast<std::uint32_t>(why.sample);
        const auto words = keyedWords(77, RandomUse::shot_noise, line, sample, static_cast<std::uint32_t>(b));
        const double u = uniformFromWord(words[0]), v = uniformFromWord(words[1]);
        const double radius = std::sqrt(-2.0 * std::log(u));
        const double z = radius * std::cos(2.0 * pi * v);
        double read = t.value("n_e", b);
        if (read >= 30.0) read = std::max(0.0, std::nearbyint(read + std::sqrt(read) * z + (z * z - 1.0) / 6.0));
        else read = poissonByInversion(read, uniformFromWord(words[2]));
        read += t.value("sigma_r", b) * radius * std::sin(2.0 * pi * v);
        CHECK(t.value("n", b) == Approx(read).epsilon(1e-9).margin(1e-6));
        const double caught = std::max(0.0, t.value("n", b));
        const double reading = eye != nullptr ? (t.value("DN_max", b) + 1.0) * caught / (caught + t.value("h", b)) : t.value("n", b) / t.value("q", b);
        const double count = std::clamp(std::floor(reading), 0.0, t.value("DN_max", b));
        CHECK(t.value("DN", b) == count);
        CHECK(why.counts[static_cast<std::size_t>(b)] == count);
        CHECK(image.counts[static_cast<std::size_t>(b)].at(why.sample, why.line) == count);
    }
    // Geometry: slant range and view incidence from the two points.
    for (int c = 0; c < static_cast<int>(why.looks.size()); ++c) {
        if (why.hit.meets == Meets::sky) continue;
        const Vec3 way{t.value("X", -1, c) - t.value("x", -1, c), t.value("Y", -1, c) - t.value("y", -1, c), t.value("Z", -1, c) - t.value("z", -1, c)};
        CHECK(t.value("D", -1, c) == Approx(glm::length(way)).epsilon(1e-12));
        CHECK(std::cos(t.value("theta_v", -1, c)) == Approx(way.z / glm::length(way)).epsilon(1e-9));
    }
    CHECK(zenith_cosine == Approx(std::cos(why.sun_incidence_rad)).epsilon(1e-12));
}

}  // namespace

TEST_CASE("the counts of random pixels of every place and instrument follow from their traces", "[trace]") {
    const std::string place = GENERATE("island", "proving-ground", "slopes", "hill-and-hollow");
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const Scene scene = sceneOf(place, preset, {"noise.seed=77"});
    Formation formation(scene, 0);
    Draws draws(21, static_cast<std::uint32_t>(place.size() * 16 + preset.size()));
    for (int i = 0; i < effort(60); ++i) {
        const int line = static_cast<int>(draws.between(0.0, formation.lines()));
        const int sample = static_cast<int>(draws.between(0.0, formation.samples()));
        INFO(place << ", " << preset);
        recompute(formation.why(line, sample), formation.image(), static_cast<int>(formation.instrument().bands().size()), 1, preset == "eye" ? &formation.instrument() : nullptr);
    }
}

TEST_CASE("the trace holds for several contributions - a sun that is a disc - glint - and a rolling aircraft", "[trace]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom");
    const Scene scene = sceneOf("island", preset, {"noise.seed=77", "quality.contributions=5", "sun.disc=true", "effect.glint=true", "flight.roll_swing=4 deg", "flight.rough_air=0.4 deg",
                                                   "flight.wind_speed=20 m/s", "instrument.dead_detectors=10 %", "instrument.pattern_offset=30 e"});
    Formation formation(scene, 0);
    Draws draws(22, static_cast<std::uint32_t>(preset.size()));
    for (int i = 0; i < effort(20); ++i) {
        const int line = static_cast<int>(draws.between(0.0, formation.lines()));
        const int sample = static_cast<int>(draws.between(0.0, formation.samples()));
        recompute(formation.why(line, sample), formation.image(), static_cast<int>(formation.instrument().bands().size()), 5);
    }
}

TEST_CASE("a pixel of the sky has a trace too - with no light", "[trace]") {
    // From 30 m, rolled by 45 degrees: half the field looks above the horizon.
    const Scene scene = sceneOf("slopes", oneBand("push-broom", "focal_length = \"5 mm\"\ndetector_pitch = \"100 um\"\nsamples = 200\nf_number = 11"),
                                {"flight.height=400 m", "flight.roll=45 deg", "flight.length=50 m", "noise.seed=77"});
    Formation formation(scene, 0);
    formation.formAll();
    int sky = 0;
    for (int s = 0; s < formation.samples(); ++s) sky += formation.image().sky.at(s, 0);
    REQUIRE(sky > 10);
    REQUIRE(sky < 190);
    for (int s = 0; s < formation.samples(); s += 7) {
        const Why why = formation.why(0, s);
        CHECK((why.hit.meets == Meets::sky) == (formation.image().sky.at(s, 0) == 1));
        CHECK(formation.groundPoint(0, s).has_value() == (why.hit.meets != Meets::sky));
        if (why.hit.meets == Meets::sky) CHECK(why.trace.value("L", 0) == 0.0);
        recompute(why, formation.image(), 1, 1);
    }
}

TEST_CASE("a pixel outside the image is refused with what would do", "[trace]") {
    Formation formation(sceneOf("slopes", "push-broom"), 0);
    CHECK_THROWS_AS(formation.why(-1, 0), InputError);
    CHECK_THROWS_AS(formation.why(0, formation.samples()), InputError);
    CHECK_THROWS_WITH(formation.why(formation.lines(), 0), Catch::Contains("a line of 0 to " + std::to_string(formation.lines() - 1)));
}
