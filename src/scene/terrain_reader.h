#pragma once
// The [terrain] table of a place: the generated island, level ground, simple shapes, or a height map of the user's.
// Reading it makes nothing; terrain_maker.h does.

#include <cstdint>
#include <string>
#include <vector>

#include "scene/landform.h"
#include "scene/materials_reader.h"

namespace linefall {

constexpr int most_map_posts = 8192;    ///< along a side of a height map
constexpr int most_level_posts = 8193;  ///< along a side of level ground: 8192 cells

/// A picture file that a place names.
struct NamedPicture {
    std::string path;  ///< relative ones stand beside the place file; empty: none
    Place place;       ///< of the key that names it
};

/// What a [terrain] table says.
struct TerrainPlan {
    enum class Kind { island, level, height_map } kind = Kind::level;
    std::uint64_t seed = 1;                  ///< island
    int posts = 2;                           ///< level: along each side
    double height_m = 0.0;                   ///< level
    double spacing_m = 10.0;                 ///< level and height map
    std::uint8_t material = 0;               ///< level, and height map without a material map
    NamedPicture heights, materials;         ///< height map
    double lowest_m = 0.0, highest_m = 0.0;  ///< height map: black and white
    std::vector<std::uint8_t> legend;        ///< height map: materials by value of the material map
    std::vector<Landform> forms;             ///< added to level ground or height map
    Place landform_place;                    ///< of the first landform
};

/// Reads the table; problems are added, and the plan is then not to be used.
[[nodiscard]] TerrainPlan readTerrain(TableReader& terrain, const Materials& materials);

}  // namespace linefall
