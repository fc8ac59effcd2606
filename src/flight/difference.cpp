#include "flight/difference.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/angle.h"
#include "base/quantity.h"

namespace linefall {

namespace {

std::vector<std::size_t> bandsOf(const BandChoice& shown) {
    std::vector<std::size_t> out;
    for (const int band : {shown.red, shown.green, shown.blue}) {
        const auto b = static_cast<std::size_t>(band);
        if (std::find(out.begin(), out.end(), b) == out.end()) out.push_back(b);
    }
    return out;
}

void compare(const Image& with, const Image& without) {
    if (with.samples() != without.samples() || with.lines() != without.lines() || with.counts.size() != without.counts.size()) {
        throw std::invalid_argument("a difference needs two images of the same samples, lines and bands");
    }
}

}  // namespace

Difference differenceOf(const Image& with, const Image& without) { return differenceOf(with, without, 0, with.lines()); }

Difference differenceOf(const Image& with, const Image& without, int first_line, int last_line) {
    Difference out;
    out.bands = with.bands;
    out.counts.assign(with.counts.size(), Raster<float>(with.samples(), with.lines()));
    out.sky = Raster<std::uint8_t>(with.samples(), with.lines());
    takeDifference(out, with, without, first_line, last_line);
    return out;
}

void takeDifference(Difference& difference, const Image& with, const Image& without, int first_line, int last_line) {
    compare(with, without);
    const double steps = without.step_e / with.step_e;
    // (n_without + 1/2) steps, less (n_with + 1/2): the halves cancel for equal steps.
    const double half = 0.5 * (1.0 - steps);
    const auto width = static_cast<std::size_t>(with.samples());
    for (int line = std::max(0, first_line); line < std::min(last_line, with.lines()); ++line) {
        for (std::size_t s = 0; s < width; ++s) {
            difference.sky.row(line)[s] = with.sky.row(line)[s] != 0 || without.sky.row(line)[s] != 0 ? 1 : 0;
        }
        for (std::size_t b = 0; b < with.counts.size(); ++b) {
            const auto a = with.counts[b].row(line), c = without.counts[b].row(line);
            const auto out = difference.counts[b].row(line);
            const auto sky = difference.sky.row(line);
            for (std::size_t s = 0; s < width; ++s) {
                out[s] = sky[s] != 0 ? 0.0f : static_cast<float>(static_cast<double>(a[s]) - steps * static_cast<double>(c[s]) + half);
            }
        }
    }
}

DifferenceStatistics statisticsOf(const Difference& difference, int band, int first_line, int last_line) {
    DifferenceStatistics out;
    double sum = 0.0, squares = 0.0;
    std::size_t changed = 0;
    const Raster<float>& counts = difference.counts[static_cast<std::size_t>(band)];
    for (int line = std::max(0, first_line); line < std::min(last_line, difference.lines()); ++line) {
        for (std::size_t s = 0; s < static_cast<std::size_t>(counts.columns()); ++s) {
            if (difference.sky.row(line)[s] != 0) continue;
            const double d = static_cast<double>(counts.row(line)[s]);
            out.least = out.samples == 0 ? d : std::min(out.least, d);
            out.most = out.samples == 0 ? d : std::max(out.most, d);
            ++out.samples;
            sum += d;
            squares += d * d;
            changed += d != 0.0 ? 1 : 0;
        }
    }
    if (out.samples == 0) return out;
    const auto n = static_cast<double>(out.samples);
    out.mean = sum / n;
    out.rms = std::sqrt(squares / n);
    out.spread = std::sqrt(std::max(0.0, squares / n - out.mean * out.mean));
    out.changed = static_cast<double>(changed) / n;
    return out;
}

double differenceLimit(const Difference& difference, const BandChoice& shown, int first_line, int last_line) {
    std::vector<float> changed;
    for (const std::size_t b : bandsOf(shown)) {
        for (int line = std::max(0, first_line); line < std::min(last_line, difference.lines()); ++line) {
            for (const float d : difference.counts[b].row(line)) {
                if (d != 0.0f) changed.push_back(std::abs(d));
            }
        }
    }
    if (changed.empty()) return 1.0;
    const auto at = changed.begin() + static_cast<std::ptrdiff_t>(0.98 * static_cast<double>(changed.size() - 1));
    std::nth_element(changed.begin(), at, changed.end());
    return std::max(1.0, static_cast<double>(*at));
}

std::string differenceText(double limit) {
    return "blue: fewer counts with the cause, orange: more; full colour from " + (limit == std::round(limit) ? std::to_string(std::llround(limit)) : figuresText(limit, 3)) + (limit == 1.0 ? " count" : " counts") +
           " on (98 % of what changed is less)";
}

std::array<std::uint8_t, 3> differenceColour(double share, Neutral neutral) {
    const double a = std::min(1.0, std::abs(share));
    const bool light = neutral == Neutral::light;
    const double lightness = light ? 95.0 - 57.0 * a : 16.0 + 58.0 * a;
    const double chroma = (light ? 44.0 : 38.0) * a;
    const double hue = radiansFromDegrees(share < 0.0 ? 278.0 : 66.0);
    // CIELAB to XYZ: f(Y) = (L + 16) / 116, f(X) = f(Y) + a / 500, f(Z) = f(Y) - b / 200; CIE 15.
    const double fy = (lightness + 16.0) / 116.0;
    const auto whole = [](double f) { return f > 6.0 / 29.0 ? f * f * f : 3.0 * (6.0 / 29.0) * (6.0 / 29.0) * (f - 4.0 / 29.0); };
    const double x = 0.95047 * whole(fy + chroma * std::cos(hue) / 500.0);
    const double y = whole(fy);
    const double z = 1.08883 * whole(fy - chroma * std::sin(hue) / 200.0);
    // XYZ to linear sRGB, IEC 61966-2-1.
    return {screenCode(3.2406 * x - 1.5372 * y - 0.4986 * z), screenCode(-0.9689 * x + 1.8758 * y + 0.0415 * z),
            screenCode(0.0557 * x - 0.2040 * y + 1.0570 * z)};
}

namespace {

/// 511 shares from -1 to 1; the middle one is 0.
using Palette = std::array<std::array<std::uint8_t, 3>, 511>;
const Palette& paletteOn(Neutral neutral) {
    const auto made = [](Neutral ground) {
        Palette p{};
        for (int i = -255; i <= 255; ++i) p[static_cast<std::size_t>(i + 255)] = differenceColour(i / 255.0, ground);
        return p;
    };
    static const Palette light = made(Neutral::light), dark = made(Neutral::dark);
    return neutral == Neutral::light ? light : dark;
}

}  // namespace

std::vector<std::uint8_t> differenceRow(const Difference& difference, const BandChoice& shown, double limit, Neutral neutral, int line) {
    const std::vector<std::size_t> bands = bandsOf(shown);
    const double scale = 1.0 / (limit * static_cast<double>(bands.size()));
    const auto& palette = paletteOn(neutral);
    const std::array<std::uint8_t, 3> sky = neutral == Neutral::light ? std::array<std::uint8_t, 3>{190, 190, 190} : std::array<std::uint8_t, 3>{90, 90, 90};
    std::vector<std::uint8_t> out;
    out.reserve(static_cast<std::size_t>(difference.samples()) * 3);
    for (std::size_t s = 0; s < static_cast<std::size_t>(difference.samples()); ++s) {
        double sum = 0.0;
        for (const std::size_t b : bands) sum += static_cast<double>(difference.counts[b].row(line)[s]);
        const double share = std::clamp(sum * scale, -1.0, 1.0);
        const std::array<std::uint8_t, 3>& colour =
            difference.sky.row(line)[s] != 0 ? sky : palette[static_cast<std::size_t>(std::lround(255.0 * share) + 255)];
        out.insert(out.end(), colour.begin(), colour.end());
    }
    return out;
}

}  // namespace linefall
