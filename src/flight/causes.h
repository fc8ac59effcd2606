#pragma once
// Cost follows cause: what each stage of an image depends on, as text. Equal text, equal cause.

#include <string>
#include <vector>

#include "scene/scene.h"

namespace linefall {

/// What the looks, the sun's share, the radiance and the counts of one instrument depend on beyond the stages before
/// them, in that order.
[[nodiscard]] std::vector<std::string> causesOf(const Scene& scene, const InstrumentSetup& setup);

}  // namespace linefall
