#include <catch2/catch.hpp>

#include "lesson/answer.h"
#include "lesson/expression.h"

using namespace linefall;

namespace {

Amount lookup(const std::string& name) {
    if (name == "tower") return {60.0, Dimension::of(Kind::length)};
    if (name == "sun.elevation") return {0.5, Dimension::of(Kind::angle)};
    if (name == "t") return {2.0, Dimension::of(Kind::time)};
    throw std::runtime_error("'" + name + "' stands for nothing here");
}

double value(const std::string& text) { return Expression(text).evaluate(lookup).value; }
std::string dimension(const std::string& text) { return Expression(text).evaluate(lookup).dimension.text(); }

}  // namespace

TEST_CASE("expressions follow the usual order of operations") {
    CHECK(value("1 + 2 * 3") == 7.0);
    CHECK(value("-2 ^ 2") == -4.0);
    CHECK(value("2 ^ 3 ^ 2") == 512.0);
    CHECK(value("8 / 4 / 2") == 1.0);
    CHECK(value("(1 + 2) * 3 - 1") == 8.0);
    CHECK(value("1 < 2 and not 2 < 1 or 0") == 1.0);
    CHECK(value("if(1 > 2, 5, 6)") == 6.0);
    CHECK(value("min(3, 1, 2) + max(1, 4)") == 5.0);
    CHECK(value("60 deg") == Approx(1.0471975512));
    CHECK(value("2 km") == 2000.0);
    CHECK(value("36 km/h") == Approx(10.0));
    CHECK(value("40 %") == Approx(0.4));
    CHECK(value("2 pixels") == 2.0);
}

TEST_CASE("units are carried and checked") {
    CHECK(dimension("tower / t") == "m s-1");
    CHECK(dimension("tower / tan(sun.elevation)") == "m");
    CHECK(dimension("tower * sun.elevation") == "m");
    CHECK(dimension("atan(tower / tower)") == "rad");
    CHECK(dimension("sqrt(tower * tower)") == "m");
    for (const char* wrong : {"tower + t", "tan(tower)", "tan(0.5)", "tower < t", "sqrt(tower)", "tower ^ 0.5", "asin(tower)", "min(tower, t)", "1 / 0", "ln(tower)"}) {
        INFO(wrong);
        CHECK_THROWS_AS(Expression(wrong).evaluate(lookup), ExpressionError);
    }
}

TEST_CASE("hostile expressions are refused where they go wrong") {
    CHECK_THROWS_AS(Expression(std::string(400, '(') + "1" + std::string(400, ')')), ExpressionError);
    CHECK_THROWS_AS(Expression(std::string(2000, '1')), ExpressionError);
    CHECK_THROWS_AS(Expression(std::string(300, '-') + "1"), ExpressionError);
    for (const char* wrong : {"", "1 +", "* 2", "a b", "sin 3", "system(1)", "1 bananas", "0x10", "a..b(", "'a'", "a; b", "min()", "1 = 2"}) {
        INFO(wrong);
        CHECK_THROWS_AS(Expression(wrong), ExpressionError);
    }
    try {
        (void)Expression("tower + (2 *").evaluate(lookup);
        FAIL("read");
    } catch (const ExpressionError& error) {
        CHECK(error.offset == 12);
    }
    try {
        (void)Expression("tower + towr").evaluate(lookup);
        FAIL("read");
    } catch (const ExpressionError& error) {
        CHECK(error.offset == 8);
        CHECK(std::string(error.what()) == "'towr' stands for nothing here");
    }
}

TEST_CASE("a number is read as a student writes it") {
    const auto metres = [](const std::string& text) {
        const ReadNumber read = readNumber(text);
        INFO(text << " " << read.problem);
        REQUIRE(read.ok());
        return read.amount(*findUnit("m")).value;
    };
    CHECK(metres("52 m") == 52.0);
    CHECK(metres("52m") == 52.0);
    CHECK(metres("0,052 km") == Approx(52.0));
    CHECK(metres("12,5 m") == 12.5);
    CHECK(metres("171 ft") == Approx(52.1208));
    CHECK(metres("171 feet") == Approx(52.1208));
    CHECK(metres("\xE2\x88\x92" "3 metres") == -3.0);
    CHECK(metres("1.2e3 m") == 1200.0);
    CHECK(metres("12 000 m") == 12000.0);
    CHECK(metres("1,234.5 m") == 1234.5);
    CHECK(metres("1,234,567 m") == 1234567.0);
    CHECK(metres("0,125 m") == 0.125);
    CHECK(metres("  52 m. ") == 52.0);
    CHECK(metres("52") == 52.0);
    CHECK(readNumber("30\xC2\xB0").amount(*findUnit("deg")).value == Approx(0.5235987756));
    for (const char* wrong : {"", "m", "1,234 m", "52 bananas", "1.2.3 m", "12,34,5 m", "nan", "1e999 m", "5 m 3"}) {
        INFO(wrong);
        CHECK_FALSE(readNumber(wrong).ok());
    }
    CHECK(readNumber("52 mertes").problem.find("no unit that is known here") != std::string::npos);
}
