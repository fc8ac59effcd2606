#include "app/input.h"

#include <imgui.h>
#include <backends/imgui_impl_sdl.h>

#include <utility>

#include "app/keeper.h"
#include "app/keys.h"

namespace linefall {

void Input::wait(int milliseconds) {
    SDL_Event event;
    if (queue_.empty() && SDL_WaitEventTimeout(&event, milliseconds) != 0) queue_.push(event);
}

void Input::takeEvents() {
    SDL_Event event;
    while (SDL_PollEvent(&event) != 0) queue_.push(event);
    queue_.turn();
    while (const std::optional<SDL_Event> next = queue_.next(desk_.ui.typing())) take(*next);
}

bool Input::actSettled() {
    const bool settled = acted_ > 0 && --acted_ == 0;
    if (settled) acted_ = std::exchange(acted_again_, 0);
    return settled;
}

void Input::take(const SDL_Event& event) {
    const bool deaf = desk_.frozen || desk_.blank;
    if (!deaf || event.type == SDL_WINDOWEVENT || event.type == SDL_KEYUP || event.type == SDL_MOUSEBUTTONUP) hear(event);
    if (desk_.blank && event.type == SDL_MOUSEBUTTONDOWN) desk_.blank = false;
    settling_ = 4;
    const bool acted = event.type == SDL_KEYDOWN || event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP || event.type == SDL_MOUSEWHEEL;
    if (acted) (acted_ > 0 ? acted_again_ : acted_) = told_after;
    if (event.type == SDL_DROPFILE) {
        openFile(desk_, event.drop.file);
        SDL_free(event.drop.file);
    }
    if (event.type == SDL_QUIT) quit_ = true;
    if (event.type == SDL_WINDOWEVENT && event.window.event == SDL_WINDOWEVENT_CLOSE) quit_ = true;
    if (event.type == SDL_KEYDOWN) key(event.key);
}

/// Hands an event to the interface as it was when it happened, not as the keys and the pointer are now.
void Input::hear(const SDL_Event& event) {
    ImGui_ImplSDL2_ProcessEvent(&event);
    ImGuiIO& io = ImGui::GetIO();
    if (event.type == SDL_KEYDOWN || event.type == SDL_KEYUP) {
        io.KeyShift = (event.key.keysym.mod & KMOD_SHIFT) != 0;
        io.KeyCtrl = (event.key.keysym.mod & KMOD_CTRL) != 0;
        io.KeyAlt = (event.key.keysym.mod & KMOD_ALT) != 0;
    }
    if (event.type == SDL_MOUSEMOTION) pointer_ = {static_cast<float>(event.motion.x), static_cast<float>(event.motion.y)};
    if (event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP) {
        pointer_ = {static_cast<float>(event.button.x), static_cast<float>(event.button.y)};
        const unsigned bit = SDL_BUTTON(event.button.button);
        buttons_ = event.type == SDL_MOUSEBUTTONDOWN ? buttons_ | bit : buttons_ & ~bit;
    }
}

void Input::placePointer(SDL_Window* window) {
    ImGuiIO& io = ImGui::GetIO();
    if (queue_.empty()) {  // nothing waits: pointer warps reach no event, and a button let go elsewhere none either
        int x = 0, y = 0;
        buttons_ &= SDL_GetMouseState(&x, &y);
        pointer_ = {static_cast<float>(x), static_cast<float>(y)};
    }
    const bool here = SDL_GetKeyboardFocus() == window || SDL_GetMouseFocus() == window;
    io.MousePos = desk_.frozen || desk_.blank || !here ? ImVec2{-FLT_MAX, -FLT_MAX} : pointer_;
    io.MouseDown[0] = (buttons_ & SDL_BUTTON_LMASK) != 0;
    io.MouseDown[1] = (buttons_ & SDL_BUTTON_RMASK) != 0;
    io.MouseDown[2] = (buttons_ & SDL_BUTTON_MMASK) != 0;
}

void Input::key(const SDL_KeyboardEvent& event) {
    if (desk_.ui.typing()) return;
    const bool control = (event.keysym.mod & (KMOD_CTRL | KMOD_GUI)) != 0;
    const bool shift = (event.keysym.mod & KMOD_SHIFT) != 0;
    if (desk_.blank) {  // any key comes back, and does nothing else
        if (event.repeat == 0) desk_.blank = false;
        return;
    }
    const KeyRow* row = rowOf(event.keysym.scancode, control, shift, desk_.lecture);
    if (desk_.frozen) {
        if (event.repeat == 0 && row != nullptr && (row->act == Act::freeze || row->act == Act::close)) desk_.frozen = false;
        return;
    }
    if (row != nullptr && (event.repeat == 0 || repeats(row->act))) act(desk_, row->act);
}

}  // namespace linefall
