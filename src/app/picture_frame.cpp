#include "app/picture_frame.h"

#include <algorithm>
#include <cmath>

namespace linefall {

void PictureView::zoomAbout(double factor, double at_across, double at_along) {
    const double next = std::clamp(zoom * factor, 1.0, 64.0);
    across = at_across + (across - at_across) * zoom / next;
    along = at_along + (along - at_along) * zoom / next;
    zoom = next;
}

ImVec2 PictureFrame::at(double sample, double line) const {
    const float x = cell_x * static_cast<float>(sample), y = cell_y * static_cast<float>(line);
    return turned ? ImVec2{rect.right() - x, rect.bottom() - y} : ImVec2{rect.x + x, rect.y + y};
}

Vec2 PictureFrame::imageAt(ImVec2 page) const {
    const double x = (page.x - rect.x) / cell_x, y = (page.y - rect.y) / cell_y;
    return turned ? Vec2{samples - x, lines - y} : Vec2{x, y};
}

Pixel PictureFrame::pixelAt(ImVec2 page) const {
    const Vec2 place = imageAt(page);
    return {std::clamp(static_cast<int>(std::floor(place.y)), 0, lines - 1), std::clamp(static_cast<int>(std::floor(place.x)), 0, samples - 1)};
}

Rect PictureFrame::part(double first_line, double last_line) const {
    const ImVec2 a = at(0, turned ? last_line : first_line), b = at(samples, turned ? first_line : last_line);
    return {std::min(a.x, b.x), a.y, std::abs(b.x - a.x), b.y - a.y};
}

namespace {

/// Width and height of the whole image on the ground, in metres.
Vec2 extentOf(const Formation& formation) {
    const Derived& d = formation.instrument().derived();
    const std::optional<FieldPoint> nadir = formation.instrument().field(0.0, false);
    const double across = nadir ? nadir->cell.spacing_across_m : 1.0;
    const double along = d.line_period_s > 0.0 ? formation.motion().speed_m_s() * d.line_period_s : (nadir ? nadir->cell.along_m : 1.0);
    return {std::max(1e-9, formation.samples() * across), std::max(1e-9, formation.lines() * along)};
}

}  // namespace

double shapeOf(const Formation& formation) {
    const Vec2 extent = extentOf(formation);
    return extent.y / extent.x;
}

double scaleIn(const Formation& formation, const Rect& space) {
    const Vec2 extent = extentOf(formation);
    // The whole picture, unless a long flight would make it a thin strip: then it keeps its width and rolls by.
    return std::min(space.w / extent.x, std::max(space.h / extent.y, 0.6 * space.w / extent.x));
}

PictureFrame pictureFrameAbout(const Formation& formation, const Rect& space, double scale, const Vec2& middle, bool turned) {
    const Vec2 extent = extentOf(formation);
    PictureFrame frame;
    frame.samples = formation.samples();
    frame.lines = formation.lines();
    frame.turned = turned;
    frame.rect.w = static_cast<float>(extent.x * scale);
    frame.rect.h = static_cast<float>(extent.y * scale);
    frame.cell_x = frame.rect.w / static_cast<float>(frame.samples);
    frame.cell_y = frame.rect.h / static_cast<float>(frame.lines);
    const double across = turned ? frame.samples - middle.x : middle.x, along = turned ? frame.lines - middle.y : middle.y;
    frame.rect.x = space.centre().x - frame.cell_x * static_cast<float>(across);
    frame.rect.y = space.centre().y - frame.cell_y * static_cast<float>(along);
    const float left = std::max(space.x, frame.rect.x), top = std::max(space.y, frame.rect.y);
    frame.seen = {left, top, std::max(1.0f, std::min(space.right(), frame.rect.right()) - left), std::max(1.0f, std::min(space.bottom(), frame.rect.bottom()) - top)};
    return frame;
}

PictureFrame pictureFrame(const Formation& formation, const Rect& space, PictureView& view, std::optional<double> newest) {
    const Vec2 extent = extentOf(formation);
    const double wide = extent.x, tall = extent.y, scale = scaleIn(formation, space);
    PictureFrame frame;
    frame.samples = formation.samples();
    frame.lines = formation.lines();
    frame.turned = view.turned;
    frame.seen.w = std::max(0.12f * space.w, static_cast<float>(wide * scale));
    const float whole = std::max(std::min(space.h, 0.12f * space.w), static_cast<float>(tall * scale));  // a few lines are still a band
    frame.seen.h = std::min(whole, space.h);
    frame.seen.x = std::round(space.x + 0.5f * (space.w - frame.seen.w));
    frame.seen.y = space.y;
    frame.rect.w = frame.seen.w * static_cast<float>(view.zoom);
    frame.rect.h = whole * static_cast<float>(view.zoom);
    const double seen_across = frame.seen.w / frame.rect.w, seen_along = frame.seen.h / frame.rect.h;
    if (newest && view.zoom < 1.01) view.along = *newest - 0.35 * seen_along;  // the newest line stays in sight
    view.across = std::clamp(view.across, 0.5 * seen_across, 1.0 - 0.5 * seen_across);
    view.along = std::clamp(view.along, 0.5 * seen_along, 1.0 - 0.5 * seen_along);
    const double across_shown = view.turned ? 1.0 - view.across : view.across, along_shown = view.turned ? 1.0 - view.along : view.along;
    frame.rect.x = frame.seen.x + 0.5f * frame.seen.w - static_cast<float>(across_shown) * frame.rect.w;
    frame.rect.y = frame.seen.y + 0.5f * frame.seen.h - static_cast<float>(along_shown) * frame.rect.h;
    frame.cell_x = frame.rect.w / static_cast<float>(frame.samples);
    frame.cell_y = frame.rect.h / static_cast<float>(frame.lines);
    return frame;
}

}  // namespace linefall
