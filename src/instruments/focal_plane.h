#pragma once
// What a push broom and a frame camera share: detectors on a flat focal plane behind a lens.

#include "instruments/instrument.h"

namespace linefall {

struct FocalPlaneSettings {
    std::optional<double> focal_length_m, detector_pitch_m, samples, ifov_rad, fov_rad;
};

/// Rows `focal_length`, `detector_pitch`, `samples` and, in their place, `ifov` and `fov`, added to an instrument's keys.
template <class S>
void addFocalPlaneRows(Keys<S>& keys) {
    keys.derived("focal_length", Kind::length, &S::focal_length_m, 1e-3, 100.0, "focal length")
        .derived("detector_pitch", Kind::length, &S::detector_pitch_m, 1e-7, 0.01, "distance between neighbouring detectors")
        .derived("samples", Kind::count, &S::samples, 1.0, 65536.0, "detectors across the track")
        .derived("ifov", Kind::angle, &S::ifov_rad, 1e-8, 0.5, "instantaneous field of view at the centre; in place of the focal length (pitch / IFOV)")
        .insteadOf("focal_length")
        .derived("fov", Kind::angle, &S::fov_rad, 1e-7, 2.8, "field of view across; in place of the samples (2 atan(N pitch / 2 f))")
        .insteadOf("samples");
}

/// Geometry of a flat focal plane, solved from the given keys; fills the fields of Derived that it settles.
void solveFocalPlane(const FocalPlaneSettings& settings, double standard_focal_length_m, double standard_pitch_m,
                     int standard_samples, Derived& derived, Problems& problems);

/// Direction to a point of the focal plane: starboard and forward in metres from the axis.
[[nodiscard]] Vec3 focalPlaneDirection(double starboard_m, double forward_m, double focal_length_m);

}  // namespace linefall
