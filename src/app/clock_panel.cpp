// The clock: simulated time on a ruler, scrubbed both ways; hold, pace, fill, fly again.

#include <algorithm>
#include <cmath>

#include "app/desk.h"

namespace linefall {

namespace {

/// A round step that gives about `marks` marks on a ruler.
double roundStep(double length, double marks) {
    const double rough = std::max(1e-12, length / marks);
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * power >= rough) return factor * power;
    }
    return 10.0 * power;
}

void drawRuler(Desk& desk, const Rect& r) {
    Ui& ui = desk.ui;
    SimClock& clock = desk.session.clock();
    const float s = ui.s;
    const double duration = std::max(1e-12, clock.duration_s());
    const Touch t = ui.touch("clock", {r.x - 6 * s, r.y, r.w + 12 * s, r.h});
    const float y = r.y + 14 * s;
    const auto xOf = [&](double time) { return r.x + r.w * static_cast<float>(time / duration); };
    ui.draw()->AddRectFilled({r.x, y - 2 * s}, {r.right(), y + 2 * s}, ui.p.control, 2 * s);
    ui.draw()->AddRectFilled({r.x, y - 2 * s}, {xOf(clock.time_s()), y + 2 * s}, ui.p.ink, 2 * s);
    const double step = roundStep(duration, r.w / (64.0 * s));
    for (double mark = 0.0; mark <= duration * 1.0001; mark += step) {
        const float x = xOf(std::min(mark, duration));
        ui.line({x, y + 6 * s}, {x, y + 11 * s}, ui.p.quiet, 1.0f);
        const std::string words = mark == 0.0 ? "0" : shortText(mark, Kind::time, 3);
        if (x + 0.5f * ui.size(ui.fonts.small, words).x <= r.right() + 10 * s) ui.text(x, y + 11 * s, ui.fonts.small, ui.p.quiet, words, Align::centre);
    }
    const float x = xOf(clock.time_s());
    ui.draw()->AddCircleFilled({x, y}, 9.5f * s, ui.p.paper, 24);
    ui.draw()->AddCircleFilled({x, y}, (t.held || t.hovered ? 8.0f : 7.0f) * s, ui.p.ink, 24);
    ui.draw()->AddCircleFilled({x, y}, 2.5f * s, ui.p.paper, 12);
    if (t.held) {
        desk.session.clock().setPaused(true);
        desk.session.scrub(duration * std::clamp(static_cast<double>((ImGui::GetIO().MousePos.x - r.x) / r.w), 0.0, 1.0));
    } else if (t.step_x != 0) {
        clock.setPaused(true);
        desk.session.scrub(clock.time_s() + 0.01 * duration * t.step_x);
    }
}

}  // namespace

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
    const std::string time = shortText(clock.time_s(), Kind::time, clock.time_s() < 10.0 ? 3 : 4);
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
    std::string entered;
    if (ui.field("pace", {pace.right() - 76 * s, pace.y + (narrow ? 20 * s : -2 * s), 76 * s, 26 * s}, "× " + figuresText(clock.pace(), 3), entered)) {
        for (const char* sign : {"×", "x"}) {
            if (const std::size_t at = entered.find(sign); at != std::string::npos) entered.erase(at, std::string(sign).size());
        }
        const ParsedQuantity parsed = parseQuantity(entered, Kind::number);
        if (parsed.ok() && parsed.value > 0.0) clock.setPace(parsed.value);
    }
    double share = std::log(clock.pace() / SimClock::least_pace) / std::log(SimClock::most_pace / SimClock::least_pace);
    if (!narrow && ui.slider("pace slider", {pace.x + 6 * s, pace.y + 25 * s, pace.w - 12 * s, 24 * s}, share, 0.02)) {
        clock.setPace(SimClock::least_pace * std::pow(SimClock::most_pace / SimClock::least_pace, share));
    }
    right = pace.x - 22 * s;
    const float left = x + std::max(108 * s, ui.size(ui.fonts.small, state).x + 16 * s);
    if (right - left > 60 * s) drawRuler(desk, {left, place.y + 2 * s, right - left, 46 * s});
}

}  // namespace linefall
