#pragma once
// The clothing of the ground: fields, hedges, forests, bare rock and snow.

#include "scene/island_map.h"

namespace linefall::island {

/// Decides every open cell and raises the posts under trees (up to 15 m) and hedges (2 to 4 m).
void clothe(const Plan& plan, const Guides& guides, Map& map, int threads);

[[nodiscard]] bool isForest(Cover c);

/// Random bits for every plot of 2 x 2 posts, drawn once: what covers and trees differ by.
[[nodiscard]] Raster<std::uint32_t> drawPlots(std::uint64_t seed, int threads);
/// Eight bits of a plot's as a number from 0 to 1.
[[nodiscard]] inline float byteShare(std::uint32_t word, int from) { return static_cast<float>((word >> from) & 255u) / 255.0f; }
/// Raises the posts under trees and under the cells marked as hedges.
void raiseTrees(const Raster<std::uint32_t>& words, const Raster<std::uint8_t>& hedges, Map& map, int threads);

}  // namespace linefall::island
