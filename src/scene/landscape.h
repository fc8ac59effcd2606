#pragma once
// What a terrain generator or a height map hands to a place.

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "base/raster.h"
#include "ground/object.h"

namespace linefall {

/// Heights at posts, one material a cell, and things standing on it. Row 0 is the south, column 0 the west.
struct Landscape {
    Raster<float> posts_m;            ///< columns x rows posts, metres above datum
    double spacing_m = 4.0;           ///< between posts
    Raster<std::uint8_t> materials;   ///< (columns - 1) x (rows - 1) cells, index into the place's materials
    std::vector<Object> objects;
};

/// Gives the index of a material by its name; throws InputError for an unknown one.
using MaterialByName = std::function<std::uint8_t(const std::string&)>;

}  // namespace linefall
