#include "measure/region.h"

#include <algorithm>
#include <cmath>

namespace linefall {

Region rectangleOf(const PicturePlace& one, const PicturePlace& other) {
    const double left = std::floor(std::min(one.sample, other.sample));
    const double right = std::floor(std::max(one.sample, other.sample)) + 1.0;
    const double first = std::floor(std::min(one.line, other.line));
    const double last = std::floor(std::max(one.line, other.line)) + 1.0;
    return {{{left, first}, {right, first}, {right, last}, {left, last}}};
}

Region squareRound(const PixelIndex& middle, int size) {
    const int half = (size - 1) / 2;
    return rectangleOf(centreOf(middle.sample - half, middle.line - half), centreOf(middle.sample + half, middle.line + half));
}

Region linesOf(const Formation& formation, int first_line, int last_line) {
    const double right = formation.samples();
    return {{{0.0, static_cast<double>(first_line)}, {right, static_cast<double>(first_line)},
             {right, static_cast<double>(last_line)}, {0.0, static_cast<double>(last_line)}}};
}

std::vector<PixelRun> pixelsIn(const Region& region, int samples, int lines) {
    std::vector<PixelRun> runs;
    const std::vector<PicturePlace>& corners = region.corners;
    if (corners.size() < 3) return runs;
    double least = corners[0].line;
    double most = corners[0].line;
    for (const PicturePlace& corner : corners) {
        if (!std::isfinite(corner.sample) || !std::isfinite(corner.line)) return runs;
        least = std::min(least, corner.line);
        most = std::max(most, corner.line);
    }
    const int first_line = static_cast<int>(std::clamp(std::floor(least), 0.0, static_cast<double>(lines)));
    const int last_line = static_cast<int>(std::clamp(std::ceil(most), 0.0, static_cast<double>(lines)));
    std::vector<double> crossings;
    for (int line = first_line; line < last_line; ++line) {
        const double height = line + 0.5;
        crossings.clear();
        for (std::size_t i = 0; i < corners.size(); ++i) {
            const PicturePlace& a = corners[i];
            const PicturePlace& b = corners[(i + 1) % corners.size()];
            if ((a.line <= height) == (b.line <= height)) continue;
            crossings.push_back(a.sample + (height - a.line) / (b.line - a.line) * (b.sample - a.sample));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
            // Centres s + 0.5 with crossing i <= s + 0.5 < crossing i + 1.
            const auto index = [&](double at) { return static_cast<int>(std::clamp(std::ceil(at - 0.5), 0.0, static_cast<double>(samples))); };
            const int first = index(crossings[i]);
            const int last = index(crossings[i + 1]);
            if (first < last) runs.push_back({line, first, last});
        }
    }
    return runs;
}

}  // namespace linefall
