#pragma once
// The island in the making: what the steps of its generation hand to each other.

#include <algorithm>
#include <cstdint>
#include <string>
#include <vector>

#include "base/raster.h"
#include "scene/island_plan.h"

namespace linefall::island {

/// What lies on a cell. `open` ground is decided last, by height, slope and neighbourhood.
enum class Cover : std::uint8_t {
    open,
    sea,
    coastal,
    shallow,
    fresh,  ///< lake, river and stream
    brine,
    salt,
    asphalt,
    concrete,
    gravel,
    sand,
    dune,
    grass,
    dry_grass,
    meadow,
    loam,
    clay,
    crop,
    grain,
    soil,
    scrub,
    conifer,
    deciduous,
    rock,
    limestone,
    snow,
    count
};

[[nodiscard]] inline bool isWater(Cover c) {
    return c == Cover::sea || c == Cover::coastal || c == Cover::shallow || c == Cover::fresh || c == Cover::brine;
}

/// Slowly varying fields on the guide grid (501 x 501 nodes, 16 m).
struct Guides {
    Raster<float> height_m;                   ///< eroded, before warp and detail
    Raster<float> inland_m;                   ///< Plan::inland
    Raster<float> in_lake_m;                  ///< Plan::inLake
    Raster<float> away_m;                     ///< about the distance from the nearest water, m
    Raster<float> slope;                      ///< rise over run of the eroded ground
    Raster<float> habit;                      ///< broad random waves, about -0.7 to 0.7, that move the edges of forests and snow
    Raster<float> warp_east_m, warp_north_m;  ///< where the fine ground looks for its coarse height
    std::vector<Way> streams;                 ///< tributaries found by the erosion
};

struct Map {
    Raster<float> height_m;     ///< posts
    Raster<Cover> cover;        ///< cells
    Raster<std::uint8_t> kept;  ///< cells: `free`, `bare` (neither trees nor fields) or `bank` (no fields)

    static constexpr std::uint8_t free = 0, bare = 1, bank = 2;
};

/// The lowest and the highest of a cell's four posts.
struct CellHeights {
    float low = 1e9f, high = -1e9f;
};
[[nodiscard]] inline CellHeights heightsOf(const Map& map, int column, int row) {
    CellHeights out;
    for (int r = row; r <= row + 1; ++r) {
        for (int c = column; c <= column + 1; ++c) {
            out.low = std::min(out.low, map.height_m.at(c, r));
            out.high = std::max(out.high, map.height_m.at(c, r));
        }
    }
    return out;
}

/// Bilinear value of a guide at a world position inside the place.
[[nodiscard]] inline float guideValue(const Raster<float>& guide_raster, float east, float north) {
    const float u = (east + reach) / guide_spacing;
    const float v = (north + reach) / guide_spacing;
    int i = static_cast<int>(u);
    int j = static_cast<int>(v);
    if (i > guides - 2) i = guides - 2;
    if (j > guides - 2) j = guides - 2;
    const float fu = u - static_cast<float>(i);
    const float fv = v - static_cast<float>(j);
    return mix(mix(guide_raster.at(i, j), guide_raster.at(i + 1, j), fu),
               mix(guide_raster.at(i, j + 1), guide_raster.at(i + 1, j + 1), fu), fv);
}

[[nodiscard]] Guides makeGuides(const Plan& plan, int threads);                     // island_guides.cpp
[[nodiscard]] Map makeGround(const Plan& plan, const Guides& guides, int threads);  // island_ground.cpp

}  // namespace linefall::island
