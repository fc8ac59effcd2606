#pragma once
// The clothing of the ground: fields, hedges, forests, bare rock and snow.

#include "scene/island_map.h"

namespace linefall::island {

/// Decides every open cell and raises the posts under trees (up to 15 m) and hedges (2 to 4 m).
void clothe(const Plan& plan, const Guides& guides, Map& map, int threads);

[[nodiscard]] bool isForest(Cover c);

}  // namespace linefall::island
