#pragma once
// Angles in the core are radians with the suffix _rad; degrees are made and read by name only.

#include "base/constants.h"

#include <cmath>

namespace linefall {

[[nodiscard]] constexpr double radiansFromDegrees(double degrees) { return degrees * (constants::pi / 180.0); }
[[nodiscard]] constexpr double degreesFromRadians(double radians) { return radians * (180.0 / constants::pi); }

/// The same angle in [0, 2 pi).
[[nodiscard]] inline double wrappedToTurn(double angle_rad) {
    const double turn = 2.0 * constants::pi;
    const double wrapped = std::fmod(angle_rad, turn);
    if (wrapped >= 0.0) return wrapped;
    return wrapped + turn < turn ? wrapped + turn : 0.0;  // a tiny negative angle rounds up to the whole turn
}

}  // namespace linefall
