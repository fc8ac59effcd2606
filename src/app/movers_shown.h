#pragma once
// Things that move, shown where they stand at the clock's time.

#include <optional>

#include "app/desk.h"
#include "view/moving_things.h"

namespace linefall {

class MoversShown {
public:
    /// Once a frame, when the world has taken its drape and objects.
    void show(Desk& desk);
    /// They went on in this frame.
    [[nodiscard]] bool went() const { return went_; }

private:
    std::optional<MovingThings> things_;
    int version_ = 0;
    double time_s_ = 0.0;
    bool went_ = false;
};

}  // namespace linefall
