#pragma once
// What a person does with keys, pointer and dropped files: taken in its order, and handed to the interface and to the desk.

#include <SDL.h>

#include <cfloat>
#include <utility>

#include "app/desk.h"
#include "app/input_queue.h"

namespace linefall {

class Input {
public:
    explicit Input(Desk& desk) : desk_(desk) {}

    /// Sleeps until something happens, this long at most.
    void wait(int milliseconds);
    /// Takes what this frame may see.
    void takeEvents();
    /// The pointer where the page has seen it so far; nowhere while the page is deaf or another window has it.
    void placePointer(SDL_Window* window);

    [[nodiscard]] bool empty() const { return queue_.empty(); }
    /// The window was asked to close.
    [[nodiscard]] bool quit() const { return quit_; }
    /// A few frames after each event let hover and focus settle.
    [[nodiscard]] bool settling() const { return settling_ > 0; }
    void frameDrawn() { settling_ -= settling_ > 0 ? 1 : 0; }
    /// Asked once a frame: true in the one in which the page has settled about what was done.
    [[nodiscard]] bool actSettled();

private:
    void take(const SDL_Event& event);
    void hear(const SDL_Event& event);
    void key(const SDL_KeyboardEvent& event);

    Desk& desk_;
    InputQueue queue_;
    static constexpr int told_after = 3;  // frames: the page has settled about what was done
    int acted_ = 0, acted_again_ = 0;     // frames until it is told
    int settling_ = 0;
    bool quit_ = false;
    ImVec2 pointer_{-FLT_MAX, -FLT_MAX};  // as the page has seen them so far
    unsigned buttons_ = 0;
};

}  // namespace linefall
