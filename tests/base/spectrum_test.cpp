// Spectra and the bands that gather them, against integrals done by hand.
#include <catch2/catch.hpp>

#include <cmath>

#include "base/spectrum.h"

using namespace linefall;

namespace {

/// Integral of f over [from, to] by Simpson's rule in `steps` (even) steps: an independent route to the band means.
template <class F>
double integral(double from, double to, int steps, const F& f) {
    const double h = (to - from) / steps;
    double sum = f(from) + f(to);
    for (int i = 1; i < steps; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * f(from + i * h);
    return sum * h / 3.0;
}

const Spectrum kinked({{0.40, 0.05}, {0.52, 0.10}, {0.68, 0.04}, {0.73, 0.45}, {0.90, 0.50}});

}  // namespace

TEST_CASE("a spectrum is linear between its points and constant beyond them") {
    const Spectrum s({{0.4, 1.0}, {0.6, 3.0}, {0.7, 2.0}});
    CHECK(s.at(0.4) == 1.0);
    CHECK(s.at(0.5) == Approx(2.0));
    CHECK(s.at(0.6) == Approx(3.0));
    CHECK(s.at(0.65) == Approx(2.5));
    CHECK(s.at(0.7) == 2.0);
    CHECK(s.at(0.1) == 1.0);
    CHECK(s.at(2.0) == 2.0);
    CHECK(Spectrum::constant(0.3).at(0.1) == 0.3);
    CHECK(Spectrum::constant(0.3).at(9.0) == 0.3);
    CHECK(Spectrum{}.at(0.5) == 0.0);
    CHECK(Spectrum{}.empty());
    CHECK_FALSE(s.empty());
}

TEST_CASE("a band's response is one inside, a half at its nominal edges, zero outside") {
    const Band band{"red", 0.60, 0.70, 0.02, 0.5};
    CHECK(band.responseAt(0.65) == 1.0);
    CHECK(band.responseAt(0.60) == Approx(0.5));
    CHECK(band.responseAt(0.70) == Approx(0.5));
    CHECK(band.responseAt(0.595) == Approx(0.25));
    CHECK(band.responseAt(0.589) == 0.0);
    CHECK(band.responseAt(0.711) == 0.0);
    const Band box{"box", 0.60, 0.70, 0.0, 0.5};
    CHECK(box.responseAt(0.6) == 1.0);
    CHECK(box.responseAt(0.7) == 1.0);
    CHECK(box.responseAt(0.5999) == 0.0);
    CHECK(box.responseAt(0.7001) == 0.0);
}

TEST_CASE("a band's width is the integral of its response for every edge") {
    for (const double edge : {0.001, 0.01, 0.05, 0.1}) {
        const Band band{"b", 0.60, 0.70, edge, 0.5};
        CHECK(integral(0.5, 0.8, 300000, [&](double w) { return band.responseAt(w); }) == Approx(band.width_um()).epsilon(1e-8));
        CHECK(band.last_um() - band.first_um() == Approx(0.1 + edge));
    }
}

TEST_CASE("the band mean of a constant is that constant, of a line its value at the centre") {
    const Spectrum line({{0.3, 3.0}, {1.3, 13.0}});
    for (const double edge : {0.0, 0.02}) {
        const Band band{"b", 0.50, 0.62, edge, 0.5};
        CHECK(bandMean(Spectrum::constant(0.37), band) == Approx(0.37).epsilon(1e-12));
        CHECK(bandMean(line, band) == Approx(5.6).epsilon(1e-12));
        CHECK(effectiveWavelength_um(Spectrum::constant(2.0), band) == Approx(0.56).epsilon(1e-12));
    }
}

TEST_CASE("the band mean of a spectrum with kinks agrees with Simpson's rule to the stated 1e-5") {
    for (const Band& band : {Band{"a", 0.45, 0.90, 0.0, 0.5}, Band{"b", 0.66, 0.74, 0.01, 0.5}, Band{"c", 0.50, 0.54, 0.005, 0.5},
                             Band{"d", 0.35, 0.95, 0.04, 0.5}}) {
        // Points of the band and of the spectrum fall on the nodes of this finer rule or cost it less than 1e-9.
        const auto response = [&](double w) { return band.responseAt(w); };
        const double first = band.first_um();
        const double last = band.last_um();
        const int steps = 400000;
        const double exact = integral(first, last, steps, [&](double w) { return response(w) * kinked.at(w); }) /
                             integral(first, last, steps, response);
        INFO(band.name);
        CHECK(bandMean(kinked, band) == Approx(exact).epsilon(1e-5));
    }
}

TEST_CASE("the band mean of a box over straight pieces is the area by hand") {
    // From 0.52 to 0.68 the line falls from 0.10 to 0.04 (mean 0.07), from 0.68 to 0.73 it rises to 0.45 (mean 0.245).
    const Band band{"box", 0.52, 0.73, 0.0, 0.5};
    CHECK(bandMean(kinked, band) == Approx((0.16 * 0.07 + 0.05 * 0.245) / 0.21).epsilon(1e-5));
}

TEST_CASE("light decides which part of the band counts") {
    const Spectrum step({{0.5, 0.0}, {0.5999, 0.0}, {0.6001, 1.0}, {0.7, 1.0}});
    const Band band{"b", 0.5, 0.7, 0.0, 0.5};
    CHECK(bandMean(step, band) == Approx(0.5).epsilon(1e-3));
    // Three times the light in the upper half: 3 of 4 parts.
    const Spectrum light({{0.5, 1.0}, {0.5999, 1.0}, {0.6001, 3.0}, {0.7, 3.0}});
    CHECK(bandMeanUnder(step, light, band) == Approx(0.75).epsilon(1e-3));
    CHECK(bandMeanUnder(step, Spectrum::constant(5.0), band) == Approx(bandMean(step, band)).epsilon(1e-14));
    CHECK(effectiveWavelength_um(light, band) == Approx((0.55 + 3.0 * 0.65) / 4.0).epsilon(1e-4));
}

TEST_CASE("a band without light falls back on its centre") {
    const Band band{"b", 0.5, 0.7, 0.0, 0.5};
    CHECK(bandMeanUnder(kinked, Spectrum::constant(0.0), band) == kinked.at(0.6));
    CHECK(effectiveWavelength_um(Spectrum::constant(0.0), band) == Approx(0.6));
}
