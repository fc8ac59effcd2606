#pragma once
// Whether there is memory for what is asked: told in words before any of it is taken.

#include "scene/scene.h"

namespace linefall {

/// Bytes that forming all images of a scene takes. A figure of a difference forms each a second time.
[[nodiscard]] double imagesBytes(const Scene& scene, bool difference = false);
/// More memory than the machine has would end in the operating system's own, wordless, way. `bytes` are wanted, `held_bytes`
/// are taken by images that stay meanwhile, `memory_bytes` is what the machine has: window and command line know it. Throws InputError that says how much is asked, how much there is, and what helps.
void checkMemory(double bytes, double held_bytes, double memory_bytes);

}  // namespace linefall
