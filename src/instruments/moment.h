#pragma once
// What an instrument is doing at one instant: which line and sample gather light, and what had been gathered by then.
// Read from the times of its own looks, so nothing here knows what kind of instrument it is.

#include <optional>

#include "instruments/instrument.h"

namespace linefall {

/// The lines that are gathered at a time, and which sample when they are swept sample by sample.
struct Moment {
    int line = 0;                ///< first of the lines gathered together; between two sweeps the next; after the end the last
    int lines = 1;               ///< gathered together: detectors along the track of a mirror, all rows of a frame
    bool gathering = false;      ///< light falls on a detector that counts; false between sweeps, before and after the flight
    std::optional<int> sample;   ///< that gathers, or is the next to; nothing: all samples of the line at once
    double dwell = 0.0;          ///< share of the dwell that has passed, 0 .. 1
};
[[nodiscard]] Moment momentAt(const Instrument& instrument, double time_s);

/// Samples first .. last - 1.
struct SampleRun {
    int first = 0, last = 0;
    [[nodiscard]] int count() const { return last - first; }
    friend bool operator==(const SampleRun&, const SampleRun&) = default;
};
/// The samples of a line whose dwell is over at a time: all when the line is done, none before its first dwell ends.
[[nodiscard]] SampleRun gatheredBy(const Instrument& instrument, int line, double time_s);

/// When the dwell of a sample begins and ends, s.
[[nodiscard]] double dwellBegins_s(const Instrument& instrument, int line, int sample);
[[nodiscard]] double dwellEnds_s(const Instrument& instrument, int line, int sample);

/// The end of the next dwell after a time, or (`on` false) of the last one before it; of a line that is gathered at once,
/// its only one. 0 before the first.
[[nodiscard]] double nextDwellEnd_s(const Instrument& instrument, double time_s, bool on);

/// When the next line is done after a time, or (`on` false) the last one before it was; 0 before the first.
[[nodiscard]] double nextLineDone_s(const Instrument& instrument, double time_s, bool on);

/// A sweep or line period, and the part of it in which light is gathered, s.
struct SweepTimes {
    double from_s = 0.0, to_s = 0.0;
    double begins_s = 0.0, ends_s = 0.0;
};
/// Of the lines gathered together with `line`; of a frame, its exposure with as much time around it again.
[[nodiscard]] SweepTimes sweepOf(const Instrument& instrument, int line);

}  // namespace linefall
