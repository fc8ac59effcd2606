#pragma once
// Turns the loop of a session, without a window, until its scene flies.

#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

#include "app/session.h"

namespace linefall {

inline void load(Session& session) {
    for (int i = 0; i < 20000 && !session.loaded() && session.failure().empty(); ++i) {
        session.frame(0.0, 5.0);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    INFO(session.failure());
    REQUIRE(session.loaded());
}

}  // namespace linefall
