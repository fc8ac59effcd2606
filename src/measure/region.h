#pragma once
// Which pixels an area of a picture holds.

#include <vector>

#include "measure/picture_place.h"

namespace linefall {

/// A polygon in a picture; edges may cross (then even-odd decides).
struct Region {
    std::vector<PicturePlace> corners;
};
/// All pixels between two picked ones, both included.
[[nodiscard]] Region rectangleOf(const PicturePlace& one, const PicturePlace& other);
/// `size` by `size` pixels, an odd number, round one in their middle.
[[nodiscard]] Region squareRound(const PixelIndex& middle, int size);
/// All pixels of the lines first .. last - 1.
[[nodiscard]] Region linesOf(const Formation& formation, int first_line, int last_line);

/// Pixels first .. last - 1 of a line.
struct PixelRun {
    int line = 0, first = 0, last = 0;
    friend bool operator==(const PixelRun&, const PixelRun&) = default;
};
/// The pixels whose centres lie inside, line by line. A centre on an edge belongs to one side only, so that polygons side
/// by side share no pixel.
[[nodiscard]] std::vector<PixelRun> pixelsIn(const Region& region, int samples, int lines);

}  // namespace linefall
