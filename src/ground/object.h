#pragma once
// Things that stand on the terrain, intersected analytically. None of them overhangs: seen from above, every object
// is a height over its footprint.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/vectors.h"

namespace linefall {

enum class Shape {
    box,       ///< length x width x height
    gable,     ///< a box with a pitched roof whose ridge runs along the length; eaves at `eaves_share` of the height
    pyramid,   ///< rectangular base, apex over the centre
    cone,      ///< circular base of diameter `length`
    cylinder,  ///< circular base of diameter `length`
    dome,      ///< half an ellipsoid: circular base of diameter `length`, top at `height`
    wall,      ///< a thin box: `length` long, `width` thick
};

[[nodiscard]] std::string_view nameOf(Shape shape);
[[nodiscard]] std::vector<std::string> shapeNames();

/// An object with its true size. The base stands at the terrain height under its centre; its sides go down
/// `foundation_m` further so that no gap shows on a slope.
struct Object {
    Shape shape = Shape::box;
    std::string name;  ///< may be empty
    double east_m = 0.0, north_m = 0.0;  ///< centre, world frame
    double length_m = 10.0;              ///< along `heading`; diameter of round shapes
    double width_m = 10.0;               ///< across; not used by round shapes
    double height_m = 10.0;              ///< true height of the top above the base
    double heading_rad = 0.0;            ///< direction of the length, clockwise from north
    double eaves_share = 0.6;            ///< gable only
    double speed_m_s = 0.0;  ///< over the ground; above 0 it moves, and its centre is where it stands when the flight begins
    double track_rad = 0.0;  ///< direction in which it moves, clockwise from north
    std::uint16_t top_material = 0;
    std::uint16_t side_material = 0;
    double base_m = 0.0;        ///< world height of the base; set when the object is placed
    double foundation_m = 0.0;  ///< set when the object is placed

    [[nodiscard]] bool moves() const { return speed_m_s > 0.0; }
    [[nodiscard]] double top_m() const { return base_m + height_m; }
    /// Half the diagonal of the footprint: nothing of the object is farther from its centre, m.
    [[nodiscard]] double radius_m() const;
    /// Height of the surface over a point, world height, or nothing outside the footprint.
    [[nodiscard]] std::optional<double> surfaceOver(double east_m, double north_m) const;
};

/// Where a ray meets an object.
struct ObjectHit {
    double distance_m = 0.0;
    Vec3 normal{0.0, 0.0, 1.0};  ///< unit, outward, world frame
    bool side = false;           ///< met a side rather than the top or roof
};

/// The nearest hit of the ray with the outside of the object at a distance > `from_m`, in double precision.
[[nodiscard]] std::optional<ObjectHit> intersect(const Object& object, const Ray& ray, double from_m = 0.0);

}  // namespace linefall
