// The air over spans of samples: down to the ground, up to the sensor, and in one direction of the sky.

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "base/dispatch.h"
#include "physics/atmosphere.h"
#include "physics/atmosphere_tables.h"

namespace linefall {

namespace {


/// Cells of the tables and places in them; heights beyond the tables, and those that are no number, get the first cell.
LINEFALL_VECTORISED
void findCells(const double* __restrict height, std::size_t count, std::int32_t* __restrict cell, double* __restrict in_cell) {
    for (std::size_t i = 0; i < count; ++i) {
        const double inside = inAirTable(height[i]) ? height[i] : air_table_from_m;
        const double at = (inside - air_table_from_m) * (1.0 / air_table_step_m);
        const std::int32_t index = static_cast<std::int32_t>(at);
        cell[i] = index < air_table_cells - 1 ? index : air_table_cells - 1;
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
        if (!inAirTable(ground_height_m[i])) out.beyond.push_back(i);
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
    const double light = sun_is_up_ ? std::exp(-sun_air_mass_ * (sensor.rayleigh + sensor.aerosol)) / (4.0 * constants::pi) : 0.0;
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
    return mass * scattered / (4.0 * constants::pi) * std::exp(-std::min(mass, sun_air_mass_) * depth) *
           meanAttenuation(std::abs(mass - sun_air_mass_) * depth);
}

}  // namespace linefall
