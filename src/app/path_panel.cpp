// The light path along the bottom: eight stops on one line, each with its most telling number for the picked pixel.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "app/desk.h"
#include "app/stops.h"
#include "base/constants.h"

namespace linefall {

namespace {

/// A number too wide for its stop, in smaller words, broken near its middle when it has to be.
void drawLongNumber(Ui& ui, float x, float y, float width, const std::string& words) {
    ImFont* font = ui.fonts.small;
    if (ui.size(font, words).x <= width) return ui.text(x, y + 2 * ui.s, font, ui.p.ink, words, Align::centre);
    std::size_t best = std::string::npos;
    for (std::size_t at = words.find(' '); at != std::string::npos; at = words.find(' ', at + 1)) {
        const auto off = [&](std::size_t i) { return i > words.size() / 2 ? i - words.size() / 2 : words.size() / 2 - i; };
        if (best == std::string::npos || off(at) < off(best)) best = at;
    }
    if (best == std::string::npos) return ui.text(x, y + 2 * ui.s, font, ui.p.ink, ui.fitted(font, words, width), Align::centre);
    ui.text(x, y, font, ui.p.ink, ui.fitted(font, words.substr(0, best), width), Align::centre);
    ui.text(x, y + 1.05f * font->FontSize, font, ui.p.ink, ui.fitted(font, words.substr(best + 1), width), Align::centre);
}

/// In slow motion, at the detector's stop: which detector gathers, and how much of its dwell has passed.
void drawDwell(Desk& desk, ImVec2 at, float radius, float room) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const Instrument& instrument = desk.session.crafts()[static_cast<std::size_t>(desk.active)]->formation().instrument();
    const Moment now = momentOf(desk, desk.active);
    const ImU32 colour = colourOf(desk, desk.active);
    const float ring = radius + 5 * s;
    ui.draw()->AddCircle(at, ring, ui.p.hairline, 40, 3.5f * s);
    if (now.gathering) {
        constexpr float top = -0.5f * static_cast<float>(constants::pi);
        ui.draw()->PathArcTo(at, ring, top, top + 2.0f * static_cast<float>(constants::pi * now.dwell), 40);
        ui.draw()->PathStroke(colour, 0, 3.5f * s);
        ui.draw()->AddCircleFilled(at, radius - 2 * s, colour, 24);
    }
    const int detectors = instrument.derived().detectors;
    std::string words(1, letterOf(desk.active));
    if (desk.session.handCraft() == desk.active) words += " by hand";
    else if (!now.gathering) words += " waits";
    else if (now.sample && now.lines == 1) words += " · " + std::to_string(instrument.detectorOf(now.line, *now.sample) + 1) + " of " + std::to_string(detectors);
    else words += " · all " + std::to_string(detectors);
    const float left = at.x + ring + 5 * s, width = ui.size(ui.fonts.small, words).x;
    if (ring + 9 * s + width > room) return;
    ui.draw()->AddRectFilled({left - 3 * s, at.y - 10 * s}, {left + width + 4 * s, at.y + 10 * s}, ui.p.panel, 3 * s);
    ui.text(left, at.y - 0.5f * ui.fonts.small->FontSize - 1 * s, ui.fonts.small, colour, words);
}

}  // namespace

void drawPath(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const std::optional<Picked>& pick = desk.session.picked();
    const bool numbers = pick && pick->why;
    const float step = place.w / stop_count;
    const float y = place.y + 34 * s;  // of the line
    ui.draw()->AddRectFilled({0, place.y - 2 * s}, {place.right() + place.x, place.bottom() + 8 * s}, ui.p.panel);
    ui.line({0, place.y - 2 * s}, {place.right() + place.x, place.y - 2 * s}, ui.p.hairline, 1.0f);

    // Light: from the sun's yellow to the ink of a written number.
    const float first = place.x + 0.5f * step, last = place.right() - 0.5f * step;
    ui.draw()->AddLine({first, y}, {last, y}, ui.p.ink, 4.0f * s);
    ui.draw()->AddRectFilledMultiColor({first, y - 1.2f * s}, {first + 4.0f * step, y + 1.2f * s}, ui.p.sun, ui.p.ink, ui.p.ink, ui.p.sun);

    std::array<Telling, stop_count> tellings;
    bool brief = false;
    for (int i = 0; numbers && i < stop_count; ++i) {
        const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(pick->craft)];
        Telling& telling = tellings[static_cast<std::size_t>(i)] = tellingOf(i, *pick->why, craft.formation().image().bands, craft.look().bands);
        brief = brief || ui.size(ui.fonts.small, telling.what).x > step - 4 * s;
    }
    for (int i = 0; i < stop_count; ++i) {
        const float x = place.x + (static_cast<float>(i) + 0.5f) * step;
        const Rect r{x - 0.5f * step + 4 * s, place.y + 2 * s, step - 8 * s, place.h - 4 * s};
        const bool open = desk.open_stop == i;
        const Touch t = ui.touch(std::string("stop ") + std::to_string(i + 1), r, true);
        if (t.pressed) act(desk, static_cast<Act>(static_cast<int>(Act::stop_1) + i));
        if (t.step_x != 0) ui.focus(std::string("stop ") + std::to_string(std::clamp(i + (t.step_x > 0 ? 1 : -1), 0, stop_count - 1) + 1));
        const Stop& stop = lightStops()[static_cast<std::size_t>(i)];
        ImFont* name_font = ui.size(ui.fonts.body, stop.name).x > step - 4 * s ? ui.fonts.small : open || t.hovered ? ui.fonts.strong : ui.fonts.body;
        ui.text(x, place.y + 6 * s, name_font, ui.p.ink, ui.fitted(name_font, stop.name, step), Align::centre);
        const float radius = (open || t.hovered ? 8.0f : 6.0f) * s;
        ui.draw()->AddCircleFilled({x, y}, radius + 2.5f * s, ui.p.panel, 28);
        ui.draw()->AddCircleFilled({x, y}, radius, ui.p.ink, 28);
        if (i == 0) ui.draw()->AddCircleFilled({x, y}, radius - 2 * s, ui.p.sun, 28);
        else if (!open) ui.draw()->AddCircleFilled({x, y}, radius - 2 * s, ui.p.panel, 28);
        constexpr int detector = 6;
        if (i == detector && desk.session.loaded() && isSlow(desk, desk.active)) drawDwell(desk, {x, y}, radius, step - 22 * s);
        if (open) ui.draw()->AddTriangleFilled({x - 7 * s, place.y - 1 * s}, {x + 7 * s, place.y - 1 * s}, {x, place.y + 6 * s}, ui.p.ink);
        if (t.hovered) ui.hint(std::string(stop.sentence) + (open ? "" : "  (" + std::to_string(i + 1) + ")"));
        if (!numbers) continue;
        const Telling& telling = tellings[static_cast<std::size_t>(i)];
        if (ui.size(ui.fonts.strong, telling.number).x <= step - 6 * s) {
            ui.text(x, y + 11 * s, ui.fonts.strong, ui.p.ink, telling.number, Align::centre);
        } else {
            drawLongNumber(ui, x, y + 9 * s, step - 4 * s, telling.number);
            continue;
        }
        // All stops in long words, or all in brief ones; what fits neither is left out: the stop says it when it is opened.
        const std::string& what = brief ? telling.brief : telling.what;
        if (y + 32 * s + ui.fonts.small->FontSize <= place.bottom() + 2 * s && ui.size(ui.fonts.small, what).x <= step - 4 * s) ui.text(x, y + 32 * s, ui.fonts.small, ui.p.quiet, what, Align::centre);
    }
    if (!numbers) {
        const std::string words = desk.keep.maker.working() ? fmt::format("making figures: {:.0f} %", 100.0 * desk.keep.maker.now().share)
                                  : desk.keep.left ? "The last session ended without a goodbye: E offers to take it up again."
                                  : pick ? "the picked line is not gathered yet"
                                       : ui.fitting(ui.fonts.small, {"Click a pixel in a picture: its light is followed from the sun to the count.",
                                                                     "Click a pixel: its light is followed to the count.", "Click a pixel of a picture."}, place.w);
        ui.text(place.centre().x, y + 11 * s, ui.fonts.small, ui.p.quiet, words, Align::centre);
    }
}

}  // namespace linefall
