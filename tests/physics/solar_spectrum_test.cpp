#include "physics/solar_spectrum.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"

using namespace linefall;

namespace {

Band box(double from_um, double to_um) {
    Band band;
    band.from_um = from_um;
    band.to_um = to_um;
    return band;
}

/// Exact integral of a piecewise linear spectrum from its first to its last point, W m-2.
double total(const Spectrum& spectrum, double to_um) {
    double sum = 0.0;
    const auto& points = spectrum.points();
    for (std::size_t i = 1; i < points.size() && points[i].wavelength_um <= to_um; ++i) {
        sum += 0.5 * (points[i].value + points[i - 1].value) * (points[i].wavelength_um - points[i - 1].wavelength_um);
    }
    return sum;
}

}  // namespace

TEST_CASE("Band means of ASTM E490", "[sun][spectrum]") {
    // ASTM E490-00 as printed (optical.md, Radiometry): 0.3 % to 900 nm, then 2 % and 7 %.
    struct Row {
        double from_um, to_um, mean, tolerance;
    };
    const Row row = GENERATE(Row{0.45, 0.52, 1954.7, 0.003}, Row{0.52, 0.60, 1843.6, 0.003}, Row{0.63, 0.69, 1554.1, 0.003},
                             Row{0.76, 0.90, 1063.6, 0.003}, Row{1.55, 1.75, 228.1, 0.02}, Row{2.08, 2.35, 80.4, 0.07},
                             Row{0.51, 0.73, 1662.6, 0.003});
    CHECK(bandMean(solarSpectrumE490(), box(row.from_um, row.to_um)) == Approx(row.mean).epsilon(row.tolerance));
    CHECK(bandMean(solarSpectrum(), box(row.from_um, row.to_um)) ==
          Approx(row.mean * 1360.8 / 1366.1).epsilon(row.tolerance));
}

TEST_CASE("Points of the extraterrestrial spectrum", "[sun][spectrum]") {
    // ASTM G173, extraterrestrial column, W m-2 nm-1 (optical.md, Ground reflectance). Another spectrum than E490, at a
    // resolution that this one does not have: 5 %.
    struct Row {
        double wavelength_um, value;
    };
    const Row row = GENERATE(Row{0.45, 2.069}, Row{0.50, 1.916}, Row{0.55, 1.863}, Row{0.60, 1.770}, Row{0.65, 1.526},
                             Row{0.70, 1.422}, Row{0.80, 1.1248}, Row{0.85, 0.910}, Row{0.90, 0.9138}, Row{1.00, 0.7426});
    CHECK(solarSpectrumE490().at(row.wavelength_um) == Approx(1000.0 * row.value).epsilon(0.05));
}

TEST_CASE("The spectrum adds up to the sun's total", "[sun][spectrum]") {
    // Beyond 4 um a black body of 5772 K has 0.9 % of its light, and 0.2 % lies below 0.25 um (from memory): 98.9 % are left.
    CHECK(total(solarSpectrumE490(), 4.0) == Approx(0.989 * 1366.1).epsilon(0.01));
    CHECK(total(solarSpectrum(), 4.0) == Approx(0.989 * 1360.8).epsilon(0.01));
    // Kopp and Lean 2011: 1360.8 W m-2, +-0.5.
    CHECK(constants::total_solar_irradiance_W_m2 == Approx(1360.8).epsilon(0.0).margin(0.5));
}

TEST_CASE("The core's spectrum is E490 scaled by 1360.8 / 1366.1 everywhere", "[sun][spectrum]") {
    for (double wavelength = 0.2; wavelength < 4.5; wavelength += 0.013) {
        CHECK(solarSpectrum().at(wavelength) == Approx(solarSpectrumE490().at(wavelength) * (1360.8 / 1366.1)).epsilon(1e-12));
    }
    const auto& points = solarSpectrum().points();
    CHECK(points.front().wavelength_um <= 0.25);
    CHECK(points.back().wavelength_um >= 2.6);
    for (std::size_t i = 1; i < points.size(); ++i) CHECK(points[i].wavelength_um > points[i - 1].wavelength_um);
}

TEST_CASE("Beyond 2.6 um the sun is a black body of 5772 K", "[sun][spectrum]") {
    // Planck's law at 5772 K (IAU 2015 nominal effective temperature), the sun's nominal radius 695 700 km at 1 AU.
    const auto planck = [](double wavelength_um) {
        const double w = wavelength_um * 1e-6;
        const double c = constants::speed_of_light_m_s;
        const double radiance = 2.0 * constants::planck_J_s * c * c / std::pow(w, 5.0) /
                                std::expm1(constants::planck_J_s * c / (w * constants::boltzmann_J_K * 5772.0));
        return radiance * constants::pi * std::pow(6.957e8 / 149597870700.0, 2.0) * 1e-6;
    };
    for (const double wavelength : {3.0, 3.5, 4.0}) {
        CHECK(solarSpectrumE490().at(wavelength) == Approx(planck(wavelength)).epsilon(0.001));
    }
}

TEST_CASE("Radiance of a white level plate above the air", "[sun][spectrum]") {
    // optical.md, Radiometry: L = rho E cos z / pi with rho 1, z 0: 622.2, 586.8, 494.7, 338.6 W m-2 sr-1 um-1.
    struct Row {
        double from_um, to_um, radiance;
    };
    const Row row = GENERATE(Row{0.45, 0.52, 622.2}, Row{0.52, 0.60, 586.8}, Row{0.63, 0.69, 494.7}, Row{0.76, 0.90, 338.6});
    const double irradiance = bandMean(solarSpectrumE490(), box(row.from_um, row.to_um));
    CHECK(lambertRadiance(1.0, irradiance, 0.0) == Approx(row.radiance).epsilon(0.003));
    CHECK(lambertRadiance(0.3, irradiance, radiansFromDegrees(60.0)) == Approx(0.15 * row.radiance).epsilon(0.003));
    CHECK(lambertRadiance(1.0, irradiance, radiansFromDegrees(90.0)) == 0.0);
    CHECK(lambertRadiance(1.0, irradiance, radiansFromDegrees(120.0)) == 0.0);
}
