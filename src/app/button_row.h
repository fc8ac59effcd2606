#pragma once
// Buttons beside each other, as wide as their words.

#include <algorithm>
#include <string>

#include "app/ui.h"

namespace linefall {

/// Buttons from left to right, broken into rows; the words decide how wide each is.
class ButtonRow {
public:
    ButtonRow(Ui& ui, float left, float right, float y) : ui_(ui), left_(left), right_(right), x_(left), y_(y) {}
    bool button(const std::string& id, const std::string& words, bool on, const std::string& hint) {
        const float s = ui_.s, width = std::max(56 * s, ui_.size(ui_.fonts.small, words).x + 22 * s);
        if (x_ > left_ && x_ + width > right_) {
            x_ = left_;
            y_ += 34 * s;
        }
        const Rect r{x_, y_, std::min(width, right_ - left_), 28 * s};
        x_ += width + 7 * s;
        return ui_.button(id, r, words, on, hint);
    }
    [[nodiscard]] float bottom() const { return y_ + 34 * ui_.s; }

private:
    Ui& ui_;
    float left_, right_, x_, y_;
};

}  // namespace linefall
