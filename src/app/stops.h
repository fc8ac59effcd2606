#pragma once
// The eight stops of the light path in the window: which declared parameters belong to each. What they say about a pixel
// stands in flight/light_stops.h.

#include <vector>

#include "app/session.h"
#include "flight/light_stops.h"

namespace linefall {

/// The declared parameters of a stop: of the scene, and of one craft's instrument.
[[nodiscard]] std::vector<ParameterOf> parametersOf(int stop, const Scene& scene, int craft);

}  // namespace linefall
