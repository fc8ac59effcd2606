#pragma once
// Two pictures in one place, by turns: never more often than twice a second, and by key alone where motion is reduced.
// Knows no window and no wall clock.

#include <algorithm>

namespace linefall {

class Blink {
public:
    static constexpr double shortest_s = 0.5;  ///< between two changes, whoever asks: no flashing
    static constexpr double usual_s = 0.8;     ///< between two changes by itself

    [[nodiscard]] bool on() const { return on_; }
    [[nodiscard]] int shown() const { return shown_; }
    /// Begins with one picture of `count`.
    void begin(int first, int count) {
        on_ = count > 1;
        count_ = count;
        shown_ = std::clamp(first, 0, std::max(0, count - 1));
        still_s_ = 0.0;
        asked_ = false;
    }
    void end() { on_ = false; }
    /// The other picture, as soon as that is no flashing.
    void next() { asked_ = on_; }
    /// Time goes on; `by_itself`: pictures change without being asked. True when the picture changed.
    bool step(double seconds, bool by_itself) {
        if (!on_) return false;
        still_s_ += seconds;
        if (still_s_ < shortest_s || (!asked_ && (!by_itself || still_s_ < usual_s))) return false;
        shown_ = (shown_ + 1) % count_;
        still_s_ = 0.0;
        asked_ = false;
        return true;
    }

private:
    bool on_ = false, asked_ = false;
    int shown_ = 0, count_ = 2;
    double still_s_ = 0.0;
};

}  // namespace linefall
