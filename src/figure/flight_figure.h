#pragma once
// The flight in perspective: the place in the core's light, and over it the platform, the swaths, the line of sight, the sun's
// ray and the angles between them, each with its number.

#include "figure/figures.h"

namespace linefall {

/// Of the view inside the figure, pixels at 1x.
inline constexpr double flight_view_width = 792.0, flight_view_height = 520.0;

/// The eye that the request asks for, or one that sees platform, swaths and pixel: across the flight, with the sun behind it
/// where that is possible. `aspect`: width of the view by its height.
[[nodiscard]] Camera flightEye(const Scene& scene, const Formations& formations, const FigureRequest& request, double aspect);

/// Empty name when cancelled. `progress`: the share that is done, 0..1, from any thread.
[[nodiscard]] Figure flightFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type, int threads,
                                  const Cancel* cancel, const std::function<void(double)>& progress = {});

}  // namespace linefall
