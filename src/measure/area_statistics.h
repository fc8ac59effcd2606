#pragma once
// Mean and spread of an area of a picture.

#include <cstdint>
#include <string>
#include <vector>

#include "measure/calibration.h"
#include "measure/reading.h"
#include "measure/region.h"

namespace linefall {

/// Of one band, in the unit of the scale. Without pixels all are 0.
struct BandStatistics {
    std::string band;
    double mean = 0.0;
    double standard_deviation = 0.0;  ///< of one pixel, divided by n - 1
    double standard_error = 0.0;      ///< of the mean: standard deviation / sqrt(n), as if pixels were independent
    double least = 0.0, most = 0.0;
    std::uint64_t at_zero = 0;  ///< pixels at count 0: at most so bright
    std::uint64_t at_most = 0;  ///< pixels at the largest count: at least so bright
};

struct AreaStatistics {
    Scale scale = Scale::counts;
    std::string unit;
    std::uint64_t pixels = 0;      ///< that were read
    std::uint64_t sky = 0;         ///< left out: they look, in part, into the sky
    std::uint64_t not_formed = 0;  ///< left out: their lines are not up to date
    std::uint64_t no_sun = 0;      ///< left out of a reflectance: the sun was down
    std::vector<BandStatistics> bands;

    /// Mean of a band as a reading whose sigma is the standard error; the pixel size has no part in it.
    [[nodiscard]] Reading mean(std::size_t band) const;
    /// Spread of a band: the standard deviation of one pixel; sigma by s / sqrt(2 (n - 1)), as for normal values.
    [[nodiscard]] Reading spread(std::size_t band) const;
};

[[nodiscard]] AreaStatistics areaStatistics(const Formation& formation, const Region& region, Scale scale);

}  // namespace linefall
