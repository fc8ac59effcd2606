#pragma once
// What all figures share: title and foot of the page, ticks and numbers, arrows, plates behind words.

#include <functional>
#include <string>
#include <vector>

#include "figure/drawing.h"
#include "figure/palette.h"
#include "figure/type.h"

namespace linefall {

inline constexpr double page_margin = 24.0;
inline constexpr double text_size = 14.0, small_size = 13.0, title_size = 22.0;

/// A page being filled. The head stands at once; the foot when the height is known.
class Page {
public:
    /// Title, and under it lines of quiet words, broken where they are too wide: at " · " where there is one.
    Page(const Type& type, bool night, double width, const std::string& title, const std::vector<std::string>& words);

    Drawing drawing;
    PagePalette colours;
    const Type& type;
    double y = 0.0;  ///< where the next thing may begin

    void text(double x, double y, const std::string& words, Anchor anchor = Anchor::start, double size = small_size, Weight weight = Weight::regular);
    void quiet(double x, double y, const std::string& words, Anchor anchor = Anchor::start, double size = small_size);
    /// Words on a plate of paper; `at` as for Words. Returns nothing: it always fits its words.
    void plate(Vec2 at, const std::string& words, Ink ink, Anchor anchor, Weight weight = Weight::regular);
    /// A symbol of the walk: what follows its underscore is set lower and smaller.
    void symbol(double x, double y, const std::string& written);
    void arrow(Vec2 from, Vec2 to, Ink ink, double width = 2.0);
    [[nodiscard]] Stroke hair() const { return {colours.control, 1.0}; }
    /// "Simulated ... invented", and the height of the page.
    void foot();
};

/// Steps of 1, 2 or 5 times a power of ten: about `count` of them in a length.
[[nodiscard]] double niceStep(double length, int count);
/// A number for an axis that is marked in such steps.
[[nodiscard]] std::string axisNumber(double value, double step);
[[nodiscard]] std::string degreesText(double angle_rad, int figures = 3);
/// "south-east".
[[nodiscard]] std::string compassWord(double azimuth_rad);

/// Linear axes of a plot.
struct Plot {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
    double least_x = 0.0, most_x = 1.0, least_y = 0.0, most_y = 1.0;
    [[nodiscard]] double atX(double value) const { return x + width * (value - least_x) / (most_x - least_x); }
    [[nodiscard]] double atY(double value) const { return y + height * (1.0 - (value - least_y) / (most_y - least_y)); }
    [[nodiscard]] Vec2 at(double vx, double vy) const { return {atX(vx), atY(vy)}; }
};
void drawAxes(Page& page, const Plot& plot, const std::string& x_words, const std::string& y_words, bool right_side = false);

}  // namespace linefall
