#pragma once
// The formed image between rulers that count its samples and lines, so that one can measure in it on paper.

#include "figure/figures.h"

namespace linefall {

/// What stands beside the picture. A lesson that asks for one of them leaves it out.
struct RuledWith {
    bool north = true, sun = true;
    bool scale = true;  ///< how large a pixel is
};

/// A part of a picture, in samples and lines.
struct PictureWindow {
    int sample = 0, line = 0, samples = 0, lines = 0;
    friend bool operator==(const PictureWindow&, const PictureWindow&) = default;
};

/// How many pixels lie between two numbers of a ruler, and between two of its ticks.
struct RulerStep {
    int numbers = 20, ticks = 5;
    friend bool operator==(const RulerStep&, const RulerStep&) = default;
};
/// 20, 50, 100, ... pixels: the first whose numbers have room on a ruler where a pixel is `cell` wide.
[[nodiscard]] RulerStep rulerStep(double cell);

/// The whole image of one formation, formed already, with the look that its scene says (show.*). Ruler numbers stand at the
/// first edge of their pixel: pixel 0 lies between the marks 0 and 1, and its centre is read as 0.5. Painted at `paint_scale`
/// every sample is a whole number of pixels wide.
inline constexpr int ruled_paint_scale = 3;
[[nodiscard]] Figure ruledPicture(const Scene& scene, const Formation& formation, int instrument, const Type& type, const RuledWith& with = {});
/// A part of it, enlarged, between rulers that count on.
[[nodiscard]] Figure ruledDetail(const Scene& scene, const Formation& formation, int instrument, const Type& type, const PictureWindow& window);
/// How wide a pixel of the whole picture stands on a page that is `width_mm` wide and gives a picture `height_mm`.
[[nodiscard]] double pixelOnPaper_mm(const Formation& formation, double width_mm, double height_mm);
/// How tall the whole drawing is, rulers and all, where a pixel is `pixel_mm` wide.
[[nodiscard]] double heightOnPaper_mm(const Formation& formation, double pixel_mm);

}  // namespace linefall
