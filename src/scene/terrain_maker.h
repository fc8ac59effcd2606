#pragma once
// From what a place says of its terrain to heights and materials.

#include "scene/landscape.h"
#include "scene/terrain_reader.h"

namespace linefall {

/// Makes the landscape of a sound plan. Problems of picture files are added; the result is then not to be used.
[[nodiscard]] Landscape makeTerrain(const TerrainPlan& plan, const Materials& materials, int threads, Problems& problems);

}  // namespace linefall
