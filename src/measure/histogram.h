#pragma once
// How often each value occurs in a part of a picture.

#include <cstdint>
#include <span>
#include <vector>

#include "measure/calibration.h"
#include "measure/region.h"

namespace linefall {

/// Bins of equal width for drawing.
struct Bins {
    double low = 0.0;    ///< where the first bin begins
    double width = 1.0;  ///< of a bin, in the histogram's scale
    std::vector<std::uint64_t> values;
    std::uint64_t below = 0, above = 0;  ///< pixels outside all bins
    [[nodiscard]] std::uint64_t highest() const;
};

/// The values of one band. Kept in fine steps: of one count, or, for radiance and reflectance where the walk falls off
/// towards the edge, of 1/65536 of the range of the values. A count stands for its step, [count, count + 1).
class Histogram {
public:
    Histogram() = default;
    /// Lines that are up to date, sky left out.
    Histogram(const Formation& formation, int band, Scale scale, const Region& region);
    /// Counts of the lines first .. last - 1 of an image, whatever their state.
    Histogram(const Image& image, int band, int first_line, int last_line);

    [[nodiscard]] std::uint64_t total() const { return total_; }
    [[nodiscard]] std::uint64_t sky() const { return sky_; }
    [[nodiscard]] std::uint64_t atZero() const { return at_zero_; }  ///< pixels at count 0
    [[nodiscard]] std::uint64_t atMost() const { return at_most_; }  ///< pixels at the largest count
    /// The range that is used: the lowest and the highest step that holds a pixel. Both 0 when there is none.
    [[nodiscard]] double least() const { return valueAt(first_); }
    [[nodiscard]] double most() const { return total_ == 0 ? 0.0 : valueAt(last_); }
    [[nodiscard]] double step() const { return step_; }

    /// The lowest step such that at least `percent` of all pixels lie in it or below; 0 without pixels.
    [[nodiscard]] double percentile(double percent) const;
    /// Share of all pixels in the step of a value and below, 0..1.
    [[nodiscard]] double shareUpTo(double value) const;
    /// About `wanted` bins over the used range, each of the same whole number of steps, so that no bin is favoured.
    [[nodiscard]] Bins bins(int wanted) const;
    /// The same over a range of one's own: pixels outside are told.
    [[nodiscard]] Bins bins(int wanted, double low, double high) const;

private:
    [[nodiscard]] double valueAt(std::size_t step) const { return low_ + step_ * static_cast<double>(step); }
    void settle();

    double low_ = 0.0, step_ = 1.0;
    std::vector<std::uint64_t> fine_;
    std::vector<std::uint64_t> up_to_;  // cumulative
    std::size_t first_ = 0, last_ = 0;
    std::uint64_t total_ = 0, sky_ = 0, at_zero_ = 0, at_most_ = 0;
};

}  // namespace linefall
