// Time: paces at which something can be watched, steps of a line or a sample, and one line swept by hand.

#include <algorithm>

#include "app/desk.h"
#include "app/pace.h"
#include "app/tools.h"

namespace linefall {

void drawTime(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, gap = 8 * s, height = 30 * s;
    Session& session = desk.session;
    const SimClock& clock = session.clock();
    const Instrument& instrument = session.crafts()[static_cast<std::size_t>(desk.active)]->formation().instrument();
    const SweepTimes sweep = sweepOf(instrument, momentOf(desk, desk.active).line);
    const double dwell_s = instrument.derived().dwell_s, sweep_s = sweep.to_s - sweep.from_s;
    const bool narrow = place.w < 560 * s;
    const int columns = narrow ? 2 : 4;
    const float width = (place.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    int at = 0;
    const auto button = [&](const char* id, const std::string& words, bool on, const std::string& hint) {
        const Rect r{place.x + static_cast<float>(at % columns) * (width + gap), place.y + static_cast<float>(at / columns) * (height + gap), width, height};
        ++at;
        return ui.button(id, r, words, on, hint);
    };
    const auto pace = [&](const char* id, const std::string& words, double value) {
        value = std::clamp(value, SimClock::least_pace, SimClock::most_pace);
        if (button(id, words, std::abs(clock.pace() / value - 1.0) < 1e-6, paceText(value) + " of real time")) {
            setPace(desk, value);
            if (!session.handCraft()) session.clock().setPaused(false);
        }
    };
    pace("pace of a dwell", "A dwell in 2 s", dwell_s / 2.0);
    pace("pace of a sweep", instrument.hasMirror() ? "A sweep in 6 s" : "A line in 6 s", sweep_s / 6.0);
    pace("real time", "Real time", 1.0);
    pace("pace of the pass", "The pass in 25 s", clock.duration_s() / 25.0);
    if (button("step line back", "One line back", false, "one line back (,)")) act(desk, Act::line_back);
    if (button("step line on", "One line on", false, "one line on (.)")) act(desk, Act::line_on);
    if (button("step sample back", "One sample back", false, "one sample back (Shift ,)")) act(desk, Act::sample_back);
    if (button("step sample on", "One sample on", false, "one sample on (Shift .)")) act(desk, Act::sample_on);
    float y = place.y + static_cast<float>((at + columns - 1) / columns) * (height + gap) + 4 * s;
    const bool by_hand = session.handCraft().has_value();
    const float wide = std::min(place.w, 190 * s);
    if (ui.button("be the mirror", {place.x, y, wide, height}, by_hand ? "The machine takes over" : instrument.hasMirror() ? "Be the mirror" : "Uncover a line by hand", by_hand,
                  "sweep one line by hand: drag, or the arrow keys (J)")) {
        act(desk, Act::by_hand);
    }
    const std::string letter(1, letterOf(desk.active));
    const std::string words = letter + ": dwell " + shownTime(dwell_s, 3) + (instrument.derived().scan_period_s > 0.0 ? instrument.hasMirror() ? ", sweep " : ", line " : ", shown ") +
                              shownTime(sweep_s, 3) + ", " + std::to_string(instrument.samples()) + " samples. One dwell is waited for " +
                              shownTime(dwell_s / clock.pace(), 2) + ".";
    const float used = ui.paragraph(place.x + (narrow ? 0.0f : wide + 14 * s), y + (narrow ? height + 4 * s : 6 * s), place.w - (narrow ? 0.0f : wide + 14 * s), ui.fonts.small, ui.p.quiet, words);
    drawerReaches(y + std::max(height, used) + (narrow ? height : 0.0f) + 8 * s);
}

}  // namespace linefall
