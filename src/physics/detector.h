#pragma once
// Stage 7, detector: how many electrons in the dwell time?

#include <cstdint>
#include <span>
#include <vector>

#include "base/parameter.h"
#include "physics/signal.h"

namespace linefall {

struct DetectorSettings {
    double dark_current_e_s;
    double full_well_e;
    double pattern_gain;      ///< standard deviation of the detectors' gains, share of one
    double pattern_offset_e;  ///< standard deviation of the detectors' offsets
    double dead_share;        ///< share of detectors that see nothing
    std::string seed;
};

[[nodiscard]] const Keys<DetectorSettings>& detectorKeys();

/// Gain and offset of each physical detector of one band: fixed for an instrument, from `instrument.seed`.
struct DetectorPattern {
    std::vector<double> gain;      ///< 1 on average; 0 for a dead detector
    std::vector<double> offset_e;
};

/// `detectors`: number of physical detectors of the band (1 for a whisk broom with one detector; one a column for a
/// push broom; one a pixel, row by row, for a frame). Keyed by (seed, band, detector).
[[nodiscard]] DetectorPattern detectorPattern(const DetectorSettings& settings, int detectors, int band);

/// Energy of one photon, J: h c / wavelength. Exact.
[[nodiscard]] double photonEnergy_J(double wavelength_um);

/// What the detector needs beyond the power.
struct Dwell {
    double time_s = 0.0;
    double electrons_per_joule = 0.0;  ///< quantum efficiency / photon energy at the band's effective wavelength
    double dark_e = 0.0;               ///< dark current times dwell time
    double full_well_e = 0.0;          ///< infinite when saturation is off
};

/// electrons = power * time * electrons per joule * gain + dark + offset, clipped to 0..full well.
/// gain and offset: one a sample, or empty: 1 and 0. Photon energy at the effective wavelength: exact for a flat
/// spectrum of photons over the band; within 0.5 % for the bands of the presets.
void gatherElectrons(const PowerOnDetector& in, const Dwell& dwell, std::span<const double> gain,
                     std::span<const double> offset_e, const ExpectedElectrons& out);

}  // namespace linefall
