#pragma once
// From image geometry to map geometry, the way a map is made without a terrain model: each pixel goes where its look meets
// the datum, so that relief displacement stays visible. Or, for contrast, where it met the ground.

#include <atomic>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "base/raster.h"
#include "base/threads.h"
#include "flight/aim.h"
#include "flight/image.h"

namespace linefall {

/// A map of square cells, north up: column 0 is the west, row 0 the north.
struct MapFrame {
    double west_m = 0.0, north_m = 0.0;  ///< the outer corner of cell (0, 0), world frame
    double cell_m = 1.0;
    int columns = 0, rows = 0;

    /// The middle of a cell, east and north.
    [[nodiscard]] Vec2 middleOf(int column, int row) const { return {west_m + (column + 0.5) * cell_m, north_m - (row + 0.5) * cell_m}; }
    /// Where a point lies in the map's picture: cell (c, r) covers c .. c + 1 and r .. r + 1.
    [[nodiscard]] Vec2 placeOf(const Vec2& east_north_m) const { return {(east_north_m.x - west_m) / cell_m, (north_m - east_north_m.y) / cell_m}; }
};

enum class Resampling {
    nearest,   ///< a cell takes the count of the pixel whose footprint holds its middle: no new counts are made
    bilinear,  ///< between the centres of four neighbouring pixels; half a pixel beyond the outermost ones nearest across lines
};

enum class MapLevel {
    datum,   ///< looks end at the level of the datum: towers and hills stay displaced
    ground,  ///< looks end on the ground and on what stands on it: everything at its true place, what was hidden stays empty
};

struct MapPictureRequest {
    Resampling resampling = Resampling::nearest;
    MapLevel level = MapLevel::datum;
    double cell_m = 0.0;            ///< 0: the spacing of samples at the nadir, larger where the map would have too many cells
    std::optional<MapFrame> frame;  ///< nothing: all that is seen less than 75 degrees off the vertical
    int most_cells = 16'000'000;
    int threads = 0;
};

/// Where each cell of a map comes from in the image. Geometry alone: counts may change, and lines may still be missing.
///
/// A pixel's footprint is its field of view at the middle of its dwell, from the instrument's own looks at its corners.
/// Where lines or samples overlap, the later line (and the larger sample) wins. A seam narrower than a quarter of a footprint,
/// as the platform's turning opens between lines, is closed half from each side; wider ones stay empty. Looks more than
/// 80 degrees off the vertical are left out.
class MapGeometry {
public:
    MapGeometry(const MapFrame& frame, Resampling resampling, MapLevel level, int samples, int lines)
        : frame_(frame), resampling_(resampling), level_(level), samples_(samples), lines_(lines),
          cells_(static_cast<std::size_t>(frame.columns) * static_cast<std::size_t>(frame.rows)) {}

    [[nodiscard]] const MapFrame& frame() const { return frame_; }
    [[nodiscard]] Resampling resampling() const { return resampling_; }
    [[nodiscard]] MapLevel level() const { return level_; }
    [[nodiscard]] int samples() const { return samples_; }  ///< of the image
    [[nodiscard]] int lines() const { return lines_; }
    [[nodiscard]] bool covered(int column, int row) const { return word(column, row) != 0; }
    /// The place in the picture that the middle of a cell comes from, to 1/8192 pixel; nothing where the map is empty.
    [[nodiscard]] std::optional<PicturePlace> source(int column, int row) const;

    /// What a cell holds: nothing, or a pixel and the place within its footprint or among four centres, each 0 .. 8191.
    struct Cell {
        bool filled = false;
        bool among_centres = false;  ///< between the centres of (line, sample) and its next neighbours; else within a footprint
        int line = 0, sample = 0;
        int u = 0, v = 0;            ///< along the line, across lines
    };
    [[nodiscard]] Cell cell(int column, int row) const { return unpacked(word(column, row)); }
    /// Gives a cell to whoever asks with the larger word; from any thread, in any order.
    void claim(int column, int row, std::uint64_t word) {
        std::atomic<std::uint64_t>& held = cells_[index(column, row)];
        std::uint64_t before = held.load(std::memory_order_relaxed);
        while (before < word && !held.compare_exchange_weak(before, word, std::memory_order_relaxed)) {}
    }
    /// The larger word wins a cell: among centres before footprints, then the later line, then the larger sample.
    [[nodiscard]] static std::uint64_t packed(const Cell& cell) {
        return std::uint64_t{1} << 63 | std::uint64_t{cell.among_centres} << 62 | static_cast<std::uint64_t>(cell.line) << 42 |
               static_cast<std::uint64_t>(cell.sample) << 26 | static_cast<std::uint64_t>(cell.u) << 13 | static_cast<std::uint64_t>(cell.v);
    }
    [[nodiscard]] static Cell unpacked(std::uint64_t word) {
        return {word >> 63 != 0, (word >> 62 & 1) != 0, static_cast<int>(word >> 42 & 0xFFFFF), static_cast<int>(word >> 26 & 0xFFFF),
                static_cast<int>(word >> 13 & 0x1FFF), static_cast<int>(word & 0x1FFF)};
    }

private:
    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(frame_.columns) + static_cast<std::size_t>(column);
    }
    [[nodiscard]] std::uint64_t word(int column, int row) const { return cells_[index(column, row)].load(std::memory_order_relaxed); }

    MapFrame frame_;
    Resampling resampling_;
    MapLevel level_;
    int samples_, lines_;
    std::vector<std::atomic<std::uint64_t>> cells_;
};

/// Makes the geometry of a map; null when cancelled. Throws InputError when the wanted cells or frame make too large a map.
/// Any number of threads gives the same map.
[[nodiscard]] std::shared_ptr<const MapGeometry> mapGeometry(const Aim& aim, const MapPictureRequest& request, const Cancel* cancel = nullptr);

/// A map with the counts of an image: everything that shows an image shows its `image` (columns for samples, rows for
/// lines). Cells without a count are marked as sky there, and 0 in `covered`.
struct MapPicture {
    Image image;
    Raster<std::uint8_t> covered;
    std::shared_ptr<const MapGeometry> geometry;
};

/// Fills a map from the lines 0 .. lines - 1 of the image (-1: all). Bilinear counts are rounded to whole ones.
[[nodiscard]] MapPicture mapPicture(std::shared_ptr<const MapGeometry> geometry, const Image& image, int lines = -1, int threads = 0);

}  // namespace linefall
