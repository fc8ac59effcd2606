#pragma once
// The picture alone: for those who have to find out how it was made.

#include "figure/figures.h"

namespace linefall {

/// The formed picture between two rulers that count its samples and lines. Neither the page nor its caption or alt text says
/// how it was flown, with what, or where the sun stood; the alt text gives the brightness of its parts. Causes that are
/// switched off are named in the caption, as in every figure.
[[nodiscard]] Figure plainFigure(const Scene& scene, Formations& formations, int instrument, const Type& type, bool night);

/// Mean brightness of cells of equal size, in rows from the top: 0 black, 100 white, as shown. At most as many cells a side as
/// there are pixels.
[[nodiscard]] std::vector<std::vector<int>> brightnessOnGrid(const Pixels& pixels, int cells);

}  // namespace linefall
