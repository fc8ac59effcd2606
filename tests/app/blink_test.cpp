#include "app/blink.h"

#include <catch2/catch.hpp>

using linefall::Blink;

TEST_CASE("Pictures blink at most twice a second, however often the other one is asked for") {
    Blink blink;
    blink.begin(1, 2);
    REQUIRE(blink.on());
    CHECK(blink.shown() == 1);
    int changes = 0;
    for (int frame = 0; frame < 600; ++frame) {  // ten seconds
        blink.next();
        changes += blink.step(1.0 / 60.0, true) ? 1 : 0;
    }
    CHECK(changes > 15);
    CHECK(changes <= 20);
}

TEST_CASE("Where motion is reduced a blinking picture changes only when asked") {
    Blink blink;
    blink.begin(0, 2);
    for (int frame = 0; frame < 600; ++frame) CHECK_FALSE(blink.step(1.0 / 60.0, false));
    blink.next();
    CHECK(blink.step(1.0 / 60.0, false));
    CHECK(blink.shown() == 1);
}

TEST_CASE("One picture alone does not blink") {
    Blink blink;
    blink.begin(0, 1);
    CHECK_FALSE(blink.on());
    CHECK_FALSE(blink.step(10.0, true));
}
