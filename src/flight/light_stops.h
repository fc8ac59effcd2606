#pragma once
// The eight stops of the light path: what each says about a pixel, in words and with its most telling number. Reads the
// core's trace; computes no light.

#include <array>
#include <string>
#include <vector>

#include "flight/formation.h"

namespace linefall {

inline constexpr int stop_count = 8;

struct Stop {
    const char* name;
    const char* sentence;               ///< what happens here, in one sentence
    std::vector<std::string> stages;    ///< of the trace
};
[[nodiscard]] const std::array<Stop, stop_count>& lightStops();

/// The most telling number of a stop, and what it is.
struct Telling {
    std::string number, what, brief;  ///< brief: what, said in a narrow place
};
[[nodiscard]] Telling tellingOf(int stop, const Why& why, const std::vector<Band>& bands, const BandChoice& shown);

/// "W m-2 um-1" as printed: "W m⁻² µm⁻¹".
[[nodiscard]] std::string printedUnit(const std::string& unit);
/// A traced value with its unit, in figures that it deserves.
[[nodiscard]] std::string printedValue(double value, const std::string& unit);

}  // namespace linefall
