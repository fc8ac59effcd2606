#pragma once
// The flight in perspective: the place in the core's light, and over it the platform, the swaths, the line of sight, the sun's
// ray and the angles between them, each with its number.

#include "figure/figures.h"

namespace linefall {

/// The eye that the request asks for, or one that sees platform, swaths and pixel: across the flight, with the sun behind it
/// where that is possible. `aspect`: width of the view by its height.
[[nodiscard]] Camera flightEye(const Scene& scene, const Formations& formations, const FigureRequest& request, double aspect);

/// Empty name when cancelled.
[[nodiscard]] Figure flightFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type, int threads,
                                  const Cancel* cancel);

}  // namespace linefall
