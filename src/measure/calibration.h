#pragma once
// From counts back to radiance and reflectance, by the instrument's own calibration.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "flight/formation.h"

namespace linefall {

/// In which quantity pixels are read.
enum class Scale {
    counts,
    radiance,     ///< at the sensor, W m-2 sr-1 um-1
    reflectance,  ///< at the top of the air: the air is not taken off
};
[[nodiscard]] const std::vector<std::string>& scaleNames();  ///< "counts", "radiance", "reflectance"; in the order of Scale
/// "counts", "W m-2 sr-1 um-1", "" (a share of one).
[[nodiscard]] std::string unitOf(Scale scale);
/// What must be said beside a number of this scale; empty for counts.
[[nodiscard]] std::string cautionOf(Scale scale);

/// How the counts of one line are read. The walk from radiance to counts, backwards, at the mean gain of all detectors:
///   L = ((DN + 1/2) q - n_d) / (k cos^4 a)
/// (a receptor that saturates softly: n = h (DN + 1/2) / (DN_max + 1/2 - DN) electrons in place of the product)
/// DN: count, read at the middle of its step; q: electrons a count; n_d: dark electrons of a dwell; k: electrons per
/// radiance on the axis (electronsPerRadiance); a: angle off the axis (0 for a mirror, and with effect.cos4 off).
///   rho = pi L d^2 / (E_0 cos theta_s)
/// E_0: solar irradiance of the band at 1 au; d: distance of the sun, au; theta_s: solar zenith angle of the line. This is
/// the reflectance that level Lambertian ground without air would have. A count at either end of the converter's range
/// says only "at most" or "at least" so much.
class LineScale {
public:
    LineScale(const Formation& formation, Scale scale, int line);

    /// False: the sun is down, so no reflectance can be given.
    [[nodiscard]] bool defined() const { return defined_; }
    [[nodiscard]] double valueOf(int band, int sample, double count) const {
        if (!soft_.empty()) return softly(band, count) / falloff(sample);
        const Affine& a = bands_[static_cast<std::size_t>(band)];
        return (count * a.per_count + a.offset) / falloff(sample);
    }
    /// The same for neighbouring samples, whose falloffs are given (none are read where all are 1).
    void valuesOf(int band, std::span<const std::uint16_t> counts, std::span<const double> falloffs, std::span<double> values) const;
    /// cos^4 of the angle off the axis of samples first, first + 1, ...; nothing is written where all are 1.
    void falloffsOf(int first, std::span<double> falloffs) const;
    /// cos^4 of the angle off the axis where the walk has it, else 1; 1 for counts.
    [[nodiscard]] double falloff(int sample) const;

private:
    struct Affine {
        double per_count = 1.0, offset = 0.0;
    };
    const Instrument* instrument_;
    int line_;
    bool defined_ = true;
    bool falls_off_ = false;
    [[nodiscard]] double softly(int band, double count) const;
    std::vector<Affine> bands_;
    std::vector<Steps> soft_;  ///< of bands that saturate softly: then bands_ holds the value of an electron, and the dark
};

}  // namespace linefall
