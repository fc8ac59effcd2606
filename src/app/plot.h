#pragma once
// Small plots in paper and ink: axes with round numbers, lines that differ by dash as well as by colour.

#include <string>
#include <vector>

#include "app/ui.h"

namespace linefall {

/// A round step that gives about `marks` marks on an axis of a length: 1, 2 or 5 times a power of ten.
[[nodiscard]] double roundStep(double length, double marks);

/// A number beside an axis, with no more figures than it needs.
[[nodiscard]] std::string axisText(double value, double step);

class Plot {
public:
    /// Draws the frame and both axes with their numbers; `place` includes the room for words, `left` is the least on that side
    /// (so that plots over one another have one axis).
    Plot(Ui& ui, const Rect& place, double x0, double x1, double y0, double y1, const std::string& x_words, const std::string& y_words, float left = 0.0f);
    [[nodiscard]] ImVec2 at(double x, double y) const;
    [[nodiscard]] const Rect& inside() const { return inside_; }
    /// A line through points; a value that is no number breaks it.
    void line(const std::vector<double>& x, const std::vector<double>& y, ImU32 colour, float width, float dash = 0.0f) const;
    /// Bars from the lower edge.
    void bar(double from, double to, double y, ImU32 colour) const;

private:
    Ui& ui_;
    Rect inside_;
    double x0_, x1_, y0_, y1_;
};

/// Colour and dash of the n-th band in a plot: Okabe-Ito, so that they can be told apart by all, and by dash without colour.
struct BandInk {
    ImU32 colour;
    float dash;
};
[[nodiscard]] BandInk bandInk(const Ui& ui, int band);

}  // namespace linefall
