// The air of one sun and one set of bands: tables over height, and the light of the whole sky.

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "base/constants.h"
#include "base/fast_exp.h"
#include "physics/atmosphere.h"
#include "physics/atmosphere_tables.h"

namespace linefall {

namespace {

constexpr double pi = constants::pi;

/// p(h) / p(0) of the standard atmosphere.
double pressureShare(double height_m) {
    return standardPressure_Pa(geopotentialHeight_m(height_m)) / constants::standard_pressure_Pa;
}

/// A cubic in every cell through the two nodes of the cell and the two beside them. `value(h)` is asked once a node.
template <class Value>
std::vector<std::array<double, 4>> cubicTable(const Value& value) {
    std::vector<double> nodes(air_table_cells + 3);
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        nodes[i] = value(air_table_from_m + (static_cast<double>(i) - 1.0) * air_table_step_m);
    }
    std::vector<std::array<double, 4>> out(air_table_cells);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double before = nodes[i], left = nodes[i + 1], right = nodes[i + 2], after = nodes[i + 3];
        out[i] = {left, -before / 3.0 - left / 2.0 + right - after / 6.0, before / 2.0 - left + right / 2.0,
                  (after - before) / 6.0 + (left - right) / 2.0};
    }
    return out;
}

/// Where a height lies in the tables.
struct Cell {
    std::size_t index;
    double u;
};
Cell cellOf(double height_m) {
    const double at = (height_m - air_table_from_m) * (1.0 / air_table_step_m);
    const int index = std::min(static_cast<int>(at), air_table_cells - 1);
    return {static_cast<std::size_t>(index), at - index};
}

/// Nodes and weights of the Gauss-Legendre rule with n points on [-1, 1], by Newton's method on the Legendre polynomial.
std::vector<std::array<double, 2>> gaussLegendre(int n) {
    std::vector<std::array<double, 2>> out;
    for (int i = 0; i < n; ++i) {
        double x = std::cos(pi * (i + 0.75) / (n + 0.5));
        double slope = 1.0;
        for (int step = 0; step < 8; ++step) {
            double previous = 1.0, current = x;
            for (int k = 2; k <= n; ++k) {
                const double next = ((2 * k - 1) * x * current - (k - 1) * previous) / k;
                previous = current;
                current = next;
            }
            slope = n * (x * current - previous) / (x * x - 1.0);
            x -= current / slope;
        }
        out.push_back({x, 2.0 / ((1.0 - x * x) * slope * slope)});
    }
    return out;
}

/// Complete elliptic integral of the second kind, parameter m = k^2 < 1, by the arithmetic-geometric mean
/// (Abramowitz and Stegun 17.6).
double completeEllipticE(double m) {
    double a = 1.0, b = std::sqrt(1.0 - m), sum = 0.5 * m, power = 0.5;
    while (a - b > 1e-15 * a) {
        const double c = 0.5 * (a - b);
        const double mean = 0.5 * (a + b);
        b = std::sqrt(a * b);
        a = mean;
        power *= 2.0;
        sum += power * c * c;
    }
    return pi / (2.0 * a) * (1.0 - sum);
}

/// Mean of the Henyey-Greenstein phase function over azimuth, for sun and view at the given zenith angles: with
/// a = 1 + g^2 - 2 g cos cos and b = 2 |g| sin sin, the mean of (1 - g^2) (a - b cos)^(-3/2) is
/// (1 - g^2) 2 E(2b / (a + b)) / (pi (a - b) sqrt(a + b)).
double meanHenyeyGreenstein(double sun_zenith_rad, double view_zenith_rad, double g) {
    const double a = 1.0 + g * g - 2.0 * g * std::cos(sun_zenith_rad) * std::cos(view_zenith_rad);
    const double b = 2.0 * std::abs(g) * std::sin(sun_zenith_rad) * std::sin(view_zenith_rad);
    return (1.0 - g * g) * 2.0 * completeEllipticE(2.0 * b / (a + b)) / (pi * (a - b) * std::sqrt(a + b));
}

/// Throws when a value is not a number in its declared range.
void check(const AirSettings& s) {
    const std::array<std::pair<const char*, double>, 6> values{{{"air.aerosol_depth", s.aerosol_depth},
                                                                {"air.angstrom", s.angstrom},
                                                                {"air.asymmetry", s.asymmetry},
                                                                {"air.aerosol_height", s.aerosol_height_m},
                                                                {"air.aerosol_albedo", s.aerosol_albedo},
                                                                {"air.pressure", s.pressure_Pa}}};
    for (const auto& value : values) {
        for (const Parameter& row : airKeys().rows()) {
            const bool fits = value.second >= row.least && value.second <= row.most;
            if (row.key == value.first && !fits) throw std::invalid_argument(row.key + " is out of its range, " + rangeText(row));
        }
    }
}

}  // namespace

Air::Air(const AirSettings& settings, const Spectrum& sun_spectrum, const std::vector<Band>& bands, double sun_zenith_rad)
    : settings_(settings) {
    check(settings);
    if (!std::isfinite(sun_zenith_rad)) throw std::invalid_argument("the sun's zenith angle is not finite");
    const double zenith = std::abs(sun_zenith_rad);
    sun_air_mass_ = relativeAirMass(zenith);
    sun_is_up_ = zenith < 0.5 * pi;
    const auto pressure = cubicTable(pressureShare);
    const auto aerosol_share = cubicTable([&](double height_m) { return std::exp(-height_m / settings.aerosol_height_m); });
    for (std::size_t i = 0; i < pressure.size(); ++i) layers_.push_back({pressure[i], aerosol_share[i]});
    buildSkyDirections(zenith);

    for (const Band& band : bands) {
        // Smooth quantities as spectra with points much closer than the band is wide.
        constexpr int steps = 256;
        std::vector<Spectrum::Point> rayleigh, aerosol;
        const double first = band.first_um();
        const double width = std::max(band.last_um() - first, 1e-9);
        for (int i = 0; i <= steps; ++i) {
            const double wavelength = first + width * i / steps;
            rayleigh.push_back({wavelength, rayleighOpticalDepth(wavelength, settings.pressure_Pa)});
            aerosol.push_back({wavelength, aerosolOpticalDepth(wavelength, settings.aerosol_depth, settings.angstrom)});
        }
        OfBand out;
        out.rayleigh = bandMeanUnder(Spectrum(std::move(rayleigh)), sun_spectrum, band);
        out.aerosol = bandMeanUnder(Spectrum(std::move(aerosol)), sun_spectrum, band);
        out.wavelength_um = linefall::effectiveWavelength_um(sun_spectrum, band);
        out.sky = cubicTable([&](double height_m) { return skyShare(depthsAbove(out, height_m)); });
        bands_.push_back(std::move(out));
    }
}

Air::Depths Air::sharesAbove(double height_m) const {
    if (!inAirTable(height_m)) return {pressureShare(height_m), std::exp(-height_m / settings_.aerosol_height_m)};
    const Cell cell = cellOf(height_m);
    const Layer& layer = layers_[cell.index];
    return {cubicAt(layer.pressure, cell.u), cubicAt(layer.aerosol, cell.u)};
}

Air::Depths Air::depthsAbove(const OfBand& band, double height_m) const {
    const Depths shares = sharesAbove(height_m);
    return {band.rayleigh * shares.rayleigh, band.aerosol * shares.aerosol};
}

void Air::buildSkyDirections(double sun_zenith_rad) {
    // Radiance of the sky in a direction is air mass x phase / (4 pi) x ...; level ground sees it times cos z dw =
    // cos z sin z 2 pi dz once the phase is averaged over azimuth. The panels meet at the sun's zenith angle, where the
    // phase function is sharpest and the nodes lie closest.
    constexpr int nodes = 32;
    const auto rule = gaussLegendre(nodes);
    const double horizon = 0.5 * pi;
    const double sun = std::min(sun_zenith_rad, horizon);
    for (const auto& [from, to] : {std::pair{0.0, sun}, std::pair{sun, horizon}}) {
        if (!(to - from > 1e-9)) continue;
        for (const auto& node : rule) {
            const double zenith = 0.5 * (from + to) + 0.5 * (to - from) * node[0];
            const double weight = 0.5 * (to - from) * node[1] * 2.0 * pi * std::cos(zenith) * std::sin(zenith);
            const double mass = relativeAirMass(zenith);
            const double along = std::cos(sun) * std::cos(zenith);
            const double across = std::sin(sun) * std::sin(zenith);
            const double rayleigh = 0.75 * (1.0 + along * along + 0.5 * across * across);
            const double aerosol = settings_.aerosol_albedo * meanHenyeyGreenstein(sun, zenith, settings_.asymmetry);
            const double scale = weight * mass / (4.0 * pi);
            directions_.push_back({mass, scale * rayleigh, scale * aerosol});
        }
    }
}

double Air::skyShare(const Depths& above) const {
    // Light scattered once on its way down through depth t: the integral of exp(-m0 s) exp(-m (t - s)) ds over 0..t is
    // t exp(-min(m, m0) t) (1 - exp(-y)) / y with y = |m - m0| t.
    const double depth = above.rayleigh + above.aerosol;
    double sum = 0.0;
    for (const SkyDirection& d : directions_) {
        const double slow = std::min(d.air_mass, sun_air_mass_);
        const double y = std::abs(d.air_mass - sun_air_mass_) * depth;
        const double scattered = above.rayleigh * d.rayleigh_weight + above.aerosol * d.aerosol_weight;
        sum += scattered * fastExp(-slow * depth) * meanAttenuation(y);
    }
    return sum;
}

}  // namespace linefall
