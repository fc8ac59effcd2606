#include "physics/ocular.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace linefall;

TEST_CASE("the pupil is 4.9 mm wide at one candela and closes from 7.9 to 1.9 mm", "[ocular]") {
    CHECK(pupilDiameter_m(1.0) == Approx(4.9e-3));
    CHECK(pupilDiameter_m(100.0) == Approx(1e-3 * (4.9 - 3.0 * std::tanh(0.8))));
    CHECK(pupilDiameter_m(1e-12) == Approx(7.9e-3).epsilon(1e-3));
    CHECK(pupilDiameter_m(1e12) == Approx(1.9e-3).epsilon(1e-3));
    for (double l = 1e-6; l < 1e6; l *= 2.0) CHECK(pupilDiameter_m(2.0 * l) < pupilDiameter_m(l));
}

TEST_CASE("half a dioptre behind 3 mm spreads a point over 5.2 arc minutes", "[ocular]") {
    const double sigma = defocusBlur_rad(3e-3, 0.5);
    CHECK(4.0 * sigma * 180.0 * 60.0 / 3.14159265358979 == Approx(5.157).epsilon(1e-3));  // 3 mm * 0.5 / m in arc minutes
    CHECK(defocusBlur_rad(3e-3, -0.5) == sigma);
    CHECK(defocusBlur_rad(6e-3, 0.5) == Approx(2.0 * sigma));
    // The deviation of a uniform disc along one axis, by summing it up.
    double sum = 0.0, square = 0.0;
    for (double x = -0.9995; x < 1.0; x += 0.001) {
        const double chord = std::sqrt(1.0 - x * x);
        sum += chord;
        square += chord * x * x;
    }
    CHECK(std::sqrt(square / sum) == Approx(0.5).epsilon(1e-3));  // of the radius: a quarter of the diameter
}

TEST_CASE("the media stop ultraviolet, pass more the longer the wave, and yellow with age", "[ocular]") {
    CHECK(mediaTransmission(0.36, 32.0) < 0.01);
    double before = 0.0;
    for (double w = 0.40; w <= 0.78; w += 0.01) {
        const double t = mediaTransmission(w, 32.0);
        CHECK(t > before);
        CHECK(t < 1.0);
        CHECK(mediaTransmission(w, 70.0) < t);
        before = t;
    }
    // A lens of 70 years takes from blue light a far larger share than from red.
    CHECK(mediaTransmission(0.45, 70.0) / mediaTransmission(0.45, 20.0) < 0.75 * mediaTransmission(0.65, 70.0) / mediaTransmission(0.65, 20.0));
    // The formula, term by term at 550 nm and 32 years: all but three terms have died away.
    const double density = (0.446 + 0.000031 * 1024.0) * std::pow(400.0 / 550.0, 4.0) + (0.016 + 0.000132 * 1024.0) * 1.43 * std::exp(-std::pow(0.008 * 225.0, 2.0)) + 0.111;
    CHECK(-std::log10(mediaTransmission(0.55, 32.0)) == Approx(density).epsilon(1e-6));
}
