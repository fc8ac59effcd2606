// The hall: how large words are, paper or night, whether anything glides.

#include <cmath>

#include "app/desk.h"
#include "app/tools.h"

namespace linefall {

void drawHall(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const float width = 150 * s, height = 30 * s, gap = 10 * s;
    float x = place.x, y = place.y;
    const auto button = [&](const char* id, const std::string& words, bool on, const char* hint, Act what) {
        if (x > place.x && x + width > place.right()) {
            x = place.x;
            y += height + gap;
        }
        if (ui.button(id, {x, y, width, height}, words, on, hint)) act(desk, what);
        x += width + gap;
    };
    button("lecture", "Lecture", desk.lecture, "large words for a hall (F5)", Act::lecture);
    button("theme", desk.night ? "Day" : "Night", false, "paper or night ground (T)", Act::theme);
    button("text smaller", "Smaller words", false, "Ctrl and -", Act::text_smaller);
    button("text larger", "Larger words", false, "Ctrl and +", Act::text_larger);
    y += height + 14 * s;
    bool calm = desk.reduced_motion;
    if (ui.flag("reduced motion", {place.x, y, std::min(place.w, 420 * s), 26 * s}, "reduced motion: views change at once", calm)) desk.reduced_motion = calm;
    y += 34 * s;
    ui.text(place.x, y, ui.fonts.small, ui.p.quiet, "Words at " + std::to_string(std::lround(100.0f * desk.text_scale)) + " % of their standard size.");
}

}  // namespace linefall
