#pragma once
// How a stretch turns counts into what the screen is sent, as points for drawing over a histogram.

#include <vector>

#include "flight/image.h"

namespace linefall {

struct CurvePoint {
    double count = 0.0;
    double code = 0.0;  ///< 0 (black) to 255 (full light)
};

/// The same function that makes the display rows, at count 0, at the largest count, at both limits, and at `between` even
/// steps from one limit to the other; counts rise. Steps are whole codes, as on the screen.
[[nodiscard]] std::vector<CurvePoint> stretchCurve(const StretchLimits& limits, bool screen_curve, int most_count, int between = 64);

}  // namespace linefall
