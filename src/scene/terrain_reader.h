#pragma once
// The [terrain] table of a place: the generated island, level ground, simple shapes, or a height map of the user's.

#include "scene/landscape.h"
#include "scene/materials_reader.h"

namespace linefall {

/// Reads and makes the landscape. Adds problems; the result is then not to be used.
[[nodiscard]] Landscape readTerrain(TableReader& terrain, const Materials& materials, int threads);

/// A simple landform added to level ground.
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
