// Filling a map with counts.

#include <algorithm>
#include <array>
#include <cmath>

#include "flight/map_geometry.h"

namespace linefall {

namespace {

/// Up to four pixels and their weights.
struct Taps {
    struct Tap {
        int sample, line;
        double weight;
    };
    std::array<Tap, 4> of;
    int count = 0;
    void add(int sample, int line, double weight) { of[static_cast<std::size_t>(count++)] = {sample, line, weight}; }
};

Taps tapsOf(const MapGeometry::Cell& cell, const MapGeometry& map) {
    Taps taps;
    const double u = cell.u / 8191.0, v = cell.v / 8191.0;
    // At the rim of a roof the neighbour lies elsewhere, so on the ground a lone footprint speaks alone.
    if (map.resampling() == Resampling::nearest || (!cell.among_centres && map.level() == MapLevel::ground)) {
        taps.add(cell.sample, cell.line, 1.0);
    } else if (cell.among_centres) {
        taps.add(cell.sample, cell.line, (1.0 - u) * (1.0 - v));
        taps.add(cell.sample + 1, cell.line, u * (1.0 - v));
        taps.add(cell.sample, cell.line + 1, (1.0 - u) * v);
        taps.add(cell.sample + 1, cell.line + 1, u * v);
    } else {  // at the rim of what adjoins: between neighbours of the line, nearest across lines
        const int other = std::clamp(u < 0.5 ? cell.sample - 1 : cell.sample + 1, 0, map.samples() - 1);
        const double share = std::abs(u - 0.5);
        taps.add(cell.sample, cell.line, 1.0 - share);
        taps.add(other, cell.line, share);
    }
    return taps;
}

}  // namespace

MapPicture mapPicture(std::shared_ptr<const MapGeometry> geometry, const Image& image, int lines, int threads) {
    const MapFrame& frame = geometry->frame();
    MapPicture out;
    out.image.bands = image.bands;
    out.image.most_count = image.most_count;
    out.image.step_e = image.step_e;
    out.image.counts.assign(image.counts.size(), Raster<std::uint16_t>(frame.columns, frame.rows));
    out.image.sky = Raster<std::uint8_t>(frame.columns, frame.rows, 1);
    out.covered = Raster<std::uint8_t>(frame.columns, frame.rows);
    const int standing = lines < 0 ? image.lines() : std::min(lines, image.lines());
    parallelFor(frame.rows, threads, [&](int row) {
        for (int column = 0; column < frame.columns; ++column) {
            const MapGeometry::Cell cell = geometry->cell(column, row);
            if (!cell.filled || cell.line >= standing || cell.sample >= image.samples()) continue;
            Taps taps = tapsOf(cell, *geometry);
            const auto tells = [&](const Taps::Tap& t) { return t.line < standing && image.sky.at(t.sample, t.line) == 0; };
            // Where one of the pixels tells nothing, the nearest speaks alone.
            if (!std::all_of(taps.of.begin(), taps.of.begin() + taps.count, tells)) {
                const Taps::Tap nearest = *std::max_element(taps.of.begin(), taps.of.begin() + taps.count,
                                                            [](const Taps::Tap& a, const Taps::Tap& b) { return a.weight < b.weight; });
                if (!tells(nearest)) continue;
                taps = Taps{};
                taps.add(nearest.sample, nearest.line, 1.0);
            }
            for (std::size_t b = 0; b < image.counts.size(); ++b) {
                double sum = 0.0;
                for (int k = 0; k < taps.count; ++k) {
                    const Taps::Tap& t = taps.of[static_cast<std::size_t>(k)];
                    sum += t.weight * image.counts[b].at(t.sample, t.line);
                }
                out.image.counts[b].at(column, row) = static_cast<std::uint16_t>(sum + 0.5);
            }
            out.image.sky.at(column, row) = 0;
            out.covered.at(column, row) = 1;
        }
    });
    out.geometry = std::move(geometry);
    return out;
}

}  // namespace linefall
