#pragma once
// Simulated time: paused or running at a pace, scrubbed both ways. It knows no wall clock: frame() hands it seconds.

#include <algorithm>
#include <array>
#include <cstddef>

namespace linefall {

class SimClock {
public:
    /// A new flight: back to the start; the pace lets a whole pass last `whole_pass_s` seconds of waiting.
    void reset(double duration_s, double whole_pass_s = 25.0) {
        duration_s_ = duration_s;
        time_s_ = 0.0;
        pace_ = duration_s > 0.0 ? std::clamp(duration_s / whole_pass_s, least_pace, most_pace) : 1.0;
        paused_ = filling_ = false;
    }
    /// The same flight lasts longer or shorter now: the same share of it has passed.
    void setDuration(double duration_s) {
        if (duration_s_ > 0.0) time_s_ *= duration_s / duration_s_;
        duration_s_ = duration_s;
    }
    /// Where the clock wants to be after so many seconds of waiting.
    [[nodiscard]] double wanted(double seconds) const {
        if (filling_) return duration_s_;
        return paused_ ? time_s_ : std::min(duration_s_, time_s_ + seconds * pace_);
    }
    void goTo(double time_s) {
        time_s_ = std::clamp(time_s, 0.0, duration_s_);
        if (time_s_ >= duration_s_) filling_ = false;
    }
    void scrub(double time_s) {
        filling_ = false;
        goTo(time_s);
    }
    void restart() {
        time_s_ = 0.0;
        paused_ = filling_ = false;
    }
    void fill() { filling_ = true; }
    void setPaused(bool paused) {
        paused_ = paused;
        filling_ = false;
    }
    void setPace(double pace) { pace_ = std::clamp(pace, least_pace, most_pace); }

    [[nodiscard]] double time_s() const { return time_s_; }
    [[nodiscard]] double duration_s() const { return duration_s_; }
    [[nodiscard]] double pace() const { return pace_; }
    [[nodiscard]] bool paused() const { return paused_; }
    [[nodiscard]] bool filling() const { return filling_; }
    [[nodiscard]] bool atEnd() const { return time_s_ >= duration_s_; }
    [[nodiscard]] bool moving() const { return !atEnd() && (filling_ || !paused_); }

    static constexpr double least_pace = 1e-5;
    static constexpr double most_pace = 1000.0;

private:
    double time_s_ = 0.0, duration_s_ = 0.0, pace_ = 1.0;
    bool paused_ = false, filling_ = false;
};

}  // namespace linefall
