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

/// Electrons a count and the largest count. With `half_e` the converter saturates softly: see writeCounts.
struct Steps {
    double step_e = 1.0;
    int most = 255;
    double half_e = 0.0;  ///< electrons that give half of the largest reading; 0: linear
};

/// `quantised` false: 16 bits over the same range, steps too fine to see.
[[nodiscard]] Steps stepsOf(const ConverterSettings& settings, double full_well_e, bool quantised);

/// Linear: count = floor(electrons / step). Saturating: count = floor((most + 1) n / (n + h)), with n the electrons and h
/// half_e: the law of Naka and Rushton 1966 with an exponent of one, by which photoreceptors answer (from memory). Both
/// clipped to 0..most. Exact.
void writeCounts(const ReadElectrons& in, const Steps& steps, const Counts& out);

/// The electrons that give a count, which may lie between whole numbers: count * step, or h c / (most + 1 - c). Infinite
/// from most + 1 on where the converter saturates.
[[nodiscard]] double electronsOf(double count, const Steps& steps);

}  // namespace linefall
