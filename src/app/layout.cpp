#include "app/layout.h"

#include <algorithm>
#include <cmath>

namespace linefall {

Layout layoutOf(float width, float height, float s, int pictures, bool picked, float drawer, bool pictures_large) {
    Layout l;
    l.page = {0, 0, width, height};
    const float gap = std::round(14 * s);
    const float top = std::round(6 * s);
    const float path_height = std::round((picked ? 94.0f : 66.0f) * s);
    l.path = {gap, height - path_height - std::round(4 * s), width - 2 * gap, path_height};
    const float body = l.path.y - top - std::round(4 * s);
    // The pictures stand where they would stand with the tall path: picking a pixel must not move it.
    const float body_when_picked = height - std::round(94 * s) - std::round(8 * s) - top;

    const float column = std::round(std::clamp((isCompact(width, s) ? 0.43f : 0.385f) * width, 300 * s, std::max(300 * s, 0.5f * width)));
    const float left = width - gap - column;
    const float legend_height = std::round(std::min((isCompact(width, s) ? 128.0f : 198.0f) * s, 0.45f * body));
    const int count = std::max(1, pictures);
    const float each = (column - gap * static_cast<float>(count - 1)) / static_cast<float>(count);
    for (int i = 0; i < pictures; ++i) {
        l.pictures.push_back({std::round(left + static_cast<float>(i) * (each + gap)), top, std::round(each), body_when_picked - legend_height - std::round(8 * s)});
    }
    l.legend = {left, top + body - legend_height, column, legend_height};

    const float flight_width = left - 2 * gap;
    const float clock_height = std::round(62 * s);
    l.clock = {gap, top + body - clock_height, flight_width, clock_height};
    l.flight = {gap, top, flight_width, l.clock.y - top - std::round(8 * s)};
    if (drawer > 0.0f) {
        constexpr float frame = 62.0f;  // heading and margins
        const float drawer_height = std::round(std::min(0.52f * l.flight.h, (drawer + frame) * s));
        l.drawer = {gap, l.flight.bottom() - drawer_height, flight_width, drawer_height};
        l.flight.h -= drawer_height + std::round(8 * s);
    }
    if (pictures_large) {
        // The two change places: pictures side by side where the flight was, the flight over the legend.
        const Rect large = l.flight, small{left, top, column, body_when_picked - legend_height - std::round(8 * s)};
        const float wide = (large.w - gap * static_cast<float>(count - 1)) / static_cast<float>(count);
        for (int i = 0; i < pictures; ++i) {
            l.pictures[static_cast<std::size_t>(i)] = {std::round(large.x + static_cast<float>(i) * (wide + gap)), large.y, std::round(wide), large.h};
        }
        l.flight = small;
    }
    return l;
}

}  // namespace linefall
