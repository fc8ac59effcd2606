#pragma once
// What the picture shows along a line drawn in it, over the heights of the ground that its pixels met.

#include "figure/figures.h"

namespace linefall {

/// `request.from` and `to` must be given, in one picture whose lines there are formed.
[[nodiscard]] Figure profileFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type);

}  // namespace linefall
