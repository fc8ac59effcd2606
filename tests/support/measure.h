#pragma once
// Measuring in formed images, by counts alone.

#include <cmath>
#include <optional>
#include <stdexcept>
#include <vector>

#include "flight/image.h"

namespace linefall::test {

/// The counts of one line, or of one column, as a list.
inline std::vector<double> lineOf(const Image& image, int line, std::size_t band = 0) {
    std::vector<double> out;
    for (int s = 0; s < image.samples(); ++s) out.push_back(image.counts[band].at(s, line));
    return out;
}

inline std::vector<double> columnOf(const Image& image, int sample, std::size_t band = 0) {
    std::vector<double> out;
    for (int l = 0; l < image.lines(); ++l) out.push_back(image.counts[band].at(sample, l));
    return out;
}

/// Walking from index `from` by `step`, the place where the counts cross `level` for the first time: between two pixels'
/// centres, in pixels from the picture's edge (a pixel's centre is at +0.5), half way when the pixels show no blur.
inline double crossing(const std::vector<double>& counts, int from, int step, double level) {
    for (int i = from; i + step >= 0 && i + step < static_cast<int>(counts.size()); i += step) {
        const double here = counts[static_cast<std::size_t>(i)] - level;
        const double next = counts[static_cast<std::size_t>(i + step)] - level;
        if ((here < 0.0) != (next < 0.0)) return i + 0.5 + step * here / (here - next);
    }
    throw std::runtime_error("the counts never cross the level");
}

/// The same, half way between the two pixels: for edges that fall between point samples.
inline double edgeBetween(const std::vector<double>& counts, int from, int step, double level) {
    const double at = crossing(counts, from, step, level) - 0.5;  // in centres
    return step > 0 ? std::floor(at) + 1.0 : std::ceil(at);
}

/// Middles of the runs of pixels below (or above) a level, in pixels, weighted by how far they are beyond it.
inline std::vector<double> darkMiddles(const std::vector<double>& counts, double level) {
    std::vector<double> out;
    double sum = 0.0, weight = 0.0;
    for (std::size_t i = 0; i <= counts.size(); ++i) {
        const double depth = i < counts.size() ? level - counts[i] : 0.0;
        if (depth > 0.0) {
            sum += depth * (static_cast<double>(i) + 0.5);
            weight += depth;
        } else if (weight > 0.0) {
            out.push_back(sum / weight);
            sum = weight = 0.0;
        }
    }
    return out;
}

/// Mean, and amplitude of the sine of a known frequency (cycles a pixel), of a stretch of counts: least squares over a
/// whole number of periods.
struct Wave {
    double mean = 0.0, amplitude = 0.0;
};
inline Wave waveOf(const std::vector<double>& counts, int first, int count, double cycles_per_pixel) {
    // Normal equations for counts = a + b cos + c sin, solved in closed form by Gauss elimination.
    double m[3][4] = {};
    for (int i = first; i < first + count; ++i) {
        const double t = 2.0 * 3.14159265358979323846 * cycles_per_pixel * (i + 0.5);
        const double f[3] = {1.0, std::cos(t), std::sin(t)};
        for (int r = 0; r < 3; ++r) {
            for (int c = 0; c < 3; ++c) m[r][c] += f[r] * f[c];
            m[r][3] += f[r] * (counts[static_cast<std::size_t>(i)] + 0.5);
        }
    }
    for (int p = 0; p < 3; ++p) {
        for (int r = 0; r < 3; ++r) {
            if (r == p) continue;
            const double k = m[r][p] / m[p][p];
            for (int c = p; c < 4; ++c) m[r][c] -= k * m[p][c];
        }
    }
    return {m[0][3] / m[0][0], std::hypot(m[1][3] / m[1][1], m[2][3] / m[2][2])};
}

}  // namespace linefall::test
