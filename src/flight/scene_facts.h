#pragma once
// Facts of one instrument of a scene: no terrain is needed.

#include "instruments/facts.h"
#include "scene/scene.h"

namespace linefall {

/// Throws InputError when the instrument cannot be made. `scene.place` needs no ground.
[[nodiscard]] Facts factsOfScene(const Scene& scene, std::size_t index);

}  // namespace linefall
