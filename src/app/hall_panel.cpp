// The hall: how large words are, paper or night, whether anything glides, the test card, and the kept steps of a lecture.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/tools.h"

namespace linefall {

namespace {

/// The kept steps, one a row: shown by a click, gone by another. Returns the height used.
float drawSteps(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, row = 32 * s;
    if (ui.button("keep step", {place.x, place.y, 150 * s, 28 * s}, "Keep this state", false, "as a step of the lecture (Ctrl K)")) act(desk, Act::keep_step);
    const std::string words = desk.steps.kept.empty() ? "Kept states are the steps of a lecture: PgDn shows the next, PgUp the one before."
                                                      : std::to_string(desk.steps.kept.size()) + " kept; in a lecture PgDn and PgUp go through them.";
    const float beside = place.w - 162 * s;
    const float used = ui.paragraph(place.x + 162 * s, place.y + 5 * s, beside, ui.fonts.small, ui.p.quiet, words);
    float y = place.y + std::max(38 * s, used + 12 * s);
    for (int i = 0; i < static_cast<int>(desk.steps.kept.size()); ++i) {
        const std::string number = std::to_string(i + 1);
        if (ui.button("show step " + number, {place.x, y, 34 * s, 28 * s}, number, desk.steps.at == i, "show this step")) showStep(desk, i);
        if (i >= static_cast<int>(desk.steps.kept.size())) break;
        ui.text(place.x + 44 * s, y + 5 * s, ui.fonts.small, ui.p.ink, ui.fitted(ui.fonts.small, desk.steps.kept[static_cast<std::size_t>(i)].name, place.w - 130 * s));
        if (ui.button("remove step " + number, {place.right() - 78 * s, y, 78 * s, 28 * s}, "remove", false, "this step from the list")) {
            removeStep(desk, i);
            break;
        }
        y += row;
    }
    return y - place.y;
}

}  // namespace

void drawHall(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, gap = 8 * s, height = 30 * s;
    const int columns = place.w > 560 * s ? 5 : 3;
    const float width = (place.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    int at = 0;
    const auto button = [&](const char* id, const std::string& words, bool on, const char* hint, Act what) {
        const Rect r{place.x + static_cast<float>(at % columns) * (width + gap), place.y + static_cast<float>(at / columns) * (height + gap), width, height};
        ++at;
        if (ui.button(id, r, words, on, hint)) act(desk, what);
    };
    button("lecture", "Lecture", desk.lecture, "large words for a hall, and the keys of a remote (F5)", Act::lecture);
    button("theme", desk.night ? "Day" : "Night", false, "paper or night ground (T)", Act::theme);
    button("text smaller", "Smaller words", false, "Ctrl and -", Act::text_smaller);
    button("text larger", "Larger words", false, "Ctrl and +", Act::text_larger);
    button("test card", "Test card", desk.test_card, "for the projector (F6)", Act::test_card);
    float y = place.y + static_cast<float>((at + columns - 1) / columns) * (height + gap) + 2 * s;
    bool calm = desk.reduced_motion;
    const std::string size = "words at " + std::to_string(std::lround(100.0f * desk.text_scale)) + " %";
    if (ui.flag("reduced motion", {place.x, y, std::min(place.w, 300 * s), 26 * s}, "reduced motion: views change at once", calm)) desk.reduced_motion = calm;
    if (place.w > 440 * s) ui.text(place.right(), y + 5 * s, ui.fonts.small, ui.p.quiet, size, Align::right);
    y += 36 * s;
    drawerReaches(y + drawSteps(desk, {place.x, y, place.w, place.bottom() - y}) + 4 * s);
}

}  // namespace linefall
