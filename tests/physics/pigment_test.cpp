#include "physics/pigment.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "physics/ocular.h"

using namespace linefall;

TEST_CASE("a pigment catches most at its peak and the four receptors peak in the order S rod M L", "[pigment]") {
    double before = 0.0;
    for (const std::string name : {"S", "rod", "M", "L"}) {
        const double peak = receptorPeak_um(name);
        CHECK(peak > before);
        before = peak;
        double best = 0.0, at = 0.0;
        for (double w = 0.36; w < 0.8; w += 0.0005) {
            const double s = pigmentSensitivity(w, peak);
            CHECK(s >= 0.0);
            if (s > best) best = s, at = w;
        }
        CHECK(at == Approx(peak).margin(0.0015));
        CHECK(best == Approx(1.0).margin(0.005));
    }
    CHECK(receptorNames() == std::vector<std::string>{"L", "M", "S", "rod"});
}

TEST_CASE("rods see blue-green as the published scotopic eye does", "[pigment]") {
    // CIE 1951 scotopic luminous efficiency (from memory): 507 nm 1.000, 555 nm 0.402, 600 nm 0.03315, 650 nm 0.000677. It
    // is for energy at the cornea: photons caught, times the wavelength, behind the media. The pigment measured under the
    // microscope peaks a few nm beyond what the living eye shows, so that the blue side is the weaker: within a third.
    const auto energy = [](double w) { return w * receptorSensitivity(w, "rod") * mediaTransmission(w, 32.0); };
    CHECK(energy(0.600) / energy(0.555) == Approx(0.03315 / 0.402).epsilon(0.15));
    CHECK(energy(0.650) / energy(0.555) == Approx(0.000677 / 0.402).epsilon(0.25));
    CHECK(energy(0.507) / energy(0.555) == Approx(1.0 / 0.402).epsilon(0.33));
}

TEST_CASE("a red lamp lights cones and leaves rods in the dark", "[pigment]") {
    const auto at = [](const std::string& name, double w) { return pigmentSensitivity(w, receptorPeak_um(name)); };
    CHECK(at("L", 0.65) > 50.0 * at("rod", 0.65));
    CHECK(at("L", 0.65) > 3.0 * at("M", 0.65));
    CHECK(at("S", 0.65) < 1e-4);
}

TEST_CASE("the sampled curve is the formula", "[pigment]") {
    const Spectrum curve = pigmentSpectrum("M");
    CHECK(curve.points().size() == 201);
    CHECK(curve.points().front().wavelength_um == Approx(0.38));
    CHECK(curve.points().back().wavelength_um == Approx(0.78));
    for (double w = 0.381; w < 0.78; w += 0.0037) CHECK(curve.at(w) == Approx(receptorSensitivity(w, "M")).margin(1e-3));
    // By hand: a pigment of half its peak in a receptor of density 0.5 catches 64 % of what it does at the peak.
    double half = 0.5308;
    while (pigmentSensitivity(half, 0.5308) > 0.5) half += 1e-6;
    CHECK(receptorSensitivity(half, "M") == Approx((1.0 - std::pow(10.0, -0.25)) / (1.0 - std::pow(10.0, -0.5))).epsilon(1e-3));
    CHECK(receptorSensitivity(half, "M") == Approx(0.640).epsilon(1e-3));
}
