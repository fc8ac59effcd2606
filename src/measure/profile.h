#pragma once
// A profile: what the picture shows along a line drawn in it, beside the ground that lies under the line.

#include <optional>
#include <string>
#include <vector>

#include "measure/calibration.h"
#include "measure/picture_place.h"

namespace linefall {

/// One step along the line: the pixel that holds the place, and the ground.
struct ProfileSample {
    int sample = 0, line = 0;
    double along_pixels = 0.0;          ///< from the line's start, in the picture
    bool formed = false;                ///< the pixel's counts are up to date
    std::vector<double> values;         ///< one a band, in the profile's scale; not a number where there is none
    std::optional<Vec3> ground_m;       ///< kept ground point of the pixel; nothing for sky
    double distance_m = 0.0;            ///< on the map, from the first pixel's ground point to this one; not a number for sky
    // The straight line on the map from the first to the last ground point, at the same share of its length.
    double section_m = 0.0;             ///< distance from its start
    double terrain_m = 0.0;             ///< height of the terrain there, without things that stand on it
    double surface_m = 0.0;             ///< with those that stand still
};

struct Profile {
    Scale scale = Scale::counts;
    std::string unit;
    std::vector<std::string> bands;
    std::vector<ProfileSample> samples;
};

/// Steps of `step_pixels` (at least 0.1) from one place to the other; both ends are included.
[[nodiscard]] Profile profileAlong(const Formation& formation, const PicturePlace& from, const PicturePlace& to, Scale scale, double step_pixels = 1.0);

/// The profile as comma-separated text with a header; lengths in m, empty where there is no value. Lines end with \n.
[[nodiscard]] std::string csvText(const Profile& profile);

}  // namespace linefall
