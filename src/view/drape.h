#pragma once
// The core's own lit ground, as colours to lay over the terrain and the things on it. Made in the background.

#include <cstdint>
#include <vector>

#include "base/threads.h"
#include "scene/scene.h"
#include "view/mesh.h"

namespace linefall {

/// Colours of the place seen straight down; row 0 is the south, so that a texture's origin is the south-west corner.
struct Drape {
    int side = 0;                      ///< texels
    std::vector<std::uint8_t> rgba;
    Colour beyond{0, 0, 0, 255};       ///< of the plane outside the place
    Colour haze{0, 0, 0, 255};         ///< of the sky at the horizon, mean of all directions
    std::vector<Colour> horizon;       ///< the same, direction by direction, clockwise from north
};

/// `side` x `side` texels over the whole place. An empty result when cancelled.
[[nodiscard]] Drape makeDrape(const Scene& scene, int side, int threads, const Cancel* cancel);

/// Everything that stands on the terrain, coloured by the core's sun, air, visibility and materials.
[[nodiscard]] Mesh makeObjects(const Scene& scene, std::size_t most_triangles, const Cancel* cancel);

}  // namespace linefall
