#include "scene/island.h"

#include <array>

#include "base/threads.h"
#include "scene/island_cover.h"
#include "scene/island_map.h"
#include "scene/island_objects.h"

namespace linefall {

namespace {

using island::Cover;

/// The material of every cover, in the order of `Cover`.
constexpr std::array<const char*, static_cast<std::size_t>(Cover::count)> material_names{
    "green-grass",  // open ground is always decided; a name all the same
    "water",       "coastal-water", "shallow-water", "river-water", "red-brine",   "salt",      "asphalt",
    "concrete",    "gravel",        "sand",          "dune-sand",   "green-grass", "dry-grass", "mountain-meadow",
    "black-loam",  "light-clay",    "young-crop",    "ripe-grain",  "bare-soil",   "scrub",     "conifer",
    "deciduous",   "rock",          "limestone",     "medium-snow"};

}  // namespace

Landscape makeIsland(std::uint64_t seed, const MaterialByName& material, int threads) {
    const island::Plan plan(seed);
    const island::Guides guides = island::makeGuides(plan, threads);
    island::Map map = island::makeGround(plan, guides, threads);

    Landscape land;
    land.spacing_m = static_cast<double>(island::spacing);
    island::buildPlaces(plan, map, material, land.objects);
    island::clothe(plan, guides, map, threads);

    std::array<std::uint8_t, material_names.size()> index{};
    for (std::size_t k = 0; k < index.size(); ++k) index[k] = material(material_names[k]);
    land.materials = Raster<std::uint8_t>(island::cells, island::cells);
    parallelFor(island::cells, threads, [&](int row) {
        const auto from = map.cover.row(row);
        const auto to = land.materials.row(row);
        for (std::size_t k = 0; k < from.size(); ++k) to[k] = index[static_cast<std::size_t>(from[k])];
    });
    land.posts_m = std::move(map.height_m);
    return land;
}

}  // namespace linefall
