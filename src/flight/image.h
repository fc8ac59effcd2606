#pragma once
// The image of record: counts, and what each sample met.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/raster.h"
#include "base/spectrum.h"

namespace linefall {

struct Image {
    std::vector<Band> bands;
    std::vector<Raster<std::uint16_t>> counts;  ///< one a band; samples x lines; row 0 is first in time, column 0 starboard
    Raster<std::uint8_t> sky;                   ///< 1 where any contribution of the sample met nothing
    int most_count = 0;                         ///< the largest number that the converter can write
    double step_e = 1.0;                        ///< electrons a count

    [[nodiscard]] int samples() const { return sky.columns(); }
    [[nodiscard]] int lines() const { return sky.rows(); }
};

/// How counts become grey or colour on a screen. Stated with every picture.
struct Stretch {
    enum class Kind { none, percent, value } kind = Kind::percent;
    double low_percent = 0.5, high_percent = 98.0;  ///< percent: share of samples left dark and bright
    double low_count = 0.0, high_count = 0.0;       ///< value: counts shown black and white
    /// True: through the screen's own curve (sRGB, IEC 61966-2-1), so that the light of the screen follows the counts;
    /// false: the code sent to the screen follows the counts.
    bool screen_curve = true;
    [[nodiscard]] std::string text() const;
    friend bool operator==(const Stretch&, const Stretch&) = default;
};

/// Which bands are shown: three indices for colour, or one three times for grey.
struct BandChoice {
    int red = 0, green = 0, blue = 0;
    std::string name;  ///< "true colour", "false colour", "band red"
    [[nodiscard]] bool grey() const { return red == green && green == blue; }
};

/// True colour (bands nearest to 650, 550, 470 nm), false colour (850, 650, 550 nm), a single band by its name, or three
/// names for red, green and blue with commas between them.
/// Falls back to the first band in grey when the bands do not serve. Empty name of the result: unknown choice.
[[nodiscard]] BandChoice chooseBands(const std::vector<Band>& bands, const std::string& choice);

/// Limits of the stretch for one band over the lines first .. last - 1: counts shown black and white.
struct StretchLimits {
    double low = 0.0, high = 1.0;
};
[[nodiscard]] StretchLimits limitsOf(const Image& image, int band, const Stretch& stretch, int first_line, int last_line);
/// The same from some lines alone; they need not adjoin.
[[nodiscard]] StretchLimits limitsOf(const Image& image, int band, const Stretch& stretch, std::span<const int> lines);

/// The code that a count is sent to the screen as.
[[nodiscard]] std::uint8_t displayCode(double count, const StretchLimits& limits, bool screen_curve);

/// Display rows: 3 bytes a sample, or 1 when grey. Sky samples get a flat blue-grey of their own.
[[nodiscard]] std::vector<std::uint8_t> displayRow(const Image& image, const BandChoice& choice,
                                                   const std::vector<StretchLimits>& limits_rgb, bool screen_curve, int line);

/// The sRGB code of a share of full light, 0..1 to 0..255. IEC 61966-2-1.
[[nodiscard]] std::uint8_t screenCode(double light);

}  // namespace linefall
