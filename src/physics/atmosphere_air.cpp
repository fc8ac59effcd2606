// The air of one sun and one set of bands: tables over height, then spans of samples.

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "base/constants.h"
#include "base/dispatch.h"
#include "base/fast_exp.h"
#include "physics/atmosphere.h"

namespace linefall {

namespace {

constexpr double pi = constants::pi;
constexpr double table_from_m = -500.0;
constexpr double table_step_m = 25.0;
constexpr int table_cells = 380;  // up to 9000 m
constexpr double table_to_m = table_from_m + table_cells * table_step_m;

/// (1 - e^-y) / y, 1 at y = 0. The tiny number leaves every other y as it is and makes the quotient 1 there, without a choice
/// that would keep loops from being vectorised.
inline double meanAttenuation(double y) {
    const double held = y + 1e-300;
    return -fastExpm1(-held) / held;
}

/// p(h) / p(0) of the standard atmosphere.
double pressureShare(double height_m) {
    return standardPressure_Pa(geopotentialHeight_m(height_m)) / constants::standard_pressure_Pa;
}

/// A cubic in every cell through the two nodes of the cell and the two beside them. `value(h)` is asked once a node.
template <class Value>
std::vector<std::array<double, 4>> cubicTable(const Value& value) {
    std::vector<double> nodes(table_cells + 3);
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        nodes[i] = value(table_from_m + (static_cast<double>(i) - 1.0) * table_step_m);
    }
    std::vector<std::array<double, 4>> out(table_cells);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double before = nodes[i], left = nodes[i + 1], right = nodes[i + 2], after = nodes[i + 3];
        out[i] = {left, -before / 3.0 - left / 2.0 + right - after / 6.0, before / 2.0 - left + right / 2.0,
                  (after - before) / 6.0 + (left - right) / 2.0};
    }
    return out;
}

inline double cubicAt(const std::array<double, 4>& c, double u) { return c[0] + u * (c[1] + u * (c[2] + u * c[3])); }

/// Where a height lies in the tables.
struct Cell {
    std::size_t index;
    double u;
};
inline bool inTable(double height_m) { return height_m >= table_from_m && height_m <= table_to_m; }
inline Cell cellOf(double height_m) {
    const double at = (height_m - table_from_m) * (1.0 / table_step_m);
    const int index = std::min(static_cast<int>(at), table_cells - 1);
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
    if (!inTable(height_m)) return {pressureShare(height_m), std::exp(-height_m / settings_.aerosol_height_m)};
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

namespace {

/// Cells of the tables and places in them; heights beyond the tables, and those that are no number, get the first cell.
LINEFALL_VECTORISED
void findCells(const double* __restrict height, std::size_t count, std::int32_t* __restrict cell, double* __restrict in_cell) {
    for (std::size_t i = 0; i < count; ++i) {
        const double inside = inTable(height[i]) ? height[i] : table_from_m;
        const double at = (inside - table_from_m) * (1.0 / table_step_m);
        const std::int32_t index = static_cast<std::int32_t>(at);
        cell[i] = index < table_cells - 1 ? index : table_cells - 1;
        in_cell[i] = at - cell[i];
    }
}

LINEFALL_VECTORISED
void findPhases(const double* __restrict cosine, std::size_t count, double g, double* __restrict rayleigh, double* __restrict aerosol) {
    for (std::size_t i = 0; i < count; ++i) {
        const double d = 1.0 + g * g - 2.0 * g * cosine[i];
        rayleigh[i] = 0.75 * (1.0 + cosine[i] * cosine[i]);
        aerosol[i] = 1.0 / (d * std::sqrt(d));
    }
}

/// out = exp(rayleigh factor x share of the molecules + aerosol factor x share of the aerosol).
LINEFALL_VECTORISED
void alongBeam(const double* __restrict rayleigh, const double* __restrict aerosol, double rayleigh_factor, double aerosol_factor,
               std::size_t count, double* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) out[i] = fastExp(rayleigh_factor * rayleigh[i] + aerosol_factor * aerosol[i]);
}

/// One band's air between ground and sensor.
struct ViewLayer {
    double rayleigh, aerosol;                // depths above datum
    double rayleigh_sensor, aerosol_sensor;  // depths above the sensor
    double rayleigh_light, aerosol_light;    // light scattered per depth and phase, sr-1
    double sun_mass;
};

/// Transmission and haze of `Air::up`.
LINEFALL_VECTORISED
void alongView(const double* __restrict rayleigh_share, const double* __restrict aerosol_share, const double* __restrict mass,
               const double* __restrict rayleigh_phase, const double* __restrict aerosol_phase, const ViewLayer& layer,
               std::size_t count, double* __restrict through, double* __restrict haze) {
    const ViewLayer l = layer;
    for (std::size_t i = 0; i < count; ++i) {
        // Depths of the layer between ground and sensor, positive when the sensor is above.
        const double rayleigh = l.rayleigh * rayleigh_share[i] - l.rayleigh_sensor;
        const double aerosol = l.aerosol * aerosol_share[i] - l.aerosol_sensor;
        const double depth = rayleigh + aerosol;
        const double m = std::copysign(mass[i], depth);  // m * depth never is negative
        through[i] = fastExp(-(m * depth));
        haze[i] = m * (rayleigh * (l.rayleigh_light * rayleigh_phase[i]) + aerosol * (l.aerosol_light * aerosol_phase[i])) *
                  meanAttenuation((m + l.sun_mass) * depth);
    }
}

/// For callers that ask for one band alone.
AirColumns& scratch() {
    thread_local AirColumns columns;
    return columns;
}

}  // namespace

void Air::lookUp(std::span<const double> ground_height_m, AirColumns& out) const {
    const std::size_t count = ground_height_m.size();
    for (std::vector<double>* v : {&out.rayleigh, &out.aerosol, &out.in_cell}) v->resize(count);
    out.cell.resize(count);
    out.beyond.clear();
    findCells(ground_height_m.data(), count, out.cell.data(), out.in_cell.data());
    for (std::size_t i = 0; i < count; ++i) {
        const Layer& layer = layers_[static_cast<std::size_t>(out.cell[i])];
        out.rayleigh[i] = cubicAt(layer.pressure, out.in_cell[i]);
        out.aerosol[i] = cubicAt(layer.aerosol, out.in_cell[i]);
        if (!inTable(ground_height_m[i])) out.beyond.push_back(i);
    }
    for (const std::size_t i : out.beyond) {
        const Depths shares = sharesAbove(ground_height_m[i]);
        out.rayleigh[i] = shares.rayleigh;
        out.aerosol[i] = shares.aerosol;
    }
}

void Air::lookUp(std::span<const double> ground_height_m, std::span<const double> view_air_mass,
                 std::span<const double> scattering_cosine, AirColumns& out) const {
    lookUp(ground_height_m, out);
    out.air_mass.assign(view_air_mass.begin(), view_air_mass.end());
    out.rayleigh_phase.resize(out.size());
    out.aerosol_phase.resize(out.size());
    findPhases(scattering_cosine.data(), out.size(), settings_.asymmetry, out.rayleigh_phase.data(), out.aerosol_phase.data());
}

void Air::down(int band, std::span<const double> ground_height_m, std::span<double> beam_transmission,
               std::span<double> sky_share) const {
    lookUp(ground_height_m, scratch());
    down(band, scratch(), beam_transmission, sky_share);
}

void Air::down(int band, const AirColumns& columns, std::span<double> beam_transmission, std::span<double> sky_share) const {
    const OfBand& b = of(band);
    const std::size_t count = columns.size();
    if (!settings_.on || !sun_is_up_) {
        std::fill_n(beam_transmission.begin(), count, sun_is_up_ ? 1.0 : 0.0);
        std::fill_n(sky_share.begin(), count, 0.0);
        return;
    }
    alongBeam(columns.rayleigh.data(), columns.aerosol.data(), -sun_air_mass_ * b.rayleigh, -sun_air_mass_ * b.aerosol, count,
              beam_transmission.data());
    const Cubic* __restrict table = b.sky.data();
    const std::int32_t* __restrict cell = columns.cell.data();
    const double* __restrict in_cell = columns.in_cell.data();
    double* __restrict sky = sky_share.data();
    for (std::size_t i = 0; i < count; ++i) sky[i] = cubicAt(table[cell[i]], in_cell[i]);
    for (const std::size_t i : columns.beyond) {
        sky_share[i] = skyShare({b.rayleigh * columns.rayleigh[i], b.aerosol * columns.aerosol[i]});
    }
}

void Air::up(int band, double sensor_height_m, std::span<const double> ground_height_m, std::span<const double> view_air_mass,
             std::span<const double> scattering_cosine, std::span<double> transmission,
             std::span<double> path_radiance_per_irradiance) const {
    lookUp(ground_height_m, view_air_mass, scattering_cosine, scratch());
    up(band, sensor_height_m, scratch(), transmission, path_radiance_per_irradiance);
}

void Air::up(int band, double sensor_height_m, const AirColumns& columns, std::span<double> transmission,
             std::span<double> path_radiance_per_irradiance) const {
    const OfBand& b = of(band);
    const std::size_t count = columns.size();
    if (!settings_.on) {
        std::fill_n(transmission.begin(), count, 1.0);
        std::fill_n(path_radiance_per_irradiance.begin(), count, 0.0);
        return;
    }
    const Depths sensor = depthsAbove(b, sensor_height_m);
    const double light = sun_is_up_ ? std::exp(-sun_air_mass_ * (sensor.rayleigh + sensor.aerosol)) / (4.0 * pi) : 0.0;
    const double g = settings_.asymmetry;
    const ViewLayer layer{b.rayleigh, b.aerosol, sensor.rayleigh, sensor.aerosol, light,
                          light * settings_.aerosol_albedo * (1.0 - g * g), sun_air_mass_};
    alongView(columns.rayleigh.data(), columns.aerosol.data(), columns.air_mass.data(), columns.rayleigh_phase.data(),
              columns.aerosol_phase.data(), layer, count, transmission.data(), path_radiance_per_irradiance.data());
}

double Air::skyRadiance(int band, double height_m, const Vec3& view_direction, const Vec3& sun_direction) const {
    if (!settings_.on || !sun_is_up_) return 0.0;
    const Depths above = depthsAbove(of(band), height_m);
    const double depth = above.rayleigh + above.aerosol;
    const double mass = relativeAirMass(std::acos(std::clamp(view_direction.z, 0.0, 1.0)));
    Vec3 seen = view_direction;
    if (seen.z < 0.0) {
        const double level = std::hypot(seen.x, seen.y);
        seen = level > 0.0 ? Vec3{seen.x / level, seen.y / level, 0.0} : Vec3{1.0, 0.0, 0.0};
    }
    // Light travels from the sun and from the piece of sky to the eye: the scattering angle is the angle between them.
    const double cosine = std::clamp(glm::dot(seen, sun_direction), -1.0, 1.0);
    const double scattered = above.rayleigh * rayleighPhase(cosine) +
                             settings_.aerosol_albedo * above.aerosol * henyeyGreensteinPhase(cosine, settings_.asymmetry);
    return mass * scattered / (4.0 * pi) * std::exp(-std::min(mass, sun_air_mass_) * depth) *
           meanAttenuation(std::abs(mass - sun_air_mass_) * depth);
}

}  // namespace linefall
