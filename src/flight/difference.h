#pragma once
// What a cause does to the counts: the image with it minus the image without it, sample by sample. Both have the same
// seeds, so noise cancels where only the light changed.

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "base/raster.h"
#include "flight/image.h"

namespace linefall {

/// Signed differences of two images of one instrument.
struct Difference {
    std::vector<Band> bands;
    /// With minus without, in counts of the image with the cause; samples x lines, one a band. A count stands for the middle
    /// of its step, so that images of other steps (without quantisation) compare in electrons; of the same steps the
    /// difference is a whole number.
    std::vector<Raster<float>> counts;
    Raster<std::uint8_t> sky;  ///< 1 where a sample of either image met nothing: no difference is told there

    [[nodiscard]] int samples() const { return sky.columns(); }
    [[nodiscard]] int lines() const { return sky.rows(); }
};

/// The difference of the lines first .. last - 1 that stand in both images, others 0. Throws std::invalid_argument
/// when the images differ in samples, lines or bands.
[[nodiscard]] Difference differenceOf(const Image& with, const Image& without);
[[nodiscard]] Difference differenceOf(const Image& with, const Image& without, int first_line, int last_line);
/// Takes some lines again, into a difference of the same images.
void takeDifference(Difference& difference, const Image& with, const Image& without, int first_line, int last_line);

/// Numbers of a difference over some lines of one band, in counts. Samples of the sky are left out.
struct DifferenceStatistics {
    std::size_t samples = 0;
    double mean = 0.0;
    double rms = 0.0;      ///< root of the mean square, about zero
    double spread = 0.0;   ///< standard deviation, about the mean
    double least = 0.0, most = 0.0;
    double changed = 0.0;  ///< share of samples whose count changed at all
};
[[nodiscard]] DifferenceStatistics statisticsOf(const Difference& difference, int band, int first_line, int last_line);

/// The difference that is shown in full colour: of the samples that changed, in the shown bands, 98 % differ by less.
/// At least 1 count, so that one step of the converter never looks like a catastrophe.
[[nodiscard]] double differenceLimit(const Difference& difference, const BandChoice& shown, int first_line, int last_line);
/// "blue: fewer counts with the cause, orange: more; full colour from 37 counts on (98 % of what changed is less)".
[[nodiscard]] std::string differenceText(double limit);

/// On which ground a difference picture is shown: no difference is nearly the colour of the page.
enum class Neutral { light, dark };

/// Colour of a difference: -1 blue, 0 neutral, 1 orange; beyond that as at the end. A palette of our own in CIELAB (CIE 1976,
/// white D65): lightness runs evenly from the neutral to both ends alike, so it tells how much; hue tells the sign, along
/// the axis from blue to yellow that red-green blind eyes keep.
[[nodiscard]] std::array<std::uint8_t, 3> differenceColour(double share, Neutral neutral);

/// Display row, 3 bytes a sample: the mean difference of the shown bands divided by the limit. Sky is flat grey.
[[nodiscard]] std::vector<std::uint8_t> differenceRow(const Difference& difference, const BandChoice& shown, double limit,
                                                      Neutral neutral, int line);

}  // namespace linefall
