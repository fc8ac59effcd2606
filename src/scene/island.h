#pragma once
// The invented island: one seed makes the whole place.

#include <cstdint>

#include "scene/landscape.h"

namespace linefall {

/// 8 x 8 km at 4 m posts (2001 x 2001), the same for the same seed on any number of threads. Sea level is datum.
[[nodiscard]] Landscape makeIsland(std::uint64_t seed, const MaterialByName& material, int threads = 0);

}  // namespace linefall
