#include "physics/detector.h"

#include <algorithm>
#include <cstdlib>

#include "base/constants.h"
#include "base/dispatch.h"
#include "base/random.h"

namespace linefall {

const Keys<DetectorSettings>& detectorKeys() {
    using D = DetectorSettings;
    static const Keys<D> keys = [] {
        Keys<D> k("instrument.");
        k.number("dark_current", Kind::electron_rate, &D::dark_current_e_s, 1000.0, 0.0, 1e9, "electrons a second without light")
            .number("full_well", Kind::electrons, &D::full_well_e, 1e5, 10.0, 1e9, "electrons that a detector can hold")
            .number("pattern_gain", Kind::ratio, &D::pattern_gain, 0.0, 0.0, 0.5, "spread of the detectors' gains (standard deviation)")
            .number("pattern_offset", Kind::electrons, &D::pattern_offset_e, 0.0, 0.0, 1e6, "spread of the detectors' offsets (standard deviation)")
            .number("dead_detectors", Kind::ratio, &D::dead_share, 0.0, 0.0, 1.0, "share of detectors that see nothing")
            .text("seed", &D::seed, "1", "seed of the detectors' pattern, a whole number");
        return k;
    }();
    return keys;
}

DetectorPattern detectorPattern(const DetectorSettings& settings, int detectors, int band) {
    DetectorPattern pattern;
    pattern.gain.resize(static_cast<std::size_t>(detectors));
    pattern.offset_e.resize(static_cast<std::size_t>(detectors));
    const std::uint64_t seed = std::strtoull(settings.seed.c_str(), nullptr, 10);
    for (int i = 0; i < detectors; ++i) {
        const auto words = keyedWords(seed, RandomUse::detector_gain, 0, static_cast<std::uint32_t>(i),
                                      static_cast<std::uint32_t>(band));
        const auto normals = normalsFromWords(words[0], words[1]);
        const bool dead = uniformFromWord(words[2]) < settings.dead_share;
        const std::size_t k = static_cast<std::size_t>(i);
        pattern.gain[k] = dead ? 0.0 : std::max(0.0, 1.0 + settings.pattern_gain * normals[0]);
        pattern.offset_e[k] = settings.pattern_offset_e * normals[1];
    }
    return pattern;
}

double photonEnergy_J(double wavelength_um) {
    return constants::planck_J_s * constants::speed_of_light_m_s / (wavelength_um * 1e-6);
}

LINEFALL_VECTORISED
void gatherElectrons(const PowerOnDetector& in, const Dwell& dwell, std::span<const double> gain,
                     std::span<const double> offset_e, const ExpectedElectrons& out) {
    const double factor = dwell.time_s * dwell.electrons_per_joule;
    const double dark = dwell.dark_e, most = dwell.full_well_e;
    const double* __restrict power = in.value.data();
    const double* __restrict gains = gain.data();
    const double* __restrict offsets = offset_e.data();
    double* __restrict electrons = out.value.data();
    const bool even = gain.empty(), still = offset_e.empty();
    for (std::size_t i = 0; i < out.value.size(); ++i) {
        const double light = power[i] * factor * (even ? 1.0 : gains[i]);
        const double all = light + dark + (still ? 0.0 : offsets[i]);
        const double positive = all > 0.0 ? all : 0.0;
        electrons[i] = positive < most ? positive : most;
    }
}

}  // namespace linefall
