#pragma once
// The formed image on a page: with its times, the ground's scale, and the directions of north, sun and flight.

#include "figure/difference_part.h"
#include "figure/figures.h"
#include "flight/picture_look.h"

namespace linefall {

/// Where in a line, counted in samples from the starboard edge, level ground at datum lies so far from the track, m;
/// starboard is positive. Sample centres stand at half numbers. Worked out from the line's own looks at its own pose; linear
/// between neighbouring samples.
struct GroundTick {
    double column = 0.0, distance_m = 0.0;
};
[[nodiscard]] std::vector<GroundTick> groundTicks(const Formation& formation, int line, double step_m);

/// How many pixels of the page a sample and a line take: a whole number, or one part of a whole number.
struct PictureCell {
    int enlarged = 1, reduced = 1;
    [[nodiscard]] double size() const { return static_cast<double>(enlarged) / reduced; }
};
[[nodiscard]] PictureCell pictureCell(int samples, int lines);

/// The display rows of the image, lines 0 .. lines - 1; `turned` by half a turn.
[[nodiscard]] Pixels displayPixels(const Image& image, const PictureLook& look, int lines, bool turned);

/// The direction of an azimuth on the picture, a unit vector: its down is the track and its right is port, unless it is turned.
[[nodiscard]] Vec2 onPicture(double azimuth_rad, double track_rad, bool turned);

/// `part`: shown in place of the picture; null: the picture itself.
[[nodiscard]] Figure pictureFigure(const Scene& scene, Formations& formations, int instrument, const FigureRequest& request, const Type& type,
                                   const DifferencePart* part = nullptr);

}  // namespace linefall
