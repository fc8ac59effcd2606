#pragma once
// A drawing as pixels, painted by Cairo.

#include "figure/drawing.h"
#include "figure/type.h"

namespace linefall {

/// `scale` device pixels a pixel of the drawing: the size is exactly scale x (width, height), rounded up. Three channels.
/// The same drawing gives the same bytes. Throws std::bad_alloc when there is no memory for it.
[[nodiscard]] Pixels painted(const Drawing& drawing, int scale, const Type& type);

/// A raster brought to a size in pixels: copied, enlarged by repeating, or averaged over the area of each new pixel.
[[nodiscard]] Pixels resized(const Pixels& from, int columns, int rows);

}  // namespace linefall
