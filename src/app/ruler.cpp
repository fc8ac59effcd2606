#include "app/ruler.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

std::string range(const std::string& one, int first, int last) {
    if (first == last) return one + " " + std::to_string(first);
    return one + "s " + std::to_string(first) + " to " + std::to_string(last);
}

}  // namespace

std::vector<RulerLevel> rulerLevels(const Instrument& instrument, double duration_s) {
    using Unit = RulerLevel::Unit;
    std::vector<RulerLevel> levels{{Unit::pass, 1, duration_s}};
    const auto add = [&](Unit unit, int count, double length_s) {
        if (length_s > 0.0 && length_s < 0.5 * levels.back().length_s) levels.push_back({unit, count, length_s});
    };
    const SweepTimes sweep = sweepOf(instrument, 0);
    const double period_s = sweep.to_s - sweep.from_s;
    const bool many = instrument.derived().scan_period_s > 0.0;
    for (const int count : {1000, 100, 10}) {
        if (many) add(Unit::sweeps, count, count * period_s);
    }
    add(Unit::sweeps, 1, period_s);
    if (momentAt(instrument, 0.0).sample) {
        for (const int count : {20, 1}) add(Unit::dwells, count, count * instrument.derived().dwell_s);
    }
    return levels;
}

bool isSlow(const Instrument& instrument, double pace) {
    const SweepTimes sweep = sweepOf(instrument, 0);
    return sweep.to_s - sweep.from_s > 0.3 * pace;
}

int rulerLevelFor(const Instrument& instrument, const std::vector<RulerLevel>& levels, double pace) {
    if (!isSlow(instrument, pace)) return 0;
    int level = 0;
    for (std::size_t i = 1; i < levels.size(); ++i) {
        if (levels[i].length_s >= 1.0 * pace) level = static_cast<int>(i);
    }
    return level;
}

RulerPage rulerPage(const Instrument& instrument, double duration_s, const RulerLevel& level, double time_s) {
    if (level.unit == RulerLevel::Unit::pass) return {0.0, duration_s, "the whole pass", -1};
    const int together = std::max(1, instrument.derived().lines_at_once);
    const int last_line = instrument.lines() - 1;
    int line = momentAt(instrument, time_s).line;
    if (line >= together && time_s < sweepOf(instrument, line).from_s) line -= together;  // on the way back from a sweep
    const bool frame = instrument.derived().scan_period_s <= 0.0;
    RulerPage page;
    if (level.unit == RulerLevel::Unit::sweeps) {
        const int block = together * level.count;
        const int first = line - line % block, last = std::min(last_line, first + block - 1);
        page.from_s = sweepOf(instrument, first).from_s;
        page.to_s = sweepOf(instrument, last).to_s;
        if (frame && (time_s < page.from_s || time_s > page.to_s)) return {0.0, duration_s, "the whole pass", -1};
        page.words = frame ? "the exposure" : range("line", first, last);
        if (level.count == 1) page.line = line;
    } else {
        const SweepTimes sweep = sweepOf(instrument, line);
        const int samples = instrument.samples();
        const bool falls = dwellBegins_s(instrument, line, 0) > dwellBegins_s(instrument, line, samples - 1);
        const auto sampleAt = [&](int place) { return falls ? samples - 1 - place : place; };
        int place = samples - 1;  // in the order of the sweep
        if (time_s < sweep.ends_s) place = sampleAt(*momentAt(instrument, time_s).sample);
        const int first = place - place % level.count, last = std::min(samples - 1, first + level.count - 1);
        // The first and the last page of a sweep take the time around it as well.
        page.from_s = first == 0 ? sweep.from_s : dwellBegins_s(instrument, line, sampleAt(first));
        page.to_s = last == samples - 1 ? sweep.to_s : dwellEnds_s(instrument, line, sampleAt(last));
        page.words = "line " + std::to_string(line) + ", " + range("sample", std::min(sampleAt(first), sampleAt(last)), std::max(sampleAt(first), sampleAt(last)));
        page.line = line;
    }
    page.from_s = std::max(0.0, page.from_s);
    page.to_s = std::min(duration_s, page.to_s);
    return page;
}

}  // namespace linefall
