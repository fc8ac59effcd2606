#pragma once
// The machine that the window runs on.

#include "scene/scene.h"

namespace linefall {

/// Throws InputError in words when the images of a scene do not fit into this machine's memory, beside `held_bytes` of others
/// that stay meanwhile. `twice`: each is formed a second time, for a difference.
void checkMachine(const Scene& scene, bool twice = false, double held_bytes = 0.0);

/// From now on the calling thread lets others go first where they want the same processor, drawing above all. Elsewhere than
/// on Linux nothing changes.
void standBack();

}  // namespace linefall
