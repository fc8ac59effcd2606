#pragma once
// A figure before it is a file: a list of shapes, words and rasters, written as SVG (figure/svg.h) or painted into pixels
// (figure/paint.h). Lengths are pixels at 1x, x to the right and y down from the upper left corner.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/vectors.h"

namespace linefall {

/// sRGB codes, and how much of it covers what lies below.
struct Ink {
    std::uint8_t red = 0, green = 0, blue = 0;
    double cover = 1.0;

    [[nodiscard]] static constexpr Ink hex(unsigned rgb) {
        return {static_cast<std::uint8_t>(rgb >> 16 & 255), static_cast<std::uint8_t>(rgb >> 8 & 255), static_cast<std::uint8_t>(rgb & 255), 1.0};
    }
    [[nodiscard]] constexpr Ink faded(double share) const { return {red, green, blue, cover * share}; }
    friend bool operator==(const Ink&, const Ink&) = default;
};

/// How a line is drawn. `casing`: a wider line under it, so that it shows over any picture.
struct Stroke {
    Ink ink;
    double width = 1.0;
    std::vector<double> dash{};  ///< lengths drawn and left out in turn; empty: unbroken
    std::optional<Ink> casing{};
    double casing_width = 1.5;   ///< on each side
};

struct Contour {
    std::vector<Vec2> points;
    bool closed = false;
    std::optional<Stroke> stroke{};
    std::optional<Ink> fill{};
};

struct Disc {
    Vec2 centre{0.0};
    double radius = 1.0;
    std::optional<Stroke> stroke{};
    std::optional<Ink> fill{};
};

enum class Weight { regular, strong, mono };
enum class Anchor { start, middle, end };

/// One line of text; `at` is the anchor on the baseline. `upwards`: turned to be read from below.
struct Words {
    Vec2 at{0.0};
    std::string text;
    double size = 13.0;
    Ink ink{};
    Weight weight = Weight::regular;
    Anchor anchor = Anchor::start;
    bool upwards = false;
};

/// 8-bit pixels, row by row from the top; `channels` 1 (grey) or 3 (sRGB).
struct Pixels {
    int columns = 0, rows = 0, channels = 3;
    std::vector<std::uint8_t> values;

    [[nodiscard]] std::size_t at(int column, int row) const {
        return (static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column)) *
               static_cast<std::size_t>(channels);
    }
};

/// A raster, laid over a rectangle. Of several versions of the same picture the coarsest that is fine enough is taken.
/// Enlarged by whole factors every pixel stays a square of one colour; made smaller, pixels are averaged.
struct RasterPicture {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
    std::vector<std::shared_ptr<const Pixels>> versions;  ///< from coarse to fine
};

/// All that follows, up to ClipEnd, shows only inside. Not nested.
struct ClipBegin {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
};
struct ClipEnd {};

using Mark = std::variant<Contour, Disc, Words, RasterPicture, ClipBegin, ClipEnd>;

struct Drawing {
    double width = 800.0, height = 600.0;
    Ink ground{};
    std::string title;        ///< one line
    std::string description;  ///< for those who cannot see it
    std::vector<Mark> marks;

    void line(Vec2 from, Vec2 to, Stroke stroke) { marks.emplace_back(Contour{{from, to}, false, std::move(stroke), std::nullopt}); }
    void lines(std::vector<Vec2> points, Stroke stroke, bool closed = false) {
        marks.emplace_back(Contour{std::move(points), closed, std::move(stroke), std::nullopt});
    }
    void area(std::vector<Vec2> points, Ink fill) { marks.emplace_back(Contour{std::move(points), true, std::nullopt, fill}); }
    void box(double x, double y, double w, double h, Ink fill) { area({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, fill); }
    void frame(double x, double y, double w, double h, Stroke stroke) {
        lines({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, std::move(stroke), true);
    }
    void words(Words words) { marks.emplace_back(std::move(words)); }
};

}  // namespace linefall
