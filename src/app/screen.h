#pragma once
// The window on the screen, its OpenGL context and the interface that draws into it.

#include <SDL.h>

#include <string>

namespace linefall {

struct WindowOptions;

/// SDL, a window and an OpenGL context; undone in the right order.
struct Screen {
    SDL_Window* window = nullptr;
    SDL_GLContext context = nullptr;
    bool interface_ready = false;

    Screen() = default;
    ~Screen();
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;
    /// What is wrong, or an empty text.
    std::string open(const WindowOptions& options);
    void startInterface();
    /// Minimised, or taken from the screen.
    [[nodiscard]] bool hidden() const { return (SDL_GetWindowFlags(window) & (SDL_WINDOW_MINIMIZED | SDL_WINDOW_HIDDEN)) != 0; }
    /// Shows the page that the interface has drawn, on a ground of its own colour.
    void present(unsigned paper) const;
};

/// What the interface draws its page with, destroyed and made again whole: it remembers sizes of buffers beyond their destruction.
void rebuildInterface();

}  // namespace linefall
