#pragma once
// The order of input, kept on slow frames: a page sees at most one press a frame, and each press at the place and with the
// keys held where it happened. What comes later in the same frame waits for the next, in its order.

#include <SDL.h>

#include <deque>
#include <optional>

namespace linefall {

class InputQueue {
public:
    void push(const SDL_Event& event) { waiting_.push_back(event); }
    /// A new frame begins: presses may be seen again.
    void turn();
    /// The next event that this frame may see; nothing when all are seen or the rest waits. `typing`: letters go into a field, many a frame.
    std::optional<SDL_Event> next(bool typing);
    [[nodiscard]] bool empty() const { return waiting_.empty(); }

private:
    [[nodiscard]] bool mustWait(const SDL_Event& event) const;

    std::deque<SDL_Event> waiting_;
    bool pressed_ = false, button_ = false;        // of this frame: a key or button went down or a button up; a button did
    SDL_Scancode key_ = SDL_SCANCODE_UNKNOWN;      // the key that went down
};

}  // namespace linefall
