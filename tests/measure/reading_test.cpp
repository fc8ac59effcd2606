#include "measure/reading.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace linefall;

TEST_CASE("an uncertainty has one figure or two when it begins with a 1, and the value ends at the same place", "[reading]") {
    CHECK(uncertainText(72.345, 0.4) == "72.3 ± 0.4");
    CHECK(uncertainText(-4.5e-13, 1e-15) == "0 ± 0");  // what is left of a difference of two equal heights
    CHECK(uncertainText(72.344, 0.14) == "72.34 ± 0.14");
    CHECK(uncertainText(72.345, 0.96) == "72.3 ± 1.0");
    CHECK(uncertainText(72.345, 0.94) == "72.3 ± 0.9");
    CHECK(uncertainText(72.345, 1.96) == "72 ± 2");
    CHECK(uncertainText(1234.5, 38.0) == "1230 ± 40");
    CHECK(uncertainText(1234.4, 12.3) == "1234 ± 12");
    CHECK(uncertainText(123456.0, 1500.0) == "123500 ± 1500");
    CHECK(uncertainText(-0.00123, 0.00002) == "-0.00123 ± 0.00002");
    CHECK(uncertainText(0.3, 2.0) == "0 ± 2");
    CHECK(uncertainText(-0.3, 2.0) == "0 ± 2");
}

TEST_CASE("without an uncertainty four figures stand, and an unbounded one is not hidden", "[reading]") {
    CHECK(uncertainText(41.5234, 0.0) == "41.52");
    CHECK(uncertainText(41.5234, std::numeric_limits<double>::infinity()) == "41.52 ± ?");
    CHECK(uncertainText(std::numeric_limits<double>::quiet_NaN(), 1.0) == "none");
}

TEST_CASE("an uncertainty finer than a part in 100 000 is bounded, not spelt out", "[reading]") {
    CHECK(uncertainText(70.0, 0.000004) == "70.00 ± <0.01");
    CHECK(uncertainText(-70.0, 0.000004) == "-70.00 ± <0.01");
    CHECK(uncertainText(9999.9, 1e-9) == "10000 ± <1");
    CHECK(uncertainText(0.0123456, 1e-12) == "0.01235 ± <0.00001");
    CHECK(uncertainText(12345.67, 1.2) == "12345.7 ± 1.2");  // a pixel of a metre over twelve kilometres may be said
    Reading speed{"speed", 70.0, Kind::speed, "", 0.000004, "v", ""};
    CHECK(textOf(speed) == "70.00 ± <0.01 m/s");
}

TEST_CASE("a reading is shown in the units asked for, the uncertainty with it", "[reading]") {
    Reading length{"distance", 304.8, Kind::length, "", 3.048, "D", "{a}"};
    CHECK(textOf(length) == "305 ± 3 m");
    CHECK(textOf(length, {"km", "deg", "m/s"}) == "0.305 ± 0.003 km");
    CHECK(textOf(length, {"ft", "deg", "m/s"}) == "1000 ± 10 ft");
    Reading area{"area", 9290.304, Kind::area, "", 92.90304, "A", ""};
    CHECK(textOf(area) == "9290 ± 90 m²");
    CHECK(textOf(area, {"ft", "deg", "m/s"}) == "100000 ± 1000 ft²");
    Reading angle{"angle", 0.0174532925, Kind::angle, "", 0.00174532925, "a", ""};
    CHECK(textOf(angle) == "1.00 ± 0.10 deg");
    CHECK(textOf(angle, {"m", "mrad", "m/s"}) == "17.5 ± 1.7 mrad");
    Reading speed{"speed", 80.0, Kind::speed, "", 0.0, "v", ""};
    CHECK(textOf(speed, {"m", "deg", "km/h"}) == "288.0 km/h");
    CHECK(textOf(speed, {"m", "deg", "kn"}) == "155.5 kn");
    Reading counts{"mean", 2047.31, Kind::number, "counts", 0.52, "x", ""};
    CHECK(textOf(counts) == "2047.3 ± 0.5 counts");
    Reading share{"reflectance", 0.2, Kind::ratio, "", 0.001, "rho", ""};
    CHECK(textOf(share) == "20.00 ± 0.10 %");
    Reading radiance{"radiance", 61.2, Kind::radiance, "", 0.3, "L", ""};
    CHECK(textOf(radiance) == "61.2 ± 0.3 W m⁻² sr⁻¹ µm⁻¹");
}

TEST_CASE("every unit that can be chosen is a unit of its kind", "[reading]") {
    for (const std::string& unit : lengthUnits()) {
        CHECK(std::isfinite(valueIn(1.0, Kind::length, unit)));
        CHECK(std::isfinite(valueIn(1.0, Kind::area, DisplayUnits{unit, "deg", "m/s"}.of(Kind::area))));
    }
    for (const std::string& unit : angleUnits()) CHECK(std::isfinite(valueIn(1.0, Kind::angle, unit)));
    for (const std::string& unit : speedUnits()) CHECK(std::isfinite(valueIn(1.0, Kind::speed, unit)));
    CHECK(std::isnan(valueIn(1.0, Kind::length, "deg")));
}

TEST_CASE("a formula is written in symbols, and with its values put in", "[reading]") {
    Reading height{"height", 34.84, Kind::length, "", 0.3, "h", "{L} · tan {e}"};
    height.terms = {{"L", "length of the shadow", 41.52}, {"e", "elevation of the sun", 0.698131701, Kind::angle}};
    CHECK(formulaText(height) == "h = L · tan e");
    CHECK(workedText(height) == "h = 41.52 m · tan 40.00 deg = 34.8 ± 0.3 m");
    CHECK(workedText(height, {"ft", "mrad", "m/s"}) == "h = 136.2 ft · tan 698.1 mrad = 114.3 ± 1.0 ft");
    CHECK(termText(height.terms[0]) == "L: length of the shadow, 41.52 m");
    height.terms[0].value = -1.0;
    CHECK(workedText(height) == "h = (-1.000 m) · tan 40.00 deg = 34.8 ± 0.3 m");
}

TEST_CASE("a reading without a value says why", "[reading]") {
    Reading none{"height", 12.0, Kind::length, "", 1.0, "h", "{L}"};
    none.missing = "the sun is down";
    CHECK_FALSE(none.ok());
    CHECK(textOf(none) == "the sun is down");
    CHECK(workedText(none) == "the sun is down");
    CHECK(formulaText(none) == "h = L");
}
