#include "figure/difference_part.h"

#include <algorithm>
#include <cmath>

#include "base/quantity.h"

namespace linefall {

namespace {

Neutral neutralOf(bool night) { return night ? Neutral::dark : Neutral::light; }

std::string signedText(double value, int figures) {
    const std::string text = figuresText(std::abs(value), figures);
    return (value < 0.0 ? "−" : value > 0.0 ? "+" : "") + text;
}

}  // namespace

DifferencePart differencePart(const Scene& scene, Cause cause, const Image& own, const Image& other, const BandChoice& shown, int lines) {
    const bool on = isOn(scene, cause);
    DifferencePart part;
    part.cause = cause;
    part.difference = differenceOf(on ? own : other, on ? other : own, 0, lines);
    part.limit = differenceLimit(part.difference, shown, 0, lines);
    std::vector<int> bands{shown.red};
    for (const int band : {shown.green, shown.blue}) {
        if (std::find(bands.begin(), bands.end(), band) == bands.end()) bands.push_back(band);
    }
    double squares = 0.0;
    for (const int band : bands) {
        const DifferenceStatistics one = statisticsOf(part.difference, band, 0, lines);
        part.numbers.samples = one.samples;
        part.numbers.mean += one.mean / static_cast<double>(bands.size());
        squares += one.rms * one.rms / static_cast<double>(bands.size());
        part.numbers.changed = std::max(part.numbers.changed, one.changed);
    }
    part.numbers.rms = std::sqrt(squares);
    return part;
}

Pixels differencePixels(const DifferencePart& part, const BandChoice& shown, int lines, bool turned, bool night) {
    Pixels pixels{part.difference.samples(), lines, 3, {}};
    for (int i = 0; i < lines; ++i) {
        std::vector<std::uint8_t> row = differenceRow(part.difference, shown, part.limit, neutralOf(night), turned ? lines - 1 - i : i);
        if (turned) {
            for (std::size_t a = 0, b = row.size(); a + 3 < b; a += 3, b -= 3) std::swap_ranges(row.begin() + static_cast<std::ptrdiff_t>(a), row.begin() + static_cast<std::ptrdiff_t>(a + 3), row.begin() + static_cast<std::ptrdiff_t>(b - 3));
        }
        pixels.values.insert(pixels.values.end(), row.begin(), row.end());
    }
    return pixels;
}

double differenceKey(Page& page, const DifferencePart& part, double x, double y, bool night) {
    constexpr int steps = 65, cell = 4, height = 14;
    auto bar = std::make_shared<Pixels>(Pixels{steps, 1, 3, {}});
    for (int i = 0; i < steps; ++i) {
        const auto colour = differenceColour(2.0 * i / (steps - 1) - 1.0, neutralOf(night));
        bar->values.insert(bar->values.end(), colour.begin(), colour.end());
    }
    const double width = steps * cell;
    page.drawing.marks.emplace_back(RasterPicture{x, y, width, height, {bar}});
    page.drawing.frame(x, y, width, height, page.hair());
    for (const double share : {-1.0, 0.0, 1.0}) {
        const double at = x + 0.5 * (share + 1.0) * width;
        page.drawing.line({at, y + height}, {at, y + height + 5.0}, page.hair());
        page.text(at, y + height + 19.0, share == 0.0 ? "0" : signedText(share * part.limit, 3), share < 0.0 ? Anchor::start : share > 0.0 ? Anchor::end : Anchor::middle);
    }
    page.text(x + width + 14.0, y + 12.0, std::string("counts with ") + rowOf(part.cause).name + " minus counts without", Anchor::start, small_size, Weight::strong);
    page.quiet(x + width + 14.0, y + 29.0, "mean of the shown bands; beyond the ends as at the ends");
    return y + height + 22.0;
}

std::string differenceTitle(const DifferencePart& part) { return std::string("What ") + rowOf(part.cause).name + " does"; }

std::string differenceSentence(const DifferencePart& part) {
    return std::string("Shown is what ") + rowOf(part.cause).name + " does: counts with it minus counts without it, all else and all seeds the same; " + differenceText(part.limit) +
           ". In the shown bands the counts differ by " + signedText(part.numbers.mean, 3) + " on average and by " + figuresText(part.numbers.rms, 3) + " root mean square; " +
           "up to " + shortText(part.numbers.changed, Kind::ratio, 3) + " of the samples of a band changed.";
}

}  // namespace linefall
