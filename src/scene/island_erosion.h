#pragma once
// Valleys as water makes them: stream-power erosion of a coarse grid down to fixed waters.

#include <cstdint>
#include <vector>

#include "base/raster.h"

namespace linefall::island {

/// What the erosion works on. All rasters have the same size; row 0 is the south.
struct Relief {
    double spacing_m = 32.0;
    Raster<float> height_m;      ///< start, and result
    Raster<std::uint8_t> fixed;  ///< 1: water or shore, keeps its height, and everything drains to it
    Raster<float> steepness_m;   ///< uplift over erodibility: the slope at drainage area A tends to steepness / sqrt(A)
    Raster<float> talus;         ///< no slope towards the receiver gets steeper than this (rise over run)
};

/// Where the water goes, after the last step.
struct Drainage {
    std::vector<int> receiver;   ///< index of the node that takes a node's water; itself where fixed
    std::vector<int> order;      ///< the nodes whose water flows on, each after its receiver
    std::vector<float> area_m2;  ///< drainage area, the node's own included
};

/// `steps` implicit steps of dh/dt = U - K sqrt(A) S, the stream-power law with m = 1/2 and n = 1 (Braun and Willett
/// 2013, Geomorphology 180-181, "A very efficient O(n), implicit and parallel method"):
///   h: height, m; U: uplift, K: erodibility (steepness = U / K, m); A: drainage area, m2; S: slope to the receiver.
/// `step` is K times the time of one step, dimensionless. Each step ends with the talus limit. Left out: deposition,
/// and lakes other than the fixed ones: pits are filled first by a priority flood (Barnes et al. 2014, Computers and
/// Geosciences 62). `seed` makes the choice of receiver uneven, so that streams do not run in the grid's eight
/// directions.
Drainage erode(Relief& relief, int steps, float step, std::uint64_t seed);

}  // namespace linefall::island
