#include "instruments/moment.h"

#include <algorithm>

namespace linefall {

namespace {

/// The first line that is not done at a time; the last one when all are.
int lineAt(const Instrument& instrument, double time_s) {
    int low = 0, high = instrument.lines() - 1;
    while (low < high) {
        const int middle = (low + high) / 2;
        if (instrument.lineDone_s(middle) > time_s) high = middle;
        else low = middle + 1;
    }
    return low - low % std::max(1, instrument.derived().lines_at_once);
}

/// Samples of a line are gathered in rising order (1), in falling order (-1), or at once (0).
int orderOf(const Instrument& instrument, int line) {
    const double first_s = instrument.lookTime_s(line, 0, 0.0), last_s = instrument.lookTime_s(line, instrument.samples() - 1, 0.0);
    return first_s < last_s ? 1 : first_s > last_s ? -1 : 0;
}

/// The sample at a place in the order of its sweep.
int sampleAt(const Instrument& instrument, int place, int order) { return order < 0 ? instrument.samples() - 1 - place : place; }

/// How many samples of a line were gathered by a time; `before`: those that end at that very time are left out.
int countBy(const Instrument& instrument, int line, double time_s, int order, bool before = false) {
    const auto over = [&](double end_s) { return before ? end_s < time_s : end_s <= time_s; };
    if (order == 0) return over(instrument.lineDone_s(line)) ? instrument.samples() : 0;
    int low = 0, high = instrument.samples();
    while (low < high) {
        const int middle = (low + high) / 2;
        if (over(dwellEnds_s(instrument, line, sampleAt(instrument, middle, order)))) low = middle + 1;
        else high = middle;
    }
    return low;
}

}  // namespace

double dwellBegins_s(const Instrument& instrument, int line, int sample) { return instrument.lookTime_s(line, sample, -0.5); }

double dwellEnds_s(const Instrument& instrument, int line, int sample) {
    // The last dwell of a line ends when the line is done, to the bit.
    const int order = orderOf(instrument, line);
    if (order == 0 || sample == (order > 0 ? instrument.samples() - 1 : 0)) return instrument.lineDone_s(line);
    return instrument.lookTime_s(line, sample, 0.5);
}

SampleRun gatheredBy(const Instrument& instrument, int line, double time_s) {
    const int samples = instrument.samples();
    const int order = orderOf(instrument, line);
    const int count = countBy(instrument, line, time_s, order);
    return order < 0 ? SampleRun{samples - count, samples} : SampleRun{0, count};
}

Moment momentAt(const Instrument& instrument, double time_s) {
    Moment now;
    now.line = lineAt(instrument, time_s);
    now.lines = std::max(1, instrument.derived().lines_at_once);
    const int order = orderOf(instrument, now.line);
    int sample = 0;
    if (order != 0) {
        sample = sampleAt(instrument, std::min(instrument.samples() - 1, countBy(instrument, now.line, time_s, order)), order);
        now.sample = sample;
    }
    const double begins_s = dwellBegins_s(instrument, now.line, sample), ends_s = dwellEnds_s(instrument, now.line, sample);
    now.gathering = time_s >= begins_s && time_s < ends_s;
    now.dwell = ends_s > begins_s ? std::clamp((time_s - begins_s) / (ends_s - begins_s), 0.0, 1.0) : 0.0;
    return now;
}

double nextDwellEnd_s(const Instrument& instrument, double time_s, bool on) {
    int line = lineAt(instrument, time_s);
    const int order = orderOf(instrument, line);
    const int count = countBy(instrument, line, time_s, order);
    if (on) return count < instrument.samples() ? dwellEnds_s(instrument, line, sampleAt(instrument, count, order)) : time_s;
    for (; line >= 0; line -= std::max(1, instrument.derived().lines_at_once)) {
        const int own_order = orderOf(instrument, line);
        const int before = countBy(instrument, line, time_s, own_order, true);
        if (before > 0) return dwellEnds_s(instrument, line, sampleAt(instrument, before - 1, own_order));
    }
    return 0.0;
}

double nextLineDone_s(const Instrument& instrument, double time_s, bool on) {
    int line = lineAt(instrument, time_s);
    if (on) return std::max(time_s, instrument.lineDone_s(line));
    for (; line >= 0; line -= std::max(1, instrument.derived().lines_at_once)) {
        if (instrument.lineDone_s(line) < time_s) return instrument.lineDone_s(line);
    }
    return 0.0;
}

SweepTimes sweepOf(const Instrument& instrument, int line) {
    const Derived& d = instrument.derived();
    line -= line % std::max(1, d.lines_at_once);
    const int last = instrument.samples() - 1;
    SweepTimes times;
    times.begins_s = std::min(dwellBegins_s(instrument, line, 0), dwellBegins_s(instrument, line, last));
    times.ends_s = instrument.lineDone_s(line);
    const double middle_s = 0.5 * (times.begins_s + times.ends_s);
    const double period_s = d.scan_period_s > 0.0 ? d.scan_period_s : 3.0 * (times.ends_s - times.begins_s);
    times.from_s = middle_s - 0.5 * period_s;
    times.to_s = middle_s + 0.5 * period_s;
    return times;
}

}  // namespace linefall
