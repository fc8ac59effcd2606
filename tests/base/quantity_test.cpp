// Quantity text: what is read, what is refused, and that writing and reading give the same double back.
#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <set>

#include "base/angle.h"
#include "base/quantity.h"
#include "base/random.h"

using namespace linefall;

namespace {

const std::vector<Kind> numeric_kinds{Kind::number,      Kind::count,    Kind::length,   Kind::angle,
                                      Kind::time,        Kind::speed,    Kind::frequency, Kind::ratio,
                                      Kind::temperature, Kind::pressure, Kind::electrons, Kind::electron_rate};

struct Read {
    const char* text;
    Kind kind;
    double value;
};

struct Refused {
    const char* text;
    Kind kind;
};

}  // namespace

TEST_CASE("quantity text is read into the core unit") {
    const std::vector<Read> rows{
        {"5 km", Kind::length, 5000.0},
        {"5km", Kind::length, 5000.0},
        {"  5 \t km ", Kind::length, 5000.0},
        {"12 cm", Kind::length, 0.12},
        {"3 mm", Kind::length, 3e-3},
        {"6.5 um", Kind::length, 6.5e-6},
        {"550 nm", Kind::length, 550e-9},
        {"10 ft", Kind::length, 3.048},
        {".5 m", Kind::length, 0.5},
        {"5. m", Kind::length, 5.0},
        {"+5 m", Kind::length, 5.0},
        {"-3 m", Kind::length, -3.0},
        {"1e3 m", Kind::length, 1000.0},
        {"1E-3 m", Kind::length, 1e-3},
        {"90 deg", Kind::angle, constants::pi / 2.0},
        {"2.5 mrad", Kind::angle, 2.5e-3},
        {"3 urad", Kind::angle, 3e-6},
        {"1.25 rad", Kind::angle, 1.25},
        {"2 ms", Kind::time, 2e-3},
        {"7 us", Kind::time, 7e-6},
        {"1.5 min", Kind::time, 90.0},
        {"2 h", Kind::time, 7200.0},
        {"288 km/h", Kind::speed, 80.0},
        {"7.5 km/s", Kind::speed, 7500.0},
        {"100 kn", Kind::speed, 51.0 + 4.0 / 9.0},
        {"40 kHz", Kind::frequency, 40e3},
        {"1.2 MHz", Kind::frequency, 1.2e6},
        {"600 rpm", Kind::frequency, 10.0},
        {"40 %", Kind::ratio, 0.4},
        {"0.4", Kind::ratio, 0.4},
        {"20 C", Kind::temperature, 293.15},
        {"-273.15 C", Kind::temperature, 0.0},
        {"300 K", Kind::temperature, 300.0},
        {"1013.25 hPa", Kind::pressure, 101325.0},
        {"50 Pa", Kind::pressure, 50.0},
        {"50000 e", Kind::electrons, 50000.0},
        {"50 ke", Kind::electrons, 50000.0},
        {"5e", Kind::electrons, 5.0},
        {"1e3 e", Kind::electrons, 1000.0},
        {"20 e/s", Kind::electron_rate, 20.0},
        {"1.5", Kind::number, 1.5},
        {"12", Kind::count, 12.0},
        {"-4", Kind::count, -4.0},
        {"1e6", Kind::count, 1e6},
    };
    for (const Read& row : rows) {
        const ParsedQuantity read = parseQuantity(row.text, row.kind);
        INFO("'" << row.text << "' as " << nameOf(row.kind) << ": " << read.error);
        REQUIRE(read.ok());
        CHECK(read.value == Approx(row.value).epsilon(1e-14).margin(1e-12));
    }
}

TEST_CASE("what is no quantity of the kind is refused with what was expected") {
    const std::vector<Refused> rows{
        {"", Kind::length},        {"   ", Kind::length},     {"m", Kind::length},       {"5", Kind::length},
        {"5 s", Kind::length},     {"5 kmm", Kind::length},   {"5 KM", Kind::length},    {"5 km/h", Kind::length},
        {"five m", Kind::length},  {"5,2 m", Kind::length},   {"5 2 m", Kind::length},   {"--5 m", Kind::length},
        {"+-5 m", Kind::length},   {"+ 5 m", Kind::length},   {"0x10 m", Kind::length},  {"-0x1p3 m", Kind::length},
        {"nan m", Kind::length},   {"inf m", Kind::length},   {"-inf m", Kind::length},  {"1e999 m", Kind::length},
        {"1e308 km", Kind::length}, {"1e m", Kind::length},   {"5 m;", Kind::length},    {"5 m m", Kind::length},
        {". m", Kind::length},     {"-", Kind::number},       {"5 %", Kind::number},     {"5", Kind::angle},
        {"5 m", Kind::angle},      {"5 \xC2\xB0", Kind::angle}, {"5", Kind::temperature}, {"1e3", Kind::electrons},
        {"1.5", Kind::count},      {"1e16", Kind::count},     {"3 pixels", Kind::count}, {"40 percent", Kind::ratio},
    };
    for (const Refused& row : rows) {
        const ParsedQuantity read = parseQuantity(row.text, row.kind);
        INFO("'" << row.text << "' as " << nameOf(row.kind));
        CHECK_FALSE(read.ok());
        CHECK(read.value == 0.0);
    }
    CHECK(parseQuantity("5", Kind::length).error == "a number with a unit of length (m, km, cm, mm, um, nm, ft)");
    CHECK(parseQuantity("x", Kind::count).error == "a whole number");
    CHECK(parseQuantity("x", Kind::number).error == "a number");
}

TEST_CASE("text with a hidden zero byte or of absurd length is refused") {
    CHECK_FALSE(parseQuantity(std::string_view("5 m\0 km", 7), Kind::length).ok());
    CHECK_FALSE(parseQuantity(std::string_view("5 m\0", 4), Kind::length).ok());
    CHECK_FALSE(parseQuantity(std::string(200, '1') + " m", Kind::length).ok());
}

TEST_CASE("every kind has a name, and every numeric kind's core unit reads as its own scale") {
    std::set<std::string_view> names;
    for (const Kind kind : {Kind::number, Kind::count, Kind::length, Kind::angle, Kind::time, Kind::speed, Kind::frequency,
                            Kind::ratio, Kind::temperature, Kind::pressure, Kind::electrons, Kind::electron_rate, Kind::flag,
                            Kind::choice, Kind::text}) {
        names.insert(nameOf(kind));
    }
    CHECK(names.size() == 15);
    CHECK(names.count("") == 0);
    for (const Kind kind : numeric_kinds) {
        INFO(nameOf(kind));
        const std::string unit(coreUnit(kind));
        const ParsedQuantity read = parseQuantity("7 " + unit, kind);
        REQUIRE(read.ok());
        CHECK(read.value == 7.0);
        const std::vector<std::string> units = unitsOf(kind);
        CHECK(std::count(units.begin(), units.end(), unit) == 1);
    }
    CHECK(unitsOf(Kind::flag).empty());
    CHECK(coreUnit(Kind::text).empty());
}

TEST_CASE("exact text gives the same double back, whatever its size and kind") {
    std::uint32_t sample = 0;
    for (const Kind kind : numeric_kinds) {
        for (int i = 0; i < 2000; ++i) {
            const auto words = keyedWords(11, RandomUse::test, static_cast<std::uint32_t>(kind), sample++, 0);
            // Sizes from 1e-12 to 1e12 with all 52 bits of fraction at random, or only a few decimal figures.
            double value = std::pow(10.0, 24.0 * uniformFromWord(words[0]) - 12.0) *
                           (1.0 + static_cast<double>((std::uint64_t{words[1]} << 20) ^ words[2]) / 4503599627370496.0);
            if (i % 2 == 0) value = std::strtod(figuresText(value, 3).c_str(), nullptr);
            if ((words[3] & 1u) != 0) value = -value;
            if (kind == Kind::count) value = std::round(value);
            const std::string text = exactText(value, kind);
            const ParsedQuantity read = parseQuantity(text, kind);
            INFO(text << " as " << nameOf(kind));
            REQUIRE(read.ok());
            REQUIRE(read.value == value);
        }
    }
    for (const double extreme : {0.0, std::numeric_limits<double>::denorm_min(), std::numeric_limits<double>::min(),
                                 std::numeric_limits<double>::max(), -std::numeric_limits<double>::max()}) {
        for (const Kind kind : {Kind::number, Kind::length, Kind::angle, Kind::ratio, Kind::temperature, Kind::pressure}) {
            const std::string text = exactText(extreme, kind);
            INFO(text << " as " << nameOf(kind));
            CHECK(parseQuantity(text, kind).value == extreme);
        }
    }
}

TEST_CASE("exact text chooses the unit that a person would") {
    CHECK(exactText(5000.0, Kind::length) == "5 km");
    CHECK(exactText(28.7, Kind::length) == "28.7 m");
    CHECK(exactText(6.5e-6, Kind::length) == "6.5 um");
    CHECK(exactText(-0.25, Kind::length) == "-250 mm");
    CHECK(exactText(0.0, Kind::length) == "0 m");
    CHECK(exactText(radiansFromDegrees(45.0), Kind::angle) == "45 deg");
    for (int degrees = -180; degrees <= 360; ++degrees) {  // no conversion's rounding shows
        CHECK(exactText(radiansFromDegrees(degrees), Kind::angle) == std::to_string(degrees) + " deg");
    }
    for (int percent = 1; percent <= 100; ++percent) CHECK(exactText(percent * 1e-2, Kind::ratio) == std::to_string(percent) + " %");
    CHECK(exactText(0.4, Kind::ratio) == "40 %");
    CHECK(exactText(101325.0, Kind::pressure) == "1013.25 hPa");
    CHECK(exactText(293.0, Kind::temperature) == "293 K");
    CHECK(exactText(3.0, Kind::count) == "3");
    CHECK(exactText(2e6, Kind::frequency) == "2 MHz");
}

TEST_CASE("short text has so many figures, a suitable unit and no idle zeros") {
    CHECK(shortText(5000.0, Kind::length) == "5 km");
    CHECK(shortText(28.7, Kind::length) == "28.7 m");
    CHECK(shortText(28.749, Kind::length) == "28.7 m");
    CHECK(shortText(28.749, Kind::length, 4) == "28.75 m");
    CHECK(shortText(999.96, Kind::length, 4) == "1000 m");
    CHECK(shortText(0.4, Kind::ratio) == "40 %");
    CHECK(shortText(1.5, Kind::speed) == "1.5 m/s");
    CHECK(shortText(0.0, Kind::length) == "0 m");
    CHECK(shortText(-0.0025, Kind::length) == "-2.5 mm");
    CHECK(shortText(radiansFromDegrees(0.1432), Kind::angle) == "0.143 deg");
    CHECK(shortText(40000e3, Kind::length, 6) == "40000 km");
}

TEST_CASE("a number is written with so many significant figures") {
    CHECK(figuresText(5.0, 3) == "5.00");
    CHECK(figuresText(0.012345, 3) == "0.0123");
    CHECK(figuresText(9.996, 3) == "10.0");
    CHECK(figuresText(0.00099996, 3) == "0.00100");
    CHECK(figuresText(999.96, 4) == "1000");
    CHECK(figuresText(-28.75, 3) == "-28.8");
    CHECK(figuresText(1000.0, 3) == "1000");
    CHECK(figuresText(0.0, 3) == "0");
    CHECK(figuresText(1.5e-9, 3) == "1.5e-09");
    CHECK(figuresText(std::numeric_limits<double>::infinity(), 3) == "none");
    CHECK(figuresText(std::numeric_limits<double>::quiet_NaN(), 3) == "none");
}
