#include "instruments/eye.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "physics/ocular.h"
#include "physics/pigment.h"
#include "physics/solar_spectrum.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

constexpr double arcmin = 3.14159265358979323846 / 10800.0;

std::unique_ptr<Instrument> made(const Sets& sets = {}) {
    Problems problems;
    auto instrument = makeInstrument(sceneOf("slopes", "eye", sets, false), 0, problems);
    REQUIRE(problems.empty());
    return instrument;
}

Sets quiet() { return {"air.on=false", "effect.shot_noise=false", "effect.cos4=false", "effect.pattern=false", "sun.elevation=60 deg"}; }

}  // namespace

TEST_CASE("an arc minute of the fovea holds two cones of half an arc minute", "[eye]") {
    const Facts f = factsOfScene(sceneOf("slopes", "eye", {"instrument.samples=2", "flight.height=1 km"}, false), 0);
    CHECK(f.derived.fov_rad == Approx(arcmin).epsilon(1e-6));
    CHECK(f.derived.ifov_rad == Approx(0.5 * arcmin).epsilon(1e-12));
    CHECK(f.derived.detector_pitch_m == Approx(2.4246e-6).epsilon(1e-4));  // 16.67 mm times half an arc minute
    CHECK(f.flat.nadir.cell.across_m == Approx(0.1454).epsilon(1e-3));     // 1 km times half an arc minute
}

TEST_CASE("the pupil follows the light to which the eye has adapted, unless its diameter is given", "[eye]") {
    const auto pupil = [](const Sets& sets) { return dynamic_cast<const Eye&>(*made(sets)).pupil_m(); };
    CHECK(pupil({"instrument.adapting_luminance=1 cd/m2"}) == Approx(4.9e-3));
    CHECK(pupil({"instrument.pupil=3 mm"}) == Approx(3e-3));
    CHECK(made({"instrument.pupil=4 mm"})->optics().f_number == Approx(16.67 / 4.0));
    CHECK_THAT(complaintsOf("slopes", "eye", {"instrument.f_number=4"}), Catch::Contains("instrument.f_number"));
    CHECK_THAT(complaintsOf("slopes", "eye", {"instrument.samples=8192", "instrument.rows=8192"}), Catch::Contains("instrument.rows"));
    CHECK_THAT(complaintsOf("slopes", "eye", {"instrument.samples=4000", "instrument.rows=4000", "instrument.spacing_doubles=90 deg"}), Catch::Contains("3 million"));
}

TEST_CASE("a cone catches as many photons as radiance, pupil, pigment and time give by hand", "[eye]") {
    // n = integral of rho E(w) cos(z) / pi * pi t / (4 N^2 + 1) * p^2 * S(w) T(w) * eta * w / (h c) * time, over the wavelength w.
    Formation formation(sceneOf(written(levelPlace()), "eye", quiet() + Sets{"instrument.samples=3", "instrument.rows=3", "instrument.pupil=3 mm"}), 0);
    const Why why = formation.why(1, 1);
    const double number = 16.67 / 3.0, pitch = 16.67e-3 * 0.5 * arcmin;
    const std::vector<std::pair<std::string, double>> kinds{{"L", 0.45}, {"M", 0.45}, {"S", 0.40}, {"rod", 0.35}};
    for (int band = 0; band < 4; ++band) {
        const auto& [kind, efficiency] = kinds[static_cast<std::size_t>(band)];
        double catches = 0.0;
        const double step = 1e-4, density = band < 2 ? 0.5 : 0.4;
        for (double w = 0.38 + 0.5 * step; w < 0.78; w += step) {
            const double radiance = 0.20 * solarSpectrum().at(w) * std::cos(30.0 * 60.0 * arcmin) / 3.14159265358979;
            catches += radiance * 3.14159265358979 / (4.0 * number * number + 1.0) * pitch * pitch * (1.0 - std::pow(10.0, -density * pigmentSensitivity(w, receptorPeak_um(kind)))) / (1.0 - std::pow(10.0, -density)) *
                       mediaTransmission(w, 32.0) * efficiency * 0.05 * step / (6.62607015e-34 * 299792458.0 / (w * 1e-6));
        }
        CHECK(why.trace.value("n_e", band) == Approx(catches).epsilon(2e-3));
        CHECK(catches > 1000.0);
    }
}

TEST_CASE("twice the pupil catches four times the photons, less what a wide beam loses", "[eye]") {
    const auto catches = [](const std::string& pupil) {
        Formation formation(sceneOf(written(levelPlace()), "eye", quiet() + Sets{"instrument.samples=3", "instrument.rows=3", "instrument.pupil=" + pupil}), 0);
        return formation.why(1, 1).trace.value("n_e", 0);
    };
    const double two = catches("2 mm"), four = catches("4 mm");
    CHECK(four / two == Approx(4.0).epsilon(0.02));
    const auto beam = [](double pupil) { return 1.0 / (4.0 * std::pow(16.67 / pupil, 2.0) + 1.0); };
    CHECK(four / two == Approx(beam(4.0) / beam(2.0)).epsilon(1e-6));
}

TEST_CASE("signals lie closer together in the fovea than at the edge, and S cones and rods are missing in the middle", "[eye]") {
    const auto i = made();
    const auto& eye = dynamic_cast<const Eye&>(*i);
    const auto receptors = [&](int line, int first, int band) {
        std::set<int> ids;
        for (int s = first; s < first + 40; ++s) ids.insert(eye.receptorOf(line, s, band)->id);
        return static_cast<int>(ids.size());
    };
    const int middle = eye.lines() / 2;
    for (const int band : {0, 1}) CHECK(receptors(middle, eye.samples() / 2 - 20, band) > receptors(middle, 0, band) + 5);
    CHECK(receptors(middle, eye.samples() / 2 - 20, 2) < receptors(middle, eye.samples() / 2 - 20, 0) / 2);
    // S cones are none within 10 arc minutes, rods none within 0.6 deg; L cones lie anywhere.
    CHECK(eye.receptorOf(middle, eye.samples() / 2, 2)->eccentricity_rad > 9.9 * arcmin);
    CHECK(eye.receptorOf(middle, eye.samples() / 2, 3)->eccentricity_rad > 35.9 * arcmin);
    CHECK(eye.receptorOf(middle, eye.samples() / 2, 0)->eccentricity_rad < 3.0 * arcmin);
}

TEST_CASE("pixels that read one receptor show one reading, noise and all", "[eye]") {
    Formation formation(sceneOf("island", "eye", {"effect.cos4=false", "instrument.samples=200", "instrument.rows=60", "instrument.pattern_gain=5 %"}), 0);
    formation.formAll();
    const Instrument& eye = formation.instrument();
    int pairs = 0;
    for (int band = 0; band < 4; ++band) {
        std::map<int, std::uint16_t> reading;
        for (int line = 0; line < eye.lines(); ++line) {
            for (int s = 0; s < eye.samples(); ++s) {
                const std::uint16_t count = formation.image().counts[static_cast<std::size_t>(band)].at(s, line);
                const auto [at, fresh] = reading.emplace(eye.receptorOf(line, s, band)->id, count);
                if (fresh) continue;
                ++pairs;
                REQUIRE(at->second == count);
            }
        }
        CHECK(reading.size() > 20);
    }
    CHECK(pairs > 1000);
}

TEST_CASE("the trace of an eye's pixel gives its reading, photon by photon", "[eye]") {
    const std::string looks = GENERATE("1", "3");
    Formation formation(sceneOf("island", "eye", {"instrument.samples=300", "instrument.rows=300", "quality.contributions=" + looks, "instrument.defocus=0.5 D"}), 0);
    const int n = std::stoi(looks);
    Draws draws(8, static_cast<std::uint32_t>(n));
    for (int i = 0; i < 15; ++i) {
        const Why why = formation.why(static_cast<int>(draws.between(0.0, 300.0)), static_cast<int>(draws.between(0.0, 300.0)));
        REQUIRE(why.looks.size() == static_cast<std::size_t>(4 * n));
        for (int band = 0; band < 4; ++band) {
            double sum = 0.0;
            for (int k = band * n; k < (band + 1) * n; ++k) sum += why.trace.value("L_a", band, k) * why.trace.value("w", -1, k);
            CHECK(why.trace.value("L", band) == Approx(sum).epsilon(1e-6));
            const double caught = std::max(0.0, why.trace.value("n", band)), half = why.trace.value("h", band);
            CHECK(half == (band == 3 ? 100.0 : band == 2 ? 2000.0 : 20000.0));
            const double reading = std::min(255.0, std::floor(256.0 * caught / (caught + half)));
            CHECK(why.counts[static_cast<std::size_t>(band)] == reading);
            CHECK(formation.image().counts[static_cast<std::size_t>(band)].at(why.sample, why.line) == reading);
        }
    }
}

TEST_CASE("in daylight rods are saturated and cones are not", "[eye]") {
    Formation formation(sceneOf(written(levelPlace()), "eye", {"instrument.samples=40", "instrument.rows=40", "sun.elevation=50 deg"}), 0);
    formation.formAll();
    for (int s = 0; s < 40; ++s) {
        CHECK(formation.image().counts[3].at(s, 20) >= 250);
        for (const std::size_t band : {0u, 1u, 2u}) {
            CHECK(formation.image().counts[band].at(s, 20) > 10);
            CHECK(formation.image().counts[band].at(s, 20) < 240);
        }
    }
}

TEST_CASE("an eye's image is the same for any number of threads", "[eye]") {
    const Scene scene = sceneOf("island", "eye", {"instrument.samples=120", "instrument.rows=50", "quality.contributions=3"});
    const Image one = imageOf(scene, 1), three = imageOf(scene, 3);
    for (std::size_t band = 0; band < 4; ++band) {
        for (int line = 0; line < 50; ++line) {
            for (int s = 0; s < 120; ++s) REQUIRE(one.counts[band].at(s, line) == three.counts[band].at(s, line));
        }
    }
}

TEST_CASE("an eye that follows the ground gathers all its light from one moment's place, one that does not is smeared", "[eye]") {
    const auto spread = [](const std::string& follow) {
        Formation formation(sceneOf(written(levelPlace()), "eye", quiet() + Sets{"instrument.samples=5", "instrument.rows=5", "quality.contributions=9", "instrument.follow=" + follow, "flight.speed=70 m/s"}), 0);
        const Why why = formation.why(2, 2);
        double least = 1e9, most = -1e9;
        for (int k = 0; k < 9; ++k) {
            least = std::min(least, why.trace.value("t", -1, k));
            most = std::max(most, why.trace.value("t", -1, k));
        }
        return most - least;
    };
    CHECK(spread("true") == 0.0);
    CHECK(spread("false") > 0.02);
    CHECK(spread("false") <= 0.05);
}

TEST_CASE("an eye tells its pupil and its receptors, and warns of the sun", "[eye]") {
    const Facts f = factsOfScene(sceneOf("slopes", "eye", {}, false), 0);
    std::map<std::string, double> own;
    for (const OwnFact& fact : f.own) own[fact.key] = fact.value;
    CHECK(own.at("pupil_m") == Approx(pupilDiameter_m(3000.0)));
    CHECK(own.at("s_cones") > 1000.0);
    CHECK(own.at("s_cones") < 0.08 * (own.at("l_cones") + own.at("m_cones") + own.at("s_cones")));
    CHECK(own.at("cone_spacing_edge_rad") > 3.0 * own.at("cone_spacing_rad"));
    CHECK(f.caution.find("Never look at the sun") == 0);
}
