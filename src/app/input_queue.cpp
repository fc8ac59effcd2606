#include "app/input_queue.h"

namespace linefall {

namespace {

bool isModifier(SDL_Scancode key) { return key >= SDL_SCANCODE_LCTRL && key <= SDL_SCANCODE_RGUI; }

/// A key that writes a letter into the field that has the focus.
bool writes(const SDL_KeyboardEvent& event) {
    return event.keysym.sym >= SDLK_SPACE && event.keysym.sym < SDLK_DELETE && (event.keysym.mod & (KMOD_CTRL | KMOD_GUI | KMOD_ALT)) == 0;
}

}  // namespace

void InputQueue::turn() {
    pressed_ = button_ = false;
    key_ = SDL_SCANCODE_UNKNOWN;
}

bool InputQueue::mustWait(const SDL_Event& event) const {
    if (!pressed_) return false;
    switch (event.type) {
        case SDL_KEYDOWN: return event.key.repeat == 0 || event.key.keysym.scancode != key_;
        case SDL_KEYUP: return event.key.keysym.scancode == key_ || isModifier(event.key.keysym.scancode);
        case SDL_MOUSEMOTION: return button_;
        case SDL_MOUSEBUTTONDOWN:
        case SDL_MOUSEBUTTONUP:
        case SDL_MOUSEWHEEL: return true;
        default: return false;
    }
}

std::optional<SDL_Event> InputQueue::next(bool typing) {
    if (waiting_.empty() || mustWait(waiting_.front())) return std::nullopt;
    const SDL_Event event = waiting_.front();
    waiting_.pop_front();
    const bool letter = event.type == SDL_KEYDOWN && typing && writes(event.key);
    if (event.type == SDL_KEYDOWN && !letter && !isModifier(event.key.keysym.scancode)) {
        pressed_ = true;
        key_ = event.key.keysym.scancode;
    }
    if (event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP) pressed_ = button_ = true;
    return event;
}

}  // namespace linefall
