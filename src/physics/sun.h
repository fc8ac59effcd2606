#pragma once
// Stage 1, sun: how much light arrives above the air, and from where?

#include <optional>
#include <string>
#include <vector>

#include "base/parameter.h"
#include "base/spectrum.h"
#include "base/vectors.h"

namespace linefall {

struct SunSettings {
    double azimuth_rad, elevation_rad;
    std::string time;  ///< RFC 3339, or empty: azimuth and elevation hold
    bool moves, disc;
    std::optional<double> distance_au;
};

[[nodiscard]] const Keys<SunSettings>& sunKeys();

/// The place on Earth that a date and time need.
struct SunSite {
    double latitude_rad = 0.0;
    double longitude_rad = 0.0;
    double altitude_m = 0.0;
};

/// Sunlight above the air at one instant.
struct Sunlight {
    Vec3 towards{0.0, 0.0, 1.0};  ///< unit vector to the sun, world frame
    double azimuth_rad = 0.0;     ///< clockwise from north
    double elevation_rad = 0.0;   ///< of the disc's centre, refracted
    double distance_au = 1.0;
    /// Mean spectral irradiance of each band on a surface that faces the sun, W m-2 um-1:
    /// the band mean of the solar spectrum at 1 au divided by the square of the distance in au.
    std::vector<double> irradiance_W_m2_um;

    [[nodiscard]] double zenith_rad() const;
    [[nodiscard]] bool up() const { return elevation_rad > 0.0; }
};

/// The sunlight of the settings; `seconds` after `sun.time` when the sun moves. Throws InputError for an unreadable time.
[[nodiscard]] Sunlight sunlight(const SunSettings& settings, const SunSite& site, const std::vector<Band>& bands,
                                double seconds = 0.0);

/// Directions to points spread over the sun's disc, for soft shadow edges; one direction when the disc is a point.
[[nodiscard]] std::vector<Vec3> sunDirections(const Sunlight& sun, bool disc);

}  // namespace linefall
