#pragma once
// Patterns painted on the terrain, evaluated exactly at a point: panels, bars, sine gratings, road grids.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linefall {

enum class Pattern {
    solid,  ///< one material
    bars,   ///< `material` and `other` in turn along the length, half a period each, beginning with `material`
    sine,   ///< `count` materials from `material` on, darkest first: their place follows (1 + sin(2 pi u / period)) / 2
    grid,   ///< lines of `line_width_m` every `period_m` in both directions; elsewhere what lies beneath
};

[[nodiscard]] std::string_view nameOf(Pattern pattern);
[[nodiscard]] std::vector<std::string> patternNames();

/// A rectangle with a pattern. Later paints lie over earlier ones.
struct Paint {
    Pattern pattern = Pattern::solid;
    std::string name;
    double east_m = 0.0, north_m = 0.0;       ///< centre
    double length_m = 10.0, width_m = 10.0;   ///< along and across the heading
    double heading_rad = 0.0;                 ///< clockwise from north
    double period_m = 2.0;
    double line_width_m = 1.0;
    std::uint16_t material = 0;
    std::uint16_t other = 0;
    int count = 1;  ///< sine only

    /// The material at a point, or nothing where this paint does not lie.
    [[nodiscard]] std::optional<std::uint16_t> at(double east_m, double north_m) const;
};

}  // namespace linefall
