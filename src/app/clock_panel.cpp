// The clock: simulated time on a ruler, scrubbed both ways; hold, pace, fill, fly again.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/pace.h"
#include "app/plot.h"

namespace linefall {

namespace {

/// The times of a page, on a line: what has passed of it in ink, gathering marked under it.
void drawRuler(Desk& desk, const Rect& r) {
    Ui& ui = desk.ui;
    SimClock& clock = desk.session.clock();
    const float s = ui.s;
    const Instrument& instrument = desk.session.crafts()[static_cast<std::size_t>(desk.active)]->formation().instrument();
    const double duration = std::max(1e-12, clock.duration_s());
    const RulerChoice ruler = rulerOf(desk);
    const RulerLevel& level = ruler.levels[static_cast<std::size_t>(ruler.level)];
    const Touch t = ui.touch("clock", {r.x - 6 * s, r.y, r.w + 12 * s, 35 * s});
    // The page stands still while it is dragged over.
    if (!t.held || !desk.ruler_page) desk.ruler_page = rulerPage(instrument, duration, level, clock.time_s());
    const RulerPage& page = *desk.ruler_page;
    const double length = std::max(1e-12, page.to_s - page.from_s);
    const float y = r.y + 10 * s;
    const auto xOf = [&](double time) { return r.x + r.w * static_cast<float>(std::clamp((time - page.from_s) / length, 0.0, 1.0)); };
    ui.draw()->AddRectFilled({r.x, y - 2 * s}, {r.right(), y + 2 * s}, ui.p.control, 2 * s);
    if (page.line >= 0) {  // when light is gathered within the sweep
        const SweepTimes sweep = sweepOf(instrument, page.line);
        ui.draw()->AddRectFilled({xOf(sweep.begins_s), y - 4 * s}, {xOf(sweep.ends_s), y + 4 * s}, ui.p.control, 2 * s);
    }
    ui.draw()->AddRectFilled({r.x, y - 2 * s}, {xOf(clock.time_s()), y + 2 * s}, ui.p.ink, 2 * s);
    const double step = roundStep(length, r.w / (64.0 * s));
    for (int i = 0; i * step <= length * 1.0001; ++i) {
        const float x = xOf(page.from_s + std::min(i * step, length));
        ui.line({x, y + 5 * s}, {x, y + 9 * s}, ui.p.quiet, 1.0f);
        const std::string words = i == 0 ? "0" : shownTime(i * step, 3);
        if (x + 0.5f * ui.size(ui.fonts.small, words).x <= r.right() + 10 * s) ui.text(x, y + 8 * s, ui.fonts.small, ui.p.quiet, words, Align::centre);
    }
    const float x = xOf(clock.time_s());
    ui.draw()->AddCircleFilled({x, y}, 9.5f * s, ui.p.paper, 24);
    ui.draw()->AddCircleFilled({x, y}, (t.held || t.hovered ? 8.0f : 7.0f) * s, ui.p.ink, 24);
    ui.draw()->AddCircleFilled({x, y}, 2.5f * s, ui.p.paper, 12);
    if (t.held) {
        clock.setPaused(true);
        desk.session.scrub(page.from_s + length * std::clamp(static_cast<double>((ImGui::GetIO().MousePos.x - r.x) / r.w), 0.0, 1.0));
    } else if (t.step_x != 0) {
        clock.setPaused(true);
        desk.session.scrub(clock.time_s() + 0.01 * length * t.step_x);
    }
    if ((t.held || t.step_x != 0) && level.unit != RulerLevel::Unit::pass) desk.stepping = true;

    // What the ruler covers, between its two buttons.
    const float row = r.y + 36 * s, side = 24 * s;
    const std::string words = page.words + (page.from_s > 0.0 ? " from " + timeText(page.from_s, 0.01 * length) : "");
    if (ui.button("ruler longer", {r.x, row, side, side}, "−", false, "the ruler covers a longer time ([)")) act(desk, Act::ruler_longer);
    ui.text(r.centre().x, row + 4 * s, ui.fonts.small, ui.p.quiet, ui.fitting(ui.fonts.small, {words, page.words, page.from_s > 0.0 ? "part" : "all", ""}, r.w - 2 * side - 8 * s), Align::centre);
    if (ui.button("ruler shorter", {r.right() - side, row, side, side}, "+", false, "the ruler covers a shorter time, down to one dwell (])")) act(desk, Act::ruler_shorter);
}

void typedPace(Desk& desk, const Rect& box) {
    std::string entered;
    if (desk.ui.field("pace", box, paceText(desk.session.clock().pace()), entered, !desk.pace_problem.empty())) {
        const std::optional<double> pace = readPace(entered);
        desk.pace_problem = pace ? "" : paceExpected();
        if (pace) setPace(desk, *pace);
    }
    if (box.holds(ImGui::GetIO().MousePos)) {
        desk.ui.hint(desk.pace_problem.empty() ? "simulated time in a second of waiting; type 1/20 000 or × 3" : desk.pace_problem);
    }
}

}  // namespace

void setPace(Desk& desk, double pace) {
    desk.session.clock().setPace(pace);
    desk.ruler_level.reset();
    desk.stepping = false;
    desk.pace_problem.clear();
}

bool isSlow(const Desk& desk, int craft) {
    const SimClock& clock = desk.session.clock();
    if (desk.session.crafts()[static_cast<std::size_t>(craft)]->hand()) return true;
    return (desk.stepping && !clock.moving()) || isSlow(desk.session.crafts()[static_cast<std::size_t>(craft)]->formation().instrument(), clock.pace());
}

Moment momentOf(const Desk& desk, int craft) {
    const Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    if (!c.hand()) return momentAt(c.formation().instrument(), desk.session.clock().time_s());
    return {c.hand()->line(), c.hand()->lines(), c.hand()->holds(c.hand()->line(), c.hand()->at()), c.hand()->at(), 0.5};
}

RulerChoice rulerOf(const Desk& desk) {
    const Instrument& instrument = desk.session.crafts()[static_cast<std::size_t>(desk.active)]->formation().instrument();
    RulerChoice choice{rulerLevels(instrument, desk.session.clock().duration_s()), 0};
    choice.level = rulerLevelFor(instrument, choice.levels, desk.session.clock().pace());
    // Moved sample by sample, the knob must be seen to move.
    if (desk.stepping && choice.levels[static_cast<std::size_t>(choice.level)].unit == RulerLevel::Unit::pass) choice.level = static_cast<int>(choice.levels.size()) - 2;
    if (desk.ruler_level) choice.level = *desk.ruler_level;
    choice.level = std::clamp(choice.level, 0, static_cast<int>(choice.levels.size()) - 1);
    return choice;
}

void drawClock(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    Session& session = desk.session;
    SimClock& clock = session.clock();
    const float s = ui.s;

    // Hold or fly on.
    const Rect round{place.x, place.y + 4 * s, 44 * s, 44 * s};
    const Touch t = ui.touch("hold", round, false);
    if (t.pressed) act(desk, Act::pause);
    const ImVec2 c = round.centre();
    ui.draw()->AddCircleFilled(c, 22 * s, t.hovered ? ui.p.quiet : ui.p.ink, 48);
    if (clock.moving()) {
        ui.draw()->AddRectFilled({c.x - 7 * s, c.y - 8 * s}, {c.x - 2 * s, c.y + 8 * s}, ui.p.paper, 1 * s);
        ui.draw()->AddRectFilled({c.x + 2 * s, c.y - 8 * s}, {c.x + 7 * s, c.y + 8 * s}, ui.p.paper, 1 * s);
    } else {
        ui.draw()->AddTriangleFilled({c.x - 6 * s, c.y - 9 * s}, {c.x - 6 * s, c.y + 9 * s}, {c.x + 10 * s, c.y}, ui.p.paper);
    }
    if (t.hovered) ui.hint(clock.atEnd() ? "fly again (Space)" : clock.moving() ? "hold (Space)" : "fly on (Space)");

    // Simulated time, large; the pace in words.
    const float x = round.right() + 14 * s;
    const RulerChoice ruler = rulerOf(desk);
    const double length = ruler.levels[static_cast<std::size_t>(ruler.level)].length_s;
    const std::string time = ruler.level == 0 ? shownTime(clock.time_s(), clock.time_s() < 10.0 ? 3 : 4) : timeText(clock.time_s(), 0.01 * length);
    ui.text(x, place.y + 4 * s, ui.fonts.title, ui.p.ink, time);
    const std::string state = clock.atEnd() ? "the flight is over" : clock.filling() ? "filling" : clock.paused() ? "held" : "simulated time";
    ui.text(x, place.y + 31 * s, ui.fonts.small, ui.p.quiet, state);

    // Pace and the two ways to the end, from the right.
    const float button = 76 * s;
    float right = place.right();
    const bool over = clock.atEnd();
    if (ui.button("fill", {right - button, place.y + 10 * s, button, 30 * s}, over ? "Fly again" : "Fill now", clock.filling(),
                  over ? "from the start (R)" : "fly to the end as fast as it goes (End)")) {
        act(desk, over ? Act::restart : Act::fill);
    }
    right -= button + 12 * s;
    const bool narrow = place.w < 560 * s;  // the typed pace stands alone
    const float pace_width = narrow ? 76 * s : 136 * s;
    const Rect pace{right - pace_width, place.y + 2 * s, pace_width, 46 * s};
    ui.text(pace.x, pace.y, ui.fonts.small, ui.p.quiet, "Pace");
    typedPace(desk, {pace.right() - (narrow ? 76 : 84) * s, pace.y + (narrow ? 20 * s : -2 * s), (narrow ? 76 : 84) * s, 26 * s});
    double share = std::log(clock.pace() / SimClock::least_pace) / std::log(SimClock::most_pace / SimClock::least_pace);
    if (!narrow && ui.slider("pace slider", {pace.x + 6 * s, pace.y + 28 * s, pace.w - 12 * s, 22 * s}, share, 0.02)) {
        setPace(desk, SimClock::least_pace * std::pow(SimClock::most_pace / SimClock::least_pace, share));
    }
    right = pace.x - 22 * s;
    const float left = x + std::max({108 * s, ui.size(ui.fonts.small, state).x + 16 * s, ui.size(ui.fonts.title, time).x + 16 * s});
    if (right - left > 60 * s) drawRuler(desk, {left, place.y + 2 * s, right - left, 60 * s});
}

}  // namespace linefall
