#pragma once
// One line gathered by hand: the samples that the line of sight was moved over, in whatever order. Knows no window.

#include <cstdint>
#include <vector>

#include "instruments/moment.h"

namespace linefall {

class HandSweep {
public:
    /// Of lines line .. line + lines - 1, which are gathered together; begins over sample `at` and fills nothing yet.
    HandSweep(int line, int lines, int samples, int at);

    /// Moves the line of sight: every sample passed over is gathered, both ends included.
    void moveTo(int sample);
    /// Sets the line of sight down on a sample, which is gathered; none on the way is.
    void setTo(int sample);

    [[nodiscard]] int line() const { return line_; }
    [[nodiscard]] int lines() const { return lines_; }
    [[nodiscard]] int samples() const { return static_cast<int>(filled_.size()); }
    [[nodiscard]] int at() const { return at_; }
    [[nodiscard]] bool holds(int line, int sample) const;
    [[nodiscard]] int count() const { return count_; }
    [[nodiscard]] bool complete() const { return count_ == samples(); }
    /// The samples gathered so far, as runs in rising order.
    [[nodiscard]] std::vector<SampleRun> runs() const;

private:
    void gather(int sample);
    int line_, lines_, at_, count_ = 0;
    std::vector<std::uint8_t> filled_;
};

}  // namespace linefall
