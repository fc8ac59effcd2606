#pragma once
// The eye that looks at the flight: it orbits a point. Doubles in the world frame; floats only in the matrix for OpenGL.

#include <glm/mat4x4.hpp>
#include <optional>
#include <vector>

#include "base/vectors.h"

namespace linefall {

/// A point of the screen: pixels from the upper left corner of the view, and the distance in front of the eye.
struct ScreenPoint {
    double x = 0.0, y = 0.0;
    double depth_m = 0.0;
};

struct Camera {
    Vec3 target_m{0.0};
    double distance_m = 9000.0;
    double azimuth_rad = 0.0;    ///< direction in which it looks, clockwise from north
    double elevation_rad = 0.5;  ///< of the eye above the target, up to pi/2 (straight down)
    double opening_rad = 0.84;   ///< of the view, top to bottom

    [[nodiscard]] Vec3 eye_m() const;
    [[nodiscard]] Vec3 forward() const;
    [[nodiscard]] Vec3 right() const;
    [[nodiscard]] Vec3 up() const;
    [[nodiscard]] double near_m() const;
    [[nodiscard]] double far_m() const;
    /// For OpenGL, with the eye at the origin so that floats suffice: apply it to points minus eye_m().
    [[nodiscard]] glm::dmat4 clipFromEye(double aspect) const;
    /// Where a world point appears in a view of so many pixels; nothing behind the eye.
    [[nodiscard]] std::optional<ScreenPoint> project(const Vec3& point_m, double width, double height) const;
    /// The line of sight through a pixel.
    [[nodiscard]] Ray ray(double x, double y, double width, double height) const;
    /// Shortens a line to its part in front of the eye; false when there is none.
    [[nodiscard]] bool clip(Vec3& from_m, Vec3& to_m) const;

    friend bool operator==(const Camera&, const Camera&) = default;
};

/// The same camera moved so that all points are seen, filling the view but for a margin (share of its size) on each side.
[[nodiscard]] Camera fitted(Camera camera, const std::vector<Vec3>& points, double aspect, double margin);

/// Between two cameras, `share` 0..1, the short way round.
[[nodiscard]] Camera blend(const Camera& from, const Camera& to, double share);

}  // namespace linefall
