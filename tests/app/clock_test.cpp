#include <catch2/catch.hpp>

#include "app/clock.h"

namespace linefall {

TEST_CASE("A new flight passes in about 25 seconds of waiting, and holds at its end") {
    SimClock clock;
    clock.reset(100.0);
    CHECK(clock.pace() == Approx(4.0));
    for (int i = 0; i < 10; ++i) clock.goTo(clock.wanted(1.0));
    CHECK(clock.time_s() == Approx(40.0));
    for (int i = 0; i < 30; ++i) clock.goTo(clock.wanted(1.0));
    CHECK(clock.time_s() == 100.0);
    CHECK(clock.atEnd());
    CHECK_FALSE(clock.moving());
    clock.restart();
    CHECK(clock.time_s() == 0.0);
    CHECK(clock.moving());
}

TEST_CASE("A held clock does not move, and scrubbing goes both ways within the flight") {
    SimClock clock;
    clock.reset(60.0);
    clock.setPaused(true);
    CHECK(clock.wanted(5.0) == 0.0);
    clock.scrub(50.0);
    CHECK(clock.wanted(5.0) == 50.0);
    clock.scrub(10.0);
    CHECK(clock.time_s() == 10.0);
    clock.scrub(-4.0);
    CHECK(clock.time_s() == 0.0);
    clock.scrub(1e9);
    CHECK(clock.time_s() == 60.0);
}

TEST_CASE("Filling asks for the end at once and stops when it is there or when the clock is scrubbed") {
    SimClock clock;
    clock.reset(60.0);
    clock.fill();
    CHECK(clock.wanted(0.0) == 60.0);
    clock.goTo(30.0);  // as far as the lines were formed
    CHECK(clock.filling());
    clock.scrub(20.0);
    CHECK_FALSE(clock.filling());
    clock.fill();
    clock.goTo(60.0);
    CHECK_FALSE(clock.filling());
}

TEST_CASE("The pace stays between 1 to 100 000 and 1000 to 1, and a flight of another length keeps its share") {
    SimClock clock;
    clock.reset(80.0);
    clock.setPace(1e9);
    CHECK(clock.pace() == 1000.0);
    clock.setPace(0.0);
    CHECK(clock.pace() == 1e-5);
    clock.scrub(20.0);
    clock.setDuration(40.0);
    CHECK(clock.time_s() == Approx(10.0));
}

}  // namespace linefall
