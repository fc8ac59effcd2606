#pragma once
// Simple shapes added to level ground or to a height map.

namespace linefall {

struct Landform {
    enum class Kind { dome, cone, ridge, bump } kind = Kind::dome;
    double east_m = 0.0, north_m = 0.0;
    double height_m = 100.0;   ///< of the crest over the ground around; negative: a hollow
    double radius_m = 500.0;   ///< foot of dome, cone and bump; half the width of a ridge at its foot
    double length_m = 1000.0;  ///< ridge only: of the crest
    double heading_rad = 0.0;  ///< ridge only: direction of the crest

    /// Height added at a point, m. Dome: spherical cap; cone: straight sides; ridge: straight sides, plane ends;
    /// bump: (1 + cos) / 2, smooth everywhere.
    [[nodiscard]] double at(double east_m, double north_m) const;
};

}  // namespace linefall
