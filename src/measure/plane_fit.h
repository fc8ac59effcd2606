#pragma once
// How far pixels stray from an even slope of grey.

#include "measure/calibration.h"
#include "measure/region.h"

namespace linefall {

/// Least-squares plane v = a + b s + c l through the values v of one band over an area, s and l sample and line.
struct PlaneFit {
    std::uint64_t pixels = 0;
    double mean = 0.0;
    double per_sample = 0.0, per_line = 0.0;  ///< b, c: in the unit of the scale, a pixel
    /// sqrt(sum (v - plane)^2 / (n - 3)), the spread that is left; 0 with fewer than 4 pixels.
    double residual = 0.0;
};

/// Over the pixels of the region that are formed and do not look into the sky. A direction in which the region has no extent
/// keeps slope 0.
[[nodiscard]] PlaneFit planeFit(const Formation& formation, const Region& region, int band, Scale scale);

}  // namespace linefall
