#pragma once
// The ground as it is lit, for draping over the flight view.

#include <vector>

#include "base/raster.h"
#include "base/threads.h"
#include "scene/scene.h"

namespace linefall {

/// The same ground seen straight down from infinity, without relief displacement: reflected light as a map.
/// For comparison with images; `samples` x `lines` cells of `cell_m`, north up, centred on (east, north).
struct MapRequest {
    double east_m = 0.0, north_m = 0.0, cell_m = 4.0;
    int columns = 512, rows = 512;
};
/// Radiance at the ground of each band (W m-2 sr-1 um-1) for every cell, row 0 in the north.
[[nodiscard]] std::vector<Raster<float>> litGround(const Scene& scene, const std::vector<Band>& bands, const MapRequest& request,
                                                   int threads = 0, const Cancel* cancel = nullptr);

}  // namespace linefall
