// One cause at a time: twelve switches, and for the one looked at its difference, its arrows, and the map.

#include <algorithm>
#include <cmath>

#include "app/button_row.h"
#include "app/cause_marks.h"
#include "app/desk.h"
#include "app/tools.h"

namespace linefall {

namespace {

void set(Desk& desk, const char* key, Value value) { desk.session.setValue(desk.session.sceneParameter(key), std::move(value)); }

void turn(Desk& desk, Cause cause, bool on) {
    std::vector<std::pair<ParameterOf, Value>> values;
    for (const char* key : rowOf(cause).keys) values.emplace_back(desk.session.sceneParameter(key), Value{on});
    desk.session.setValues(values);
}

/// Switches and names of all causes; the name chooses which one is looked at. Returns the height used.
float drawSwitches(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, row = 30 * s, gap = 10 * s;
    float widest = 0.0f;
    for (const CauseRow& cause : causeTable()) widest = std::max(widest, ui.size(ui.fonts.small, cause.name).x);
    const int columns = place.w >= 2.0f * (widest + 46 * s) + gap ? 2 : 1, rows = (static_cast<int>(cause_count) + columns - 1) / columns;
    const float width = (place.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    const Scene& scene = desk.session.scene();
    for (std::size_t i = 0; i < cause_count; ++i) {
        const CauseRow& cause = causeTable()[i];
        const int at = static_cast<int>(i);
        const Rect r{place.x + static_cast<float>(at / rows) * (width + gap), place.y + static_cast<float>(at % rows) * row, width, 27 * s};
        bool on = isOn(scene, cause.cause);
        if (ui.flag(std::string("switch ") + cause.word, {r.x, r.y, 28 * s, r.h}, "", on)) turn(desk, cause.cause, on);
        if (ui.button(std::string("cause ") + cause.word, {r.x + 34 * s, r.y, r.w - 34 * s, r.h}, cause.name, desk.causes.cause == cause.cause, cause.sentence)) set(desk, "show.cause", Value{std::string(cause.word)});
    }
    return row * static_cast<float>(rows);
}

/// The palette from fewer counts to more, with the counts at its ends.
float drawPalette(Desk& desk, const Rect& place, double limit) {
    Ui& ui = desk.ui;
    const float s = ui.s, bar = 12 * s;
    constexpr int steps = 64;
    for (int i = 0; i < steps; ++i) {
        const auto [r, g, b] = differenceColour(-1.0 + 2.0 * (i + 0.5) / steps, desk.night ? Neutral::dark : Neutral::light);
        const float x0 = place.x + place.w * static_cast<float>(i) / steps, x1 = place.x + place.w * static_cast<float>(i + 1) / steps;
        ui.draw()->AddRectFilled({x0, place.y}, {x1, place.y + bar}, IM_COL32(r, g, b, 255));
    }
    ui.draw()->AddRect({place.x, place.y}, {place.right(), place.y + bar}, ui.p.control);
    const std::string end = figuresText(limit, 2) + " counts";
    ui.text(place.x, place.y + bar + 3 * s, ui.fonts.small, ui.p.ink, "−" + end);
    ui.text(place.centre().x, place.y + bar + 3 * s, ui.fonts.small, ui.p.quiet, "0", Align::centre);
    ui.text(place.right(), place.y + bar + 3 * s, ui.fonts.small, ui.p.ink, "+" + end, Align::right);
    return bar + 24 * s;
}

/// What the difference amounts to, picture by picture.
float drawNumbers(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    float y = place.y;
    for (std::size_t i = 0; i < desk.session.crafts().size(); ++i) {
        const CauseStudy::Shown* shown = desk.study.shown(i);
        const BandChoice& bands = desk.session.crafts()[i]->look().bands;
        if (shown == nullptr || shown->numbers.size() <= static_cast<std::size_t>(bands.green)) continue;
        const DifferenceStatistics& n = shown->numbers[static_cast<std::size_t>(bands.green)];
        const std::string words = std::string(1, letterOf(static_cast<int>(i))) + ", " + shown->difference.bands[static_cast<std::size_t>(bands.green)].name + ": mean " + figuresText(n.mean, 3) +
                                  ", rms " + figuresText(n.rms, 3) + " counts; " + figuresText(100.0 * n.changed, 3) + " % of the pixels changed";
        y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.ink, words) + 3 * ui.s;
    }
    return y - place.y;
}

float drawChosen(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const CauseView view = desk.causes;
    const float s = ui.s;
    const CauseRow& row = rowOf(view.cause);
    float y = place.y;
    ButtonRow show(ui, place.x, place.right(), y);
    if (show.button("show picture", "Picture", !view.difference && !view.map, "the pictures as they fell")) set(desk, "show.as", Value{std::string("picture")});
    if (show.button("show difference", "Difference", view.difference, "with the cause minus without it (D)")) set(desk, "show.as", Value{std::string("difference")});
    if (show.button("show map", "Map", view.map, "laid out on the ground, north up (P)")) set(desk, "show.as", Value{std::string("map")});
    if (show.button("show places", "Arrows", view.places, "where the cause moves things to, and outlines (A)")) set(desk, "show.displacement", Value{!view.places});
    y = show.bottom();
    if (view.map) {
        ButtonRow how(ui, place.x, place.right(), y);
        if (how.button("nearest", "nearest", view.resampling == Resampling::nearest, "each cell takes the pixel that holds its middle")) set(desk, "show.resampling", Value{std::string("nearest")});
        if (how.button("bilinear", "bilinear", view.resampling == Resampling::bilinear, "between the four nearest pixels: new counts")) set(desk, "show.resampling", Value{std::string("bilinear")});
        if (how.button("at datum", "at datum", view.level == MapLevel::datum, "as if all lay at datum: what stands up leans")) set(desk, "show.map_height", Value{std::string("datum")});
        if (how.button("on the ground", "on the ground", view.level == MapLevel::ground, "with the true heights: all at its place, what was hidden stays empty")) set(desk, "show.map_height", Value{std::string("ground")});
        y = how.bottom();
    }
    std::string words = row.sentence;
    const std::string idle = whyIdle(desk.session.scene(), static_cast<std::size_t>(desk.active), view.cause);
    y += ui.paragraph(place.x, y + 2 * s, place.w, ui.fonts.small, ui.p.ink, words) + 5 * s;
    if (!idle.empty()) y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.wrong, idle) + 4 * s;
    if (view.difference && !desk.study.problem().empty()) y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.wrong, desk.study.problem()) + 4 * s;
    const CauseStudy::Shown* shown = view.difference ? desk.study.shown(static_cast<std::size_t>(desk.active)) : nullptr;
    if (shown != nullptr) {
        y += drawPalette(desk, {place.x, y + 2 * s, place.w, 0}, shown->limit) + 2 * s;
        y += drawNumbers(desk, {place.x, y, place.w, 0});
    }
    const std::string places = wordsOfPlaces(desk, desk.active);
    if (!places.empty()) y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.quiet, places) + 4 * s;
    return y - place.y;
}

}  // namespace

void drawCauses(Desk& desk, const Rect& place) {
    const float s = desk.ui.s;
    const bool beside = place.w > 600 * s;
    const float left = beside ? std::min(0.54f * place.w, 420 * s) : place.w;
    const float used = drawSwitches(desk, {place.x, place.y, left, place.h});
    const Rect right = beside ? Rect{place.x + left + 22 * s, place.y, place.w - left - 22 * s, place.h} : Rect{place.x, place.y + used + 8 * s, place.w, place.h};
    if (beside) desk.ui.line({place.x + left + 11 * s, place.y}, {place.x + left + 11 * s, place.bottom()}, desk.ui.p.hairline);
    const float more = drawChosen(desk, right);
    drawerReaches(std::max(place.y + used, right.y + more));
}

}  // namespace linefall
