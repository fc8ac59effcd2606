#pragma once
// Points, directions and rotations in double precision, for the whole core.
// Frames are named target-from-source: world_point = world_from_platform * platform_point.
//   world     x east, y north, z up; origin at the place's centre and datum
//   platform  x forward, y starboard, z down

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace linefall {

using Vec2 = glm::dvec2;
using Vec3 = glm::dvec3;
using Mat3 = glm::dmat3;

/// A half-line in the world frame. `direction` has unit length; `origin` is in metres. It is looked along at one time, which
/// matters to things that move; light needs none to travel.
struct Ray {
    Vec3 origin_m{0.0};
    Vec3 direction{0.0, 0.0, -1.0};
    double time_s = 0.0;  ///< since the flight began

    [[nodiscard]] Vec3 at(double distance_m) const { return origin_m + distance_m * direction; }
};

}  // namespace linefall
