#pragma once
// What the files of the air share: where a height lies in its tables, and how a layer fades what crosses it.

#include <array>

#include "base/dispatch.h"
#include "base/fast_exp.h"

namespace linefall {

inline constexpr double air_table_from_m = -500.0;
inline constexpr double air_table_step_m = 25.0;
inline constexpr int air_table_cells = 380;  // up to 9000 m
inline constexpr double air_table_to_m = air_table_from_m + air_table_cells * air_table_step_m;

/// (1 - e^-y) / y, 1 at y = 0. The tiny number leaves every other y as it is and makes the quotient 1 there, without a choice
/// that would keep loops from being vectorised.
LINEFALL_INLINE double meanAttenuation(double y) {
    const double held = y + 1e-300;
    return -fastExpm1(-held) / held;
}

LINEFALL_INLINE double cubicAt(const std::array<double, 4>& c, double u) { return c[0] + u * (c[1] + u * (c[2] + u * c[3])); }

/// Whether a height lies in the tables.
LINEFALL_INLINE bool inAirTable(double height_m) { return height_m >= air_table_from_m && height_m <= air_table_to_m; }

}  // namespace linefall
