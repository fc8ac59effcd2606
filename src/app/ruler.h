#pragma once
// Which stretch of time the clock's ruler covers: the whole pass, or a page of it that turns by itself: sweeps, one sweep,
// dwells, one dwell. No window needed.

#include <string>
#include <vector>

#include "instruments/moment.h"

namespace linefall {

struct RulerLevel {
    enum class Unit { pass, sweeps, dwells } unit = Unit::pass;
    int count = 1;
    double length_s = 0.0;
};
/// From the whole pass to one dwell, each shorter than the one before.
[[nodiscard]] std::vector<RulerLevel> rulerLevels(const Instrument& instrument, double duration_s);
/// A sweep is waited for so long that it can be watched.
[[nodiscard]] bool isSlow(const Instrument& instrument, double pace);
/// In slow motion the shortest level whose page is waited for a second or longer, else the whole pass; index into `levels`.
[[nodiscard]] int rulerLevelFor(const Instrument& instrument, const std::vector<RulerLevel>& levels, double pace);

/// The page of a level that holds a time.
struct RulerPage {
    double from_s = 0.0, to_s = 0.0;
    std::string words;  ///< what it covers: "line 124", "the whole pass"
    int line = -1;      ///< of its sweep, when it lies within one
};
[[nodiscard]] RulerPage rulerPage(const Instrument& instrument, double duration_s, const RulerLevel& level, double time_s);

}  // namespace linefall
