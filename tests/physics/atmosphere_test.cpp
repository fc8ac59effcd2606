#include "physics/atmosphere.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "air_samples.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("Rayleigh optical depth of the published table", "[air]") {
    // Bodhaine et al. 1999, J. Atmos. Oceanic Technol. 16, eq. 30, 1013.25 hPa (optical.md, Air), 0.5 %.
    struct Row {
        double wavelength_um, depth;
    };
    const Row row = GENERATE(Row{0.40, 0.36021}, Row{0.45, 0.22111}, Row{0.48, 0.16951}, Row{0.50, 0.14335}, Row{0.55, 0.09707},
                             Row{0.60, 0.06809}, Row{0.66, 0.04623}, Row{0.70, 0.03642}, Row{0.85, 0.01662});
    CHECK(rayleighOpticalDepth(row.wavelength_um, 101325.0) == Approx(row.depth).epsilon(0.005));
    CHECK(rayleighOpticalDepth(row.wavelength_um, 50662.5) == Approx(0.5 * row.depth).epsilon(0.005));
}

TEST_CASE("Relative air mass of the published table", "[air]") {
    // Kasten and Young 1989, Appl. Opt. 28 (optical.md, Air).
    CHECK(relativeAirMass(0.0) == Approx(1.000).epsilon(0.0).margin(0.001));
    CHECK(relativeAirMass(radiansFromDegrees(80.0)) == Approx(5.586).epsilon(0.0).margin(0.001));
    CHECK(relativeAirMass(radiansFromDegrees(89.9)) == Approx(36.467).epsilon(0.0).margin(0.001));
    CHECK(relativeAirMass(0.0) == Approx(0.9997).epsilon(0.0).margin(0.00005));
    // Beyond the horizon the horizon's value is kept.
    const double horizon = relativeAirMass(0.25 * turn);
    CHECK(horizon == Approx(37.92).epsilon(0.0).margin(0.005));
    CHECK(relativeAirMass(radiansFromDegrees(95.0)) == horizon);
    CHECK(relativeAirMass(radiansFromDegrees(180.0)) == horizon);
    // The limit of a flat air: 1 / cos z.
    for (double z = 0.0; z < 60.0; z += 5.0) {
        CHECK(relativeAirMass(radiansFromDegrees(z)) == Approx(1.0 / std::cos(radiansFromDegrees(z))).epsilon(0.003));
    }
}

TEST_CASE("Angstrom's law", "[air]") {
    // optical.md, Air: depth 0.15 at 550 nm and 0.05 at 1240 nm give 1.35139, and 0.108281 at 700 nm.
    const double exponent = std::log(0.15 / 0.05) / std::log(1.240 / 0.550);
    CHECK(exponent == Approx(1.35139).epsilon(0.0).margin(5e-6));
    CHECK(aerosolOpticalDepth(1.240, 0.15, 1.35139) == Approx(0.05).epsilon(0.0).margin(5e-7));
    CHECK(aerosolOpticalDepth(0.700, 0.15, 1.35139) == Approx(0.108281).epsilon(0.0).margin(5e-7));
    CHECK(aerosolOpticalDepth(0.55, 0.15, 2.0) == 0.15);
}

TEST_CASE("Pressure of the standard atmosphere", "[air]") {
    // ICAO Doc 7488 (optical.md, Air), 0.1 %; the layers above 8 km from memory of the U.S. Standard Atmosphere 1976.
    struct Row {
        double height_m, pressure_Pa;
    };
    const Row row = GENERATE(Row{0.0, 101325.0}, Row{1000.0, 89874.6}, Row{8000.0, 35600.0}, Row{11000.0, 22632.0},
                             Row{20000.0, 5474.9}, Row{32000.0, 868.02}, Row{47000.0, 110.91}, Row{51000.0, 66.939},
                             Row{71000.0, 3.9564});
    CHECK(standardPressure_Pa(row.height_m) == Approx(row.pressure_Pa).epsilon(0.001));
}

TEST_CASE("The standard atmosphere has no steps and no bottom", "[air]") {
    double previous = standardPressure_Pa(-5001.0);
    for (double h = -5000.0; h < 120000.0; h += 1.0) {
        const double p = standardPressure_Pa(h);
        if (!(p < previous && p > 0.999 * previous)) FAIL("at " << h);
        previous = p;
    }
    CHECK(geopotentialHeight_m(0.0) == 0.0);
    // U.S. Standard Atmosphere 1976, from memory.
    CHECK(geopotentialHeight_m(11019.07) == Approx(11000.0).epsilon(0.0).margin(0.01));
    CHECK(standardPressure_Pa(geopotentialHeight_m(4e7)) < 1e-200);
}

TEST_CASE("Phase functions have mean 1 over the sphere and the right mean cosine", "[air]") {
    const double g = GENERATE(-0.95, -0.5, 0.0, 0.3, 0.65, 0.95);
    double rayleigh = 0.0, aerosol = 0.0, cosine_sum = 0.0;
    const int steps = 200'000;
    for (int i = 0; i < steps; ++i) {
        const double c = -1.0 + 2.0 * (i + 0.5) / steps;
        rayleigh += rayleighPhase(c) / steps;
        aerosol += henyeyGreensteinPhase(c, g) / steps;
        cosine_sum += c * henyeyGreensteinPhase(c, g) / steps;
    }
    CHECK(rayleigh == Approx(1.0).epsilon(1e-8));
    CHECK(aerosol == Approx(1.0).epsilon(1e-5));
    CHECK(cosine_sum == Approx(g).epsilon(0.0).margin(1e-5));
    CHECK(henyeyGreensteinPhase(0.3, 0.0) == 1.0);
    // Rayleigh: twice as much ahead and back as to the side.
    CHECK(rayleighPhase(1.0) == 2.0 * rayleighPhase(0.0));
    CHECK(rayleighPhase(-1.0) == rayleighPhase(1.0));
}

TEST_CASE("Direct transmittance of the reference spectrum", "[air]") {
    // ASTM G173-03, air mass 1.5, molecules and aerosol (optical.md, Air; aerosol 0.084 at 500 nm with exponent 1.14 below
    // and 1.4 above, from memory), 1 %.
    struct Row {
        double wavelength_um, transmittance;
    };
    const Row row = GENERATE(Row{0.400, 0.4974}, Row{0.443, 0.6066}, Row{0.778, 0.8951}, Row{0.865, 0.9192}, Row{1.040, 0.9396});
    AirSettings settings = airKeys().defaults();
    settings.angstrom = row.wavelength_um < 0.5 ? 1.14 : 1.4;
    settings.aerosol_depth = 0.084 * std::pow(0.55 / 0.50, -settings.angstrom);
    Band band;
    band.from_um = row.wavelength_um - 0.0005;
    band.to_um = row.wavelength_um + 0.0005;
    // Zenith angle of air mass 1.5, by halving.
    double low = 0.0, high = 0.25 * turn;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (relativeAirMass(middle) < 1.5 ? low : high) = middle;
    }
    const Air air(settings, solarSpectrum(), {band}, low);
    CHECK(air.sunAirMass() == Approx(1.5).epsilon(1e-12));
    CHECK(down(air, 0.0).beam == Approx(row.transmittance).epsilon(0.01));
}

TEST_CASE("Depths are averaged over the band under the sun", "[air]") {
    Band band;
    band.from_um = 0.45;
    band.to_um = 0.52;
    band.edge_um = 0.02;
    const Air air(airKeys().defaults(), solarSpectrum(), {band, at550().front()}, 0.5);
    double weight = 0.0, rayleigh = 0.0, aerosol = 0.0, wavelength = 0.0;
    for (double w = 0.43; w < 0.54; w += 1e-5) {
        const double share = band.responseAt(w) * solarSpectrum().at(w);
        weight += share;
        rayleigh += share * rayleighOpticalDepth(w, 101325.0);
        aerosol += share * aerosolOpticalDepth(w, 0.10, 1.3);
        wavelength += share * w;
    }
    CHECK(air.bands() == 2);
    CHECK(air.rayleighDepth(0) == Approx(rayleigh / weight).epsilon(1e-5));
    CHECK(air.aerosolDepth(0) == Approx(aerosol / weight).epsilon(1e-5));
    CHECK(air.effectiveWavelength_um(0) == Approx(wavelength / weight).epsilon(1e-5));
    CHECK(air.opticalDepth(0) == air.rayleighDepth(0) + air.aerosolDepth(0));
    CHECK(air.rayleighDepth(1) == Approx(0.09707).epsilon(0.005));
    CHECK(air.aerosolDepth(1) == Approx(0.10).epsilon(1e-6));
    CHECK_THROWS_AS(air.opticalDepth(2), std::out_of_range);
}

TEST_CASE("Beam and sky against direct sums, at and between the nodes of the tables", "[air]") {
    // The route of the class: tables, a Gauss rule, elliptic integrals. This route: formulae, a midpoint sum over the sky.
    const double scale_m = GENERATE(500.0, 2000.0, 20000.0);
    AirSettings settings = airKeys().defaults();
    settings.aerosol_height_m = scale_m;
    settings.aerosol_depth = 0.3;
    const double sun_zenith_deg = 50.0;
    const Air air = airAt(settings, sun_zenith_deg);
    const Vec3 sun = direction(radiansFromDegrees(sun_zenith_deg), 1.0);
    const double m0 = relativeAirMass(radiansFromDegrees(sun_zenith_deg));
    for (const double height_m : {-500.0, -487.5, 0.0, 12.5, 37.0, 1012.5, 4321.0, 8987.5, 9000.0, 9000.1, 20000.0}) {
        const double rayleigh = air.rayleighDepth(0) * standardPressure_Pa(geopotentialHeight_m(height_m)) / 101325.0;
        const double aerosol = air.aerosolDepth(0) * std::exp(-height_m / scale_m);
        const double depth = rayleigh + aerosol;
        const Down got = down(air, height_m);
        INFO("height " << height_m << " m, scale height " << scale_m << " m");
        CHECK(-std::log(got.beam) == Approx(m0 * depth).epsilon(1e-5));
        const double sky = hemisphere([&](double zenith, double azimuth) {
            const double c = glm::dot(direction(zenith, azimuth), sun);
            const double m = relativeAirMass(zenith);
            const double phase = rayleigh * rayleighPhase(c) + 0.95 * aerosol * henyeyGreensteinPhase(c, 0.65);
            return phase / (2.0 * turn) * m * (std::exp(-m0 * depth) - std::exp(-m * depth)) / ((m - m0) * depth);
        });
        CHECK(got.sky == Approx(sky).epsilon(3e-5));
    }
}

TEST_CASE("The error of the tables is as stated", "[air]") {
    // For aerosol alone, the sky at a height equals the sky at the datum of an air that has there what this one has above
    // that height; the datum lies on a node of the tables, where nothing is interpolated.
    AirSettings settings = aerosolOnly(2.0);
    settings.aerosol_height_m = GENERATE(500.0, 2000.0);
    const Air air = airAt(settings, 60.0);
    double worst_depth = 0.0, worst_sky = 0.0;
    for (double h = 0.0; h < 3000.0; h += 17.3) {
        AirSettings above = settings;
        above.aerosol_depth = 2.0 * std::exp(-h / settings.aerosol_height_m);
        const Air same = airAt(above, 60.0);
        const Down got = down(air, h);
        worst_depth = std::fmax(worst_depth, std::abs(std::log(got.beam) / std::log(down(same, 0.0).beam) - 1.0));
        worst_sky = std::fmax(worst_sky, std::abs(got.sky / down(same, 0.0).sky - 1.0));
    }
    INFO("worst relative error of depth " << worst_depth << ", of sky " << worst_sky);
    CHECK(worst_depth < 1e-5);
    CHECK(worst_sky < 1e-5);
    CHECK(worst_sky > 0.0);
}

TEST_CASE("The sky's irradiance is the sum of its radiances, and its quadrature has converged", "[air]") {
    struct Row {
        double sun_zenith_deg, asymmetry;
        int azimuths;
    };
    const Row row = GENERATE(Row{0.0, 0.65, 400}, Row{30.0, 0.0, 400}, Row{60.0, 0.65, 400}, Row{85.0, -0.5, 400},
                             Row{40.0, 0.9, 2000}, Row{89.0, 0.8, 1000});
    AirSettings settings = airKeys().defaults();
    settings.asymmetry = row.asymmetry;
    settings.aerosol_depth = 0.4;
    const Air air = airAt(settings, row.sun_zenith_deg);
    const Vec3 sun = direction(radiansFromDegrees(row.sun_zenith_deg), 2.0);
    const double height_m = 250.0;
    const double sky = hemisphere(
        [&](double zenith, double azimuth) { return air.skyRadiance(0, height_m, direction(zenith, azimuth), sun); },
        row.azimuths, row.azimuths);
    INFO("sun " << row.sun_zenith_deg << " deg, g " << row.asymmetry);
    CHECK(down(air, height_m).sky == Approx(sky).epsilon(1e-4));
}
