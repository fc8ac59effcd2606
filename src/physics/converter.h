#pragma once
// Stage 9, converter: which number is written down?

#include <optional>

#include "base/parameter.h"
#include "physics/signal.h"

namespace linefall {

struct ConverterSettings {
    int bits;
    std::optional<double> gain_e;  ///< electrons a count; auto: full well / 2^bits
};

[[nodiscard]] const Keys<ConverterSettings>& converterKeys();

/// Electrons a count and the largest count.
struct Steps {
    double step_e = 1.0;
    int most = 255;
};

/// `quantised` false: 16 bits over the same range, steps too fine to see.
[[nodiscard]] Steps stepsOf(const ConverterSettings& settings, double full_well_e, bool quantised);

/// count = floor(electrons / step), clipped to 0..most. Exact.
void writeCounts(const ReadElectrons& in, const Steps& steps, const Counts& out);

}  // namespace linefall
