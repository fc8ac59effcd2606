#include "figure/ruled_picture.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "figure/captions.h"
#include "figure/page.h"
#include "figure/picture_figure.h"
#include "flight/picture_look.h"
#include "measure/lengths.h"

namespace linefall {

namespace {

constexpr double left = 46.0, top = 34.0, right = 40.0, foot = 34.0, column = 128.0;

/// Device pixels a sample takes when the page is painted: as many as paper can show, at least one.
int deviceCell(int samples, int lines) { return std::max(1, std::min({(1920 + samples / 2) / std::max(1, samples), 2500 / std::max(1, lines), 60})); }

struct Ruled {
    double x, y, cell;
    PictureWindow shown;
    bool turned;
    [[nodiscard]] double width() const { return cell * shown.samples; }
    [[nodiscard]] double height() const { return cell * shown.lines; }
    [[nodiscard]] double atSample(int s) const { return turned ? x + width() - cell * (s - shown.sample) : x + cell * (s - shown.sample); }
    [[nodiscard]] double atLine(int l) const { return turned ? y + height() - cell * (l - shown.line) : y + cell * (l - shown.line); }
};

/// The first multiple of a step that is no smaller.
int upTo(int value, int step) { return (value + step - 1) / step * step; }

/// The part of a picture's pixels that a window shows.
Pixels cut(const Pixels& all, const PictureWindow& window, bool turned) {
    Pixels part{window.samples, window.lines, all.channels, {}};
    const int left_column = turned ? all.columns - window.sample - window.samples : window.sample, first_row = turned ? all.rows - window.line - window.lines : window.line;
    for (int row = first_row; row < first_row + window.lines; ++row) {
        const auto from = all.values.begin() + static_cast<std::ptrdiff_t>(all.at(left_column, row));
        part.values.insert(part.values.end(), from, from + static_cast<std::ptrdiff_t>(window.samples) * all.channels);
    }
    return part;
}

/// Ticks on both sides of the picture, so that a straightedge finds the same pixel on either.
void rulers(Page& page, const Ruled& p) {
    const RulerStep step = rulerStep(p.cell);
    const Stroke hair{page.colours.ink, 0.6}, bold{page.colours.ink, 1.1};
    const auto reach = [&](int i) { return i % step.numbers == 0 ? 9.0 : 4.0; };
    const auto words = [&](int i) { return std::to_string(i); };
    for (int s = upTo(p.shown.sample, step.ticks); s <= p.shown.sample + p.shown.samples; s += step.ticks) {
        const double x = p.atSample(s), r = reach(s);
        for (const auto& [from, way] : {std::pair{p.y, -1.0}, std::pair{p.y + p.height(), 1.0}}) page.drawing.line({x, from}, {x, from + way * r}, r > 5.0 ? bold : hair);
        if (s % step.numbers != 0) continue;
        page.text(x, p.y - 12.0, words(s), Anchor::middle);
        page.text(x, p.y + p.height() + 21.0, words(s), Anchor::middle);
    }
    for (int l = upTo(p.shown.line, step.ticks); l <= p.shown.line + p.shown.lines; l += step.ticks) {
        const double y = p.atLine(l), r = reach(l);
        for (const auto& [from, way] : {std::pair{p.x, -1.0}, std::pair{p.x + p.width(), 1.0}}) page.drawing.line({from, y}, {from + way * r, y}, r > 5.0 ? bold : hair);
        if (l % step.numbers != 0) continue;
        page.text(p.x - 12.0, y + 4.0, words(l), Anchor::end);
        page.text(p.x + p.width() + 12.0, y + 4.0, words(l), Anchor::start);
    }
}

void dials(Page& page, const Formation& formation, const Ruled& p, const RuledWith& with) {
    const double track = formation.motion().track_rad(), x = p.x + p.width() + right + 0.5 * column;
    constexpr double arm = 24.0;
    double y = p.y + arm + 6.0;
    const auto named = [&](const std::string& first, const std::string& second) {
        page.text(x, y + arm + 20.0, first, Anchor::middle, small_size, Weight::strong);
        if (!second.empty()) page.quiet(x, y + arm + 36.0, second, Anchor::middle);
        y += 2.0 * arm + (second.empty() ? 44.0 : 60.0);
    };
    if (with.north) {
        const Vec2 north = onPicture(0.0, track, p.turned);
        page.arrow(Vec2{x, y} - arm * north, Vec2{x, y} + arm * north, page.colours.ink);
        named("north", "");
    }
    const Sunlight sun = formation.sun(0);
    if (with.sun && sun.up()) {
        const Vec2 from = onPicture(sun.azimuth_rad, track, p.turned);
        page.arrow(Vec2{x, y} + (arm - 7.0) * from, Vec2{x, y} - arm * from, page.colours.ink);
        page.drawing.marks.emplace_back(Disc{Vec2{x, y} + arm * from, 7.0, Stroke{page.colours.ink, 1.5}, page.colours.sun});
        named("sunlight", degreesText(sun.elevation_rad) + " up");
    }
}

}  // namespace

RulerStep rulerStep(double cell) {
    constexpr double room = 34.0;
    RulerStep step;
    for (int decade = 10; decade < 1000000; decade *= 10) {
        for (const auto& [numbers, ticks] : {std::pair{2, 5}, std::pair{5, 10}, std::pair{10, 20}}) {
            step = {numbers * decade, ticks * decade / 10};
            if (step.numbers * cell >= room) return step;
        }
    }
    return step;
}

Figure ruledPicture(const Scene& scene, const Formation& formation, int instrument, const Type& type, const RuledWith& with) {
    const Image& image = formation.image();
    const ShowSettings show = scene.showSettings();
    const PictureLook look = lookOf(image, show.bands, stretchOf(show));
    const double cell = static_cast<double>(deviceCell(formation.samples(), formation.lines())) / ruled_paint_scale;
    const Ruled p{left, top, cell, {0, 0, formation.samples(), formation.lines()}, show.turned};
    const bool beside = with.north || with.sun;
    const std::string name = instrumentName(scene, instrument), place = scene.place->title.empty() ? scene.place->name : scene.place->title;

    Page page(type, false, std::ceil(left + p.width() + right + (beside ? column : 0.0)), name + ": " + place, {});
    page.drawing.marks.clear();  // the sheet says what it is
    page.drawing.ground = Ink::hex(0xFFFFFF);
    page.drawing.marks.emplace_back(RasterPicture{p.x, p.y, p.width(), p.height(), {std::make_shared<const Pixels>(displayPixels(image, look, formation.lines(), p.turned))}});
    page.drawing.frame(p.x, p.y, p.width(), p.height(), {page.colours.ink, 0.8});
    rulers(page, p);
    if (beside) dials(page, formation, p, with);
    page.drawing.height = std::ceil(std::max(p.y + p.height() + foot, top + (with.north ? 92.0 : 0.0) + (with.sun ? 118.0 : 0.0)));

    const RulerStep step = rulerStep(cell);
    std::string size;
    if (with.scale) {
        const NadirSpacing spacing = nadirSpacing(formation);
        size = " A pixel is " + shortText(spacing.across_m, Kind::length) + " across and " + shortText(spacing.along_m, Kind::length) + " along at nadir, on level ground at datum.";
    }
    page.drawing.description = std::string(look.bands.grey() ? "A grey picture of " : "A colour picture of ") + std::to_string(formation.samples()) + " samples by " + std::to_string(formation.lines()) + " lines, as " + name +
                               " formed it over " + place + ", between rulers that count samples across and lines down." + size;
    const std::string caption = name + ", " + place + ": " + std::to_string(formation.samples()) + " samples across, " + std::to_string(formation.lines()) + " lines down; " + bandWords(image.bands, look.bands) + ". The rulers count pixels: a number every " +
                                std::to_string(step.numbers) + ", a tick every " + std::to_string(step.ticks) + "." + size;
    return {"ruled-" + std::string(1, letterOf(instrument)), FigureKind::picture, std::move(page.drawing), caption, ""};
}

Figure ruledDetail(const Scene& scene, const Formation& formation, int instrument, const Type& type, const PictureWindow& window) {
    const Image& image = formation.image();
    const ShowSettings show = scene.showSettings();
    const PictureLook look = lookOf(image, show.bands, stretchOf(show));
    const double cell = static_cast<double>(std::max(1, std::min({1000 / std::max(1, window.samples), 700 / std::max(1, window.lines), 60}))) / ruled_paint_scale;
    const Ruled p{left, top, cell, window, show.turned};
    const std::string name = instrumentName(scene, instrument);
    Page page(type, false, std::ceil(left + p.width() + right), name, {});
    page.drawing.marks.clear();
    page.drawing.ground = Ink::hex(0xFFFFFF);
    page.drawing.marks.emplace_back(RasterPicture{p.x, p.y, p.width(), p.height(), {std::make_shared<const Pixels>(cut(displayPixels(image, look, formation.lines(), p.turned), window, p.turned))}});
    page.drawing.frame(p.x, p.y, p.width(), p.height(), {page.colours.ink, 0.8});
    rulers(page, p);
    page.drawing.height = std::ceil(p.y + p.height() + foot);
    const std::string where = "samples " + std::to_string(window.sample) + " to " + std::to_string(window.sample + window.samples) + ", lines " + std::to_string(window.line) + " to " + std::to_string(window.line + window.lines);
    page.drawing.description = "A detail of the same picture, enlarged: " + where + ", between rulers that count on.";
    return {"detail-" + std::string(1, letterOf(instrument)), FigureKind::picture, std::move(page.drawing), where, ""};
}

double heightOnPaper_mm(const Formation& formation, double pixel_mm) {
    const double cell = static_cast<double>(deviceCell(formation.samples(), formation.lines())) / ruled_paint_scale;
    return (top + cell * formation.lines() + foot) * pixel_mm / cell;
}

double pixelOnPaper_mm(const Formation& formation, double width_mm, double height_mm) {
    const double cell = static_cast<double>(deviceCell(formation.samples(), formation.lines())) / ruled_paint_scale;
    return cell * std::min(width_mm / (left + cell * formation.samples() + right + column), height_mm / (top + cell * formation.lines() + foot));
}

}  // namespace linefall
