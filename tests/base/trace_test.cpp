// The walk of one sample, written down.
#include <catch2/catch.hpp>

#include <stdexcept>

#include "base/trace.h"

using namespace linefall;

TEST_CASE("a trace keeps its rows in order and finds a value by symbol, band and contribution") {
    Trace trace;
    trace.add("sun", "E0", "irradiance above the air", 1500.0, "W m-2 um-1", 0);
    trace.add("sun", "E0", "irradiance above the air", 1800.0, "W m-2 um-1", 1);
    trace.add("ground", "m", "cosine of the local incidence", 0.5, "", -1, 2);
    REQUIRE(trace.rows().size() == 3);
    CHECK(trace.rows()[0].stage == "sun");
    CHECK(trace.rows()[0].meaning == "irradiance above the air");
    CHECK(trace.rows()[1].unit == "W m-2 um-1");
    CHECK(trace.rows()[2].symbol == "m");
    CHECK(trace.value("E0", 0) == 1500.0);
    CHECK(trace.value("E0", 1) == 1800.0);
    CHECK(trace.value("m", -1, 2) == 0.5);
}

TEST_CASE("asking a trace for what it does not hold names what was asked") {
    Trace trace;
    trace.add("sun", "E0", "irradiance above the air", 1500.0, "W m-2 um-1", 0);
    CHECK_THROWS_AS(trace.value("E0"), std::out_of_range);
    CHECK_THROWS_WITH(trace.value("tau", 2, 1), Catch::Contains("'tau'") && Catch::Contains("band 2") && Catch::Contains("contribution 1"));
}
