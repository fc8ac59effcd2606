#pragma once
// Places in a picture, between pixels too.

#include <functional>

#include "base/vectors.h"
#include "physics/point_spread.h"

namespace linefall {

/// A place in a picture, in pixels from the picture's corner: the centre of pixel (sample, line) is at sample + 0.5,
/// line + 0.5. Column 0 is starboard, row 0 first in time.
struct PicturePlace {
    double sample = 0.5, line = 0.5;
    friend bool operator==(const PicturePlace&, const PicturePlace&) = default;
};

/// A pixel's own look: Ray(line, sample, offset).
using LookOfPixel = std::function<Ray(int, int, const Offset&)>;

/// The line of sight of a place in a picture of `samples` x `lines` pixels. At a pixel's centre it is that pixel's look;
/// between centres, origin and direction are bilinear between the four nearest (error of the direction below an eighth of
/// the squared angle between them, rad); beyond the outermost centres they are carried on. A picture one pixel wide or high
/// has no neighbour there: then the look is displaced within its footprint, `step_of_ifov` footprints a sample.
[[nodiscard]] Ray rayAt(const PicturePlace& place, int samples, int lines, double step_of_ifov, const LookOfPixel& look);

}  // namespace linefall
