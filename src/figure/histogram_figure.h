#pragma once
// How often each count occurs, band by band, and the curve that turns counts into grey.

#include "figure/figures.h"

namespace linefall {

/// The lines that have fallen must be formed.
[[nodiscard]] Figure histogramFigure(const Scene& scene, Formations& formations, int instrument, const FigureRequest& request, const Type& type);

}  // namespace linefall
