#include "app/layout.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

constexpr float gap = 14.0f, top = 6.0f, clock_height = 62.0f, drawer_frame = 62.0f;
constexpr float least_flight = 150.0f;  ///< lower, heading included, and a flight over a drawer shows nothing
constexpr float path_thin = 66.0f, path_tall = 94.0f, path_stacked = 78.0f;

/// What a picture of a shape fills of a place, as an area: how well it uses the place.
float areaIn(float w, float h, float shape) {
    const float width = std::min(w, std::max(1.0f, h) / shape);
    return width * width * shape;
}

float tallest(const std::vector<float>& shapes) {
    float most = 0.3f;
    for (const float shape : shapes) most = std::max(most, std::min(shape, 1.7f));  // longer ones roll by
    return most;
}

/// Pictures in a place, side by side or one over the other, whichever shows them larger.
std::vector<Rect> arranged(const Rect& place, const std::vector<float>& shapes, float s) {
    const int count = std::max(1, static_cast<int>(shapes.size()));
    const float n = static_cast<float>(count), shape = tallest(shapes), words = headingHeight(s) + footHeight(s);
    const Rect beside{0, 0, (place.w - gap * s * (n - 1.0f)) / n, place.h};
    const Rect over{0, 0, place.w, (place.h - 8 * s * (n - 1.0f)) / n};
    const bool side_by_side = areaIn(beside.w, beside.h - words, shape) * 1.1f >= areaIn(over.w, over.h - words, shape);
    std::vector<Rect> out;
    for (int i = 0; i < static_cast<int>(shapes.size()); ++i) {
        const float at = static_cast<float>(i);
        if (side_by_side) out.push_back({std::round(place.x + at * (beside.w + gap * s)), place.y, std::round(beside.w), place.h});
        else out.push_back({place.x, std::round(place.y + at * (over.h + 8 * s)), place.w, std::round(over.h)});
    }
    return out;
}

/// The column of the pictures: as wide as lets them fill its height, in a few steps so that it seldom moves.
float columnWidth(const PageWish& wish, float picture_height, bool compact) {
    const float s = wish.scale, n = static_cast<float>(std::max<std::size_t>(1, wish.shapes.size()));
    const float wanted = n * (picture_height - headingHeight(s) - footHeight(s)) / tallest(wish.shapes) + gap * s * (n - 1.0f);
    float share = compact ? 0.43f : 0.385f;
    for (const float wider : {0.42f, 0.45f, 0.48f}) {
        if (wanted > (wider - 0.015f) * wish.width) share = std::max(share, wider);
    }
    return std::round(std::max(300 * s, share * wish.width));
}

Layout spread(const PageWish& wish) {
    const float s = wish.scale, width = wish.width, height = wish.height;
    Layout l;
    l.page = {0, 0, width, height};
    const float margin = std::round(gap * s), start = std::round(top * s), apart = std::round(8 * s);
    const float path_height = std::round((wish.picked ? path_tall : path_thin) * s);
    l.path = {margin, height - path_height - std::round(4 * s), width - 2 * margin, path_height};
    const float body = l.path.y - start - std::round(4 * s);
    l.body = {0, 0, width, l.path.y};
    l.content = l.path.y;
    // The pictures stand where they would stand with the tall path: picking a pixel must not move them.
    const float body_when_picked = height - std::round(path_tall * s) - std::round(8 * s) - start;

    const bool compact = width < 1000.0f * s;
    float legend_height = std::round(std::min((compact ? 136.0f : 198.0f) * s, 0.45f * body_when_picked));
    const float column = columnWidth(wish, body_when_picked - legend_height - apart, compact);
    const float left = width - margin - column;
    Rect pictures{left, start, column, body_when_picked - legend_height - apart};
    // What short pictures leave over, the sun's dome takes in part.
    const std::vector<Rect> standing = arranged(pictures, wish.shapes, s);
    if (standing.size() < 2 || standing[1].y == standing[0].y) {
        const float used = tallest(wish.shapes) * standing[0].w + headingHeight(s) + footHeight(s);
        const float taken = std::round(std::clamp(pictures.h - used - 24 * s, 0.0f, 70 * s));
        legend_height += taken;
        pictures.h -= taken;
    }
    l.legend = {left, start + body - legend_height, column, legend_height};

    const float flight_width = left - 2 * margin;
    l.clock = {margin, start + body - std::round(clock_height * s), flight_width, std::round(clock_height * s)};
    l.flight = {margin, start, flight_width, l.clock.y - start - apart};
    bool change_places = wish.pictures_large;
    if (wish.drawer > 0.0f) {
        const float most = (height < 560.0f * s ? 0.62f : 0.54f) * l.flight.h;
        const float drawer_height = std::round(std::min(most, (wish.drawer + drawer_frame) * s));
        if (l.flight.h - drawer_height - apart < least_flight * s) {
            // Large words, as in a lecture: the drawer has the left to itself, and the flight stands where the sun's dome was.
            l.drawer = l.flight;
            l.flight = l.legend;
            l.legend = {};
            change_places = false;
        } else {
            l.drawer = {margin, l.flight.bottom() - drawer_height, flight_width, drawer_height};
            l.flight.h -= drawer_height + apart;
            // Over a drawer the large place may be the smaller one for pictures as tall as these.
            const float words = headingHeight(s) + footHeight(s), shape = tallest(wish.shapes);
            if (areaIn(l.flight.w, l.flight.h - words, shape) < areaIn(pictures.w, pictures.h - words, shape)) change_places = false;
        }
    }
    l.pictures = arranged(change_places ? l.flight : pictures, wish.shapes, s);
    if (change_places) l.flight = pictures;
    return l;
}

Layout stacked(const PageWish& wish) {
    const float s = wish.scale;
    Layout l;
    l.stacked = true;
    l.page = {0, 0, wish.width, wish.height};
    const float margin = std::round(gap * s), apart = std::round(12 * s);
    const float path_height = std::round((wish.picked ? path_stacked : path_thin) * s);
    l.path = {margin, wish.height - path_height - std::round(4 * s), wish.width - 2 * margin, path_height};
    l.body = {0, 0, wish.width, l.path.y - std::round(3 * s)};
    const float w = wish.width - 2 * margin - std::round(10 * s);  // beside it the bar that scrolls
    float y = std::round(top * s);
    const auto take = [&](float height) {
        const Rect r{margin, y, w, std::round(height)};
        y += r.h + apart;
        return r;
    };
    // The path may grow when a pixel is picked: no part changes its size with it.
    const float visible = wish.height - std::round(path_stacked * s) - std::round(7 * s);
    const auto flight = [&] { l.flight = take(std::clamp(visible - (clock_height + 26.0f) * s, 170 * s, 0.7f * w)); };
    const auto pictures = [&] {
        const float n = static_cast<float>(std::max<std::size_t>(1, wish.shapes.size())), words = headingHeight(s) + footHeight(s);
        const bool beside = w >= 210 * s * n;
        const float each = beside ? (w - gap * s * (n - 1.0f)) / n : w;
        const float one = std::clamp(tallest(wish.shapes) * each, 120 * s, std::max(200 * s, 1.1f * visible)) + words;
        l.pictures = arranged(take(beside ? one : n * one + 8 * s * (n - 1.0f)), wish.shapes, s);
    };
    if (wish.pictures_large) pictures();
    else flight();
    if (wish.drawer > 0.0f) l.drawer = take((wish.drawer + drawer_frame) * s);
    l.clock = take(clock_height * s);
    if (wish.pictures_large) flight();
    else pictures();
    l.legend = take((w < roomy_legend * s ? 136.0f : 198.0f) * s);
    l.content = y;
    return l;
}

}  // namespace

bool stacks(float width, float height, float scale) { return width < 800.0f * scale || height < 460.0f * scale; }

Layout layoutOf(const PageWish& wish) { return stacks(wish.width, wish.height, wish.scale) ? stacked(wish) : spread(wish); }

Layout Layout::rolled(float by) const {
    Layout l = *this;
    for (Rect* r : {&l.legend, &l.flight, &l.drawer, &l.clock}) r->y -= by;
    for (Rect& r : l.pictures) r.y -= by;
    return l;
}

}  // namespace linefall
