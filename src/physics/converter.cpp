#include "physics/converter.h"

#include <cmath>
#include <limits>

#include "base/dispatch.h"

namespace linefall {

const Keys<ConverterSettings>& converterKeys() {
    using C = ConverterSettings;
    static const Keys<C> keys = [] {
        Keys<C> k("instrument.");
        k.count("bits", &C::bits, 12, 1, 16, "bits of the converter: 2^bits counts")
            .derived("gain", Kind::electrons, &C::gain_e, 1e-6, 1e9, "electrons a count; auto: the full well fills the converter");
        return k;
    }();
    return keys;
}

Steps stepsOf(const ConverterSettings& settings, double full_well_e, bool quantised) {
    const double levels = std::ldexp(1.0, settings.bits);
    const double step = settings.gain_e.value_or(full_well_e / levels);
    if (quantised) return {step, static_cast<int>(levels) - 1};
    return {step * levels / 65536.0, 65535};
}

LINEFALL_VECTORISED
void writeCounts(const ReadElectrons& in, const Steps& steps, const Counts& out) {
    const double most = steps.most;
    const double* source = in.value.data();
    std::uint16_t* target = out.value.data();
    if (steps.half_e > 0.0) {
        for (std::size_t i = 0; i < out.value.size(); ++i) {
            const double n = source[i] > 0.0 ? source[i] : 0.0;
            const double reading = (most + 1.0) * n / (n + steps.half_e);
            target[i] = static_cast<std::uint16_t>(static_cast<int>(reading < most ? reading : most));
        }
        return;
    }
    for (std::size_t i = 0; i < out.value.size(); ++i) {
        const double share = source[i] / steps.step_e;
        const double positive = share > 0.0 ? share : 0.0;
        const double held = positive < most ? positive : most;
        target[i] = static_cast<std::uint16_t>(static_cast<int>(held));  // not negative: the cast is the floor
    }
}

double electronsOf(double count, const Steps& steps) {
    if (steps.half_e <= 0.0) return count * steps.step_e;
    const double left = steps.most + 1.0 - count;
    return left > 0.0 ? steps.half_e * count / left : std::numeric_limits<double>::infinity();
}

}  // namespace linefall
