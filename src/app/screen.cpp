#include "app/screen.h"

#include <imgui.h>
#include <backends/imgui_impl_opengl3.h>
#include <backends/imgui_impl_sdl.h>

#include <algorithm>
#include <cstring>

#include "app/window.h"
#include "view/gl.h"

namespace linefall {

namespace {

constexpr const char* shader_opening = "#version 330 core";

}  // namespace

Screen::~Screen() {
    if (interface_ready) {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplSDL2_Shutdown();
        ImGui::DestroyContext();
    }
    if (context != nullptr) SDL_GL_DeleteContext(context);
    if (window != nullptr) SDL_DestroyWindow(window);
    SDL_Quit();
}

std::string Screen::open(const WindowOptions& options) {
    if (SDL_Init(SDL_INIT_VIDEO) != 0) return std::string("no display could be opened (") + SDL_GetError() + "). Without a screen, use 'linefall form'.";
    const char *driver = SDL_GetCurrentVideoDriver(), *asked = SDL_getenv("SDL_VIDEODRIVER");
    const auto is = [](const char* name, const char* other) { return name != nullptr && std::strcmp(name, other) == 0; };
    // SDL falls back to a window that nobody sees; whoever asks for it by name measures frames without a screen.
    const bool unseen = is(driver, "offscreen") && is(asked, "offscreen");
    if (!unseen && (driver == nullptr || is(driver, "offscreen") || is(driver, "dummy"))) {
        return "no display was found: neither X11 nor Wayland answers. Without a screen, use 'linefall form', or start it under xvfb-run.";
    }
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
    SDL_Rect room{0, 0, options.width, options.height};  // no larger than the screen
    const bool known = !unseen && SDL_GetDisplayUsableBounds(0, &room) == 0;
    const int width = known ? std::min(options.width, room.w) : options.width, height = known ? std::min(options.height, room.h) : options.height;
    window = SDL_CreateWindow("Linefall", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, width, height,
                              SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
    if (window == nullptr) return std::string("no window with OpenGL could be opened: ") + SDL_GetError();
    SDL_SetWindowMinimumSize(window, 640, 400);
    context = SDL_GL_CreateContext(window);
    if (context == nullptr) return std::string("OpenGL 3.3 is needed and this display does not offer it: ") + SDL_GetError();
    SDL_GL_MakeCurrent(window, context);
    SDL_GL_SetSwapInterval(0);  // frames are capped here: a virtual screen never waits
    return loadGl([](const char* name) { return SDL_GL_GetProcAddress(name); });
}

void Screen::startInterface() {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().LogFilename = nullptr;
    ImGui_ImplSDL2_InitForOpenGL(window, context);
    ImGui_ImplOpenGL3_Init(shader_opening);
    interface_ready = true;
}

void Screen::present(unsigned paper) const {
    int pixels_w = 0, pixels_h = 0;
    SDL_GL_GetDrawableSize(window, &pixels_w, &pixels_h);
    glViewport(0, 0, pixels_w, pixels_h);
    const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(paper);
    glClearColor(ground.x, ground.y, ground.z, 1.0f);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    SDL_GL_SwapWindow(window);
}

void rebuildInterface() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplOpenGL3_Init(shader_opening);
    ImGui_ImplOpenGL3_CreateDeviceObjects();
}

}  // namespace linefall
