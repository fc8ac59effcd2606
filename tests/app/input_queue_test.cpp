#include "app/input_queue.h"

#include <catch2/catch.hpp>
#include <initializer_list>
#include <string>
#include <vector>

using namespace linefall;

namespace {

SDL_Event key(Uint32 type, SDL_Scancode code, SDL_Keycode symbol, Uint16 modifiers = KMOD_NONE, Uint8 repeat = 0) {
    SDL_Event event{};
    event.type = type;
    event.key.keysym.scancode = code;
    event.key.keysym.sym = symbol;
    event.key.keysym.mod = modifiers;
    event.key.repeat = repeat;
    return event;
}
SDL_Event down(SDL_Scancode code, SDL_Keycode symbol, Uint16 modifiers = KMOD_NONE) { return key(SDL_KEYDOWN, code, symbol, modifiers); }
SDL_Event up(SDL_Scancode code, SDL_Keycode symbol) { return key(SDL_KEYUP, code, symbol); }
SDL_Event plain(Uint32 type) {
    SDL_Event event{};
    event.type = type;
    return event;
}

/// How many events each frame sees until none waits.
std::vector<int> frames(std::initializer_list<SDL_Event> events, bool typing = false) {
    InputQueue queue;
    for (const SDL_Event& event : events) queue.push(event);
    std::vector<int> seen;
    while (!queue.empty()) {
        queue.turn();
        int count = 0;
        while (queue.next(typing)) ++count;
        REQUIRE(count > 0);
        seen.push_back(count);
    }
    return seen;
}

}  // namespace

TEST_CASE("Keys pressed within one frame are seen one a frame, in their order") {
    CHECK(frames({down(SDL_SCANCODE_M, SDLK_m), up(SDL_SCANCODE_M, SDLK_m), down(SDL_SCANCODE_RETURN, SDLK_RETURN), up(SDL_SCANCODE_RETURN, SDLK_RETURN), down(SDL_SCANCODE_DOWN, SDLK_DOWN)}) ==
          std::vector<int>{1, 2, 2});
}

TEST_CASE("A key let go within its frame is let go in the next, and its shift with it") {
    CHECK(frames({down(SDL_SCANCODE_LSHIFT, SDLK_LSHIFT), down(SDL_SCANCODE_LEFT, SDLK_LEFT, KMOD_LSHIFT), up(SDL_SCANCODE_LSHIFT, SDLK_LSHIFT), up(SDL_SCANCODE_LEFT, SDLK_LEFT)}) == std::vector<int>{2, 2});
}

TEST_CASE("A held key repeats within a frame") {
    CHECK(frames({down(SDL_SCANCODE_LEFT, SDLK_LEFT), key(SDL_KEYDOWN, SDL_SCANCODE_LEFT, SDLK_LEFT, KMOD_NONE, 1), key(SDL_KEYDOWN, SDL_SCANCODE_LEFT, SDLK_LEFT, KMOD_NONE, 1)}) == std::vector<int>{3});
}

TEST_CASE("Letters go into a field many a frame, and Enter after them in a frame of its own order") {
    CHECK(frames({down(SDL_SCANCODE_1, SDLK_1), plain(SDL_TEXTINPUT), up(SDL_SCANCODE_1, SDLK_1), down(SDL_SCANCODE_5, SDLK_5), plain(SDL_TEXTINPUT), up(SDL_SCANCODE_5, SDLK_5)}, true) == std::vector<int>{6});
    // Select all, then a letter: the letter waits, or it would come before the selection.
    CHECK(frames({down(SDL_SCANCODE_A, SDLK_a, KMOD_LCTRL), up(SDL_SCANCODE_A, SDLK_a), down(SDL_SCANCODE_1, SDLK_1), plain(SDL_TEXTINPUT)}, true) == std::vector<int>{1, 3});
}

TEST_CASE("A click is seen where it happened: the pointer goes on in the next frame") {
    const SDL_Event move = plain(SDL_MOUSEMOTION);
    CHECK(frames({move, move, plain(SDL_MOUSEBUTTONDOWN), move, plain(SDL_MOUSEBUTTONUP), move}) == std::vector<int>{3, 2, 1});
}
