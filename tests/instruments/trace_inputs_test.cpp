// The further inputs of a trace stand for what the walk itself used: put into the laws of the air, the mirror of the sea and
// the detector by code of this file, they give the walk's own numbers.

#include "instruments/trace_inputs.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

constexpr double pi = std::numbers::pi;

Why whyOf(const Sets& sets, int line = 20, int sample = 30) {
    Formation formation(sceneOf(written(levelPlace()), "push-broom", Sets{"flight.length=600 m", "flight.height=2 km"} + sets), 0);
    return formation.why(line, sample);
}

}  // namespace

TEST_CASE("over level ground at datum all of the air lies above the ground and a known share above the sensor") {
    const Why why = whyOf({});
    const Trace& t = why.trace;
    CHECK(t.value("p_z", -1, 0) == Approx(1.0).epsilon(1e-6));
    CHECK(t.value("a_z", -1, 0) == Approx(1.0).epsilon(1e-6));
    // ICAO standard atmosphere at 2000 m (geopotential 1999.4 m): 79 501 Pa of 101 325 Pa, Doc 7488 (from memory).
    CHECK(t.value("p_Z") == Approx(79501.0 / 101325.0).epsilon(1e-4));
    CHECK(t.value("a_Z") == Approx(std::exp(-2000.0 / t.value("H"))).epsilon(1e-5));
    for (int b = 0; b < 4; ++b) {
        CHECK(t.value("tau_z", b, 0) == Approx(t.value("tau", b)).epsilon(1e-6));
        CHECK(t.value("E_b", b, 0) == Approx(t.value("E_0", b) * std::exp(-t.value("m_s") * t.value("tau_z", b, 0))).epsilon(1e-7));
        CHECK(t.value("E_s", b, 0) == Approx(t.value("E_0", b) * t.value("k_s", b, 0)).epsilon(1e-12));
        CHECK(t.value("T", b, 0) == Approx(std::exp(-t.value("m_v", -1, 0) * t.value("dtau", b, 0))).epsilon(1e-7));
    }
    CHECK(t.value("E_1", 0) == Approx(t.value("E_0", 0)).epsilon(1e-12));  // the sun is set by hand, at 1 au
}

TEST_CASE("without air the trace has no depths at places") {
    const Why why = whyOf({"air.on=false"});
    CHECK_THROWS(why.trace.value("tau_z", 0, 0));
    CHECK_NOTHROW(why.trace.value("n_z", -1, 0));
}

TEST_CASE("the traced draw of shot noise and the read noise add up to the electrons that were read") {
    const Why both = whyOf({});
    const Why shot = whyOf({"effect.read_noise=false"});
    const Why read = whyOf({"effect.shot_noise=false"});
    for (int b = 0; b < 4; ++b) {
        CHECK(both.trace.value("n_s", b) == shot.trace.value("n", b));
        CHECK(both.trace.value("n_s", b) + both.trace.value("e_r", b) == Approx(both.trace.value("n", b)).epsilon(1e-13));
        CHECK(both.trace.value("e_r", b) == Approx(read.trace.value("e_r", b)).epsilon(1e-9));
        CHECK(shot.trace.value("e_r", b) == 0.0);
        CHECK_THROWS(read.trace.value("n_s", b));
    }
}

TEST_CASE("glint on water is traced through its slopes and Fresnel's law") {
    const std::string sea = written(levelPlace() + "[[material]]\nname = \"sea\"\nreflectance = \"2 %\"\nwater = true\n" +
                                    paint("solid", 0, 0, 1900, 1900, "material = \"sea\""));
    Formation formation(sceneOf(sea, "push-broom", {"flight.start_north=300 m", "flight.length=600 m", "effect.glint=true", "sun.elevation=70 deg", "sun.azimuth=90 deg"}), 0);
    int mirrored = 0;
    for (int sample = 5; sample < formation.samples(); sample += 40) {
        const Why why = formation.why(10, sample);
        const Trace& t = why.trace;
        if (why.material != "sea" || t.value("r_g", -1, 0) <= 0.0) continue;
        ++mirrored;
        const double s2 = t.value("s2", -1, 0), b = t.value("cos b", -1, 0);
        const double density = std::exp(-(1.0 / (b * b) - 1.0) / s2) / (pi * s2);
        CHECK(t.value("r_g", -1, 0) == Approx(t.value("F", -1, 0) * density / (4.0 * std::cos(t.value("theta_v", -1, 0)) * std::pow(b, 4))).epsilon(1e-9));
        CHECK(t.value("L_glint", 1, 0) == Approx(t.value("E_b", 1, 0) * t.value("V_sun", -1, 0) * t.value("r_g", -1, 0)).epsilon(1e-9));
    }
    CHECK(mirrored > 3);
}
