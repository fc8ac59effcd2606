#pragma once
// Sharpness as contributions: a sample gathers light from points drawn over the detector's footprint, the diffraction
// pattern, the extra blur and the dwell time. The pattern of points is the same for every sample, symmetric about the
// centre (so it shifts nothing), and each point weighs the same.

#include <vector>

namespace linefall {

/// Where one contribution looks, relative to the sample's centre.
struct Offset {
    double across = 0.0;       ///< in detector pitches, towards growing columns
    double along = 0.0;        ///< in detector pitches, towards growing rows
    double dwell_share = 0.0;  ///< -0.5 .. 0.5 of the dwell time
    int band = -1;             ///< the only band whose light it gathers; -1: every band's
};

struct PointSpread {
    int contributions = 1;
    double blur_pitch = 0.0;           ///< standard deviation of the extra blur, in detector pitches
    double diffraction_pitch = 0.0;    ///< wavelength * f-number / detector pitch; 0: no diffraction
    bool footprint = true;
    bool dwell = true;
};

/// The offsets of all contributions. One contribution is the centre. Method: points of an additive recurrence in seven
/// dimensions with the generalised golden ratio (Roberts 2018, "The unreasonable effectiveness of quasirandom
/// sequences", from memory), each with its mirror image; footprint uniform over the square detector, diffraction by the
/// inverse of the encircled energy 1 - J0^2(x) - J1^2(x) of a round aperture (Rayleigh 1881; Born and Wolf 8.5, from
/// memory), cut at 99.5 % of the energy, blur Gaussian, dwell uniform.
[[nodiscard]] std::vector<Offset> contributionOffsets(const PointSpread& spread);

/// Radius inside which a diffraction pattern holds the share `energy` of its light, in units of wavelength * f-number.
[[nodiscard]] double airyRadius(double energy);

/// Modulation transfer of a square detector at a frequency in cycles per detector pitch: |sin(pi f) / (pi f)|.
[[nodiscard]] double footprintTransfer(double cycles_per_pitch);
/// Modulation transfer of a round aperture at a share v of its cut-off frequency 1 / (wavelength * f-number):
/// (2 / pi) (acos v - v sqrt(1 - v^2)); 0 from the cut-off on.
[[nodiscard]] double diffractionTransfer(double share_of_cut_off);
/// Modulation transfer of Gaussian blur: exp(-2 pi^2 sigma^2 f^2).
[[nodiscard]] double blurTransfer(double sigma_pitch, double cycles_per_pitch);

}  // namespace linefall
