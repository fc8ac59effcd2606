#include "measure/stretch_curve.h"

#include <algorithm>

namespace linefall {

std::vector<CurvePoint> stretchCurve(const StretchLimits& limits, bool screen_curve, int most_count, int between) {
    std::vector<double> counts{0.0, static_cast<double>(most_count)};
    const int steps = std::max(1, between);
    for (int i = 0; i <= steps; ++i) counts.push_back(limits.low + (limits.high - limits.low) * i / steps);
    std::sort(counts.begin(), counts.end());
    counts.erase(std::unique(counts.begin(), counts.end()), counts.end());
    std::vector<CurvePoint> curve;
    for (const double count : counts) {
        if (count < 0.0 || count > most_count) continue;
        curve.push_back({count, static_cast<double>(displayCode(count, limits, screen_curve))});
    }
    return curve;
}

}  // namespace linefall
