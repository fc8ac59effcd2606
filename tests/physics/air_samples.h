#pragma once
// What the tests of the air share: settings with one kind of scatterer, single samples, sums over the sky.

#include <cmath>
#include <vector>

#include "base/angle.h"
#include "physics/atmosphere.h"
#include "physics/solar_spectrum.h"

namespace linefall::test {

inline constexpr double turn = 2.0 * constants::pi;

/// A band so narrow that it is one wavelength.
inline std::vector<Band> at550() {
    Band band;
    band.name = "green";
    band.from_um = 0.5499999;
    band.to_um = 0.5500001;
    return {band};
}

inline AirSettings aerosolOnly(double depth, double asymmetry = 0.65) {
    AirSettings s = airKeys().defaults();
    s.pressure_Pa = 0.0;
    s.aerosol_depth = depth;
    s.asymmetry = asymmetry;
    s.aerosol_albedo = 1.0;
    return s;
}

inline AirSettings moleculesOnly(double pressure_Pa = 101325.0) {
    AirSettings s = airKeys().defaults();
    s.pressure_Pa = pressure_Pa;
    s.aerosol_depth = 0.0;
    return s;
}

/// The air with the sun at a zenith angle, for one band at 550 nm.
inline Air airAt(const AirSettings& settings, double sun_zenith_deg) {
    return Air(settings, solarSpectrum(), at550(), radiansFromDegrees(sun_zenith_deg));
}

struct Down {
    double beam, sky;
};
inline Down down(const Air& air, double height_m, int band = 0) {
    Down out{};
    air.down(band, {&height_m, 1}, {&out.beam, 1}, {&out.sky, 1});
    return out;
}

struct Up {
    double through, haze;
};
inline Up up(const Air& air, double sensor_m, double ground_m, double air_mass, double cosine, int band = 0) {
    Up out{};
    air.up(band, sensor_m, {&ground_m, 1}, {&air_mass, 1}, {&cosine, 1}, {&out.through, 1}, {&out.haze, 1});
    return out;
}

inline Vec3 direction(double zenith_rad, double azimuth_rad) {
    return {std::sin(zenith_rad) * std::sin(azimuth_rad), std::sin(zenith_rad) * std::cos(azimuth_rad), std::cos(zenith_rad)};
}

/// Integral over the upper hemisphere of f(zenith, azimuth) weight(zenith), midpoint rule.
template <class F, class Weight>
double hemisphere(const F& f, int zeniths, int azimuths, const Weight& weight) {
    double sum = 0.0;
    for (int i = 0; i < zeniths; ++i) {
        const double zenith = (i + 0.5) * 0.25 * turn / zeniths;
        double ring = 0.0;
        for (int j = 0; j < azimuths; ++j) ring += f(zenith, (j + 0.5) * turn / azimuths);
        sum += ring * weight(zenith) * std::sin(zenith);
    }
    return sum * (0.25 * turn / zeniths) * (turn / azimuths);
}
/// The same with the weight cos z: irradiance of a level plane.
template <class F>
double hemisphere(const F& f, int zeniths = 400, int azimuths = 400) {
    return hemisphere(f, zeniths, azimuths, [](double zenith) { return std::cos(zenith); });
}

/// Radiance that leaves the air upwards, seen by a sensor above it over ground at the datum, per normal irradiance.
inline auto upwards(const Air& air, double sun_zenith_deg) {
    return [&air, sun = direction(radiansFromDegrees(sun_zenith_deg), 0.0)](double zenith, double azimuth) {
        return up(air, 4e7, 0.0, relativeAirMass(zenith), -glm::dot(sun, direction(zenith, azimuth))).haze;
    };
}
/// Radiance that reaches the datum from above.
inline auto downwards(const Air& air, double sun_zenith_deg) {
    return [&air, sun = direction(radiansFromDegrees(sun_zenith_deg), 0.0)](double zenith, double azimuth) {
        return air.skyRadiance(0, 0.0, direction(zenith, azimuth), sun);
    };
}

}  // namespace linefall::test
