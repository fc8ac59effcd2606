#include "instruments/focal_plane.h"

#include <algorithm>
#include <cmath>

namespace linefall {

void solveFocalPlane(const FocalPlaneSettings& s, double standard_focal_length_m, double standard_pitch_m,
                     int standard_samples, Derived& d, Problems& problems) {
    d.detector_pitch_m = s.detector_pitch_m.value_or(standard_pitch_m);
    d.focal_length_m = s.ifov_rad ? d.detector_pitch_m / *s.ifov_rad : s.focal_length_m.value_or(standard_focal_length_m);
    if (s.fov_rad) {
        const double wanted = 2.0 * d.focal_length_m * std::tan(0.5 * *s.fov_rad) / d.detector_pitch_m;
        d.samples = static_cast<int>(std::clamp(std::round(wanted), 0.0, 1e9));
        if (d.samples < 1 || d.samples > 65536) {
            problems.push_back({{"instrument", 0, 0}, "instrument.fov", shortText(*s.fov_rad, Kind::angle, 6),
                                "a field of 1 to 65 536 detectors of this pitch", ""});
            d.samples = 1;
        }
    } else {
        d.samples = static_cast<int>(s.samples.value_or(standard_samples));
    }
    d.ifov_rad = d.detector_pitch_m / d.focal_length_m;
    d.sample_step_rad = d.ifov_rad;
    d.fov_rad = 2.0 * std::atan(0.5 * d.samples * d.detector_pitch_m / d.focal_length_m);
}

Vec3 focalPlaneDirection(double starboard_m, double forward_m, double focal_length_m) {
    return glm::normalize(Vec3{forward_m, starboard_m, focal_length_m});
}

}  // namespace linefall
