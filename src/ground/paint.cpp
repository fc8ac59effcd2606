#include "ground/paint.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.h"

namespace linefall {

namespace {

constexpr std::array<std::string_view, 4> pattern_names{"solid", "bars", "sine", "grid"};

/// Distance to the nearest line of a set with a line at 0 and every `period`.
double fromLine(double u, double period) {
    const double turns = u / period;
    return std::abs(turns - std::round(turns)) * period;
}

}  // namespace

std::string_view nameOf(Pattern pattern) { return pattern_names[static_cast<std::size_t>(pattern)]; }

std::vector<std::string> patternNames() { return {pattern_names.begin(), pattern_names.end()}; }

std::optional<std::uint16_t> Paint::at(double east, double north) const {
    const double dx = east - east_m;
    const double dy = north - north_m;
    const double s = std::sin(heading_rad);
    const double c = std::cos(heading_rad);
    const double u = dx * s + dy * c;
    const double v = dx * c - dy * s;
    if (std::abs(u) > 0.5 * length_m || std::abs(v) > 0.5 * width_m) return std::nullopt;
    switch (pattern) {
        case Pattern::solid: return material;
        case Pattern::bars: {
            const double turns = (u + 0.5 * length_m) / period_m;
            return turns - std::floor(turns) < 0.5 ? material : other;
        }
        case Pattern::sine: {
            const double level = 0.5 + 0.5 * std::sin(2.0 * constants::pi * u / period_m);
            const int step = std::clamp(static_cast<int>(level * count), 0, count - 1);
            return static_cast<std::uint16_t>(material + step);
        }
        case Pattern::grid:
            if (std::min(fromLine(u, period_m), fromLine(v, period_m)) <= 0.5 * line_width_m) return material;
            return std::nullopt;
    }
    return std::nullopt;
}

}  // namespace linefall
