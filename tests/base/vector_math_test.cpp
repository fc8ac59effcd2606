// The branch-free logarithm, sine and cosine against the C library's.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/random.h"
#include "base/vector_math.h"
#include "support/effort.h"

using namespace linefall;

TEST_CASE("the vectorised logarithm keeps its stated error over all normal numbers") {
    double worst = 0.0;
    const int draws = test::effort(1000000);
    for (int i = 0; i < draws; ++i) {
        const auto w = keyedWords(3, RandomUse::test, static_cast<std::uint32_t>(i), 0, 0);
        const double m = 0.5 + uniformFromWord(w[0]);
        const double x = std::ldexp(m, static_cast<int>(w[1] % 2044u) - 1021);
        const double exact = std::log(x);
        worst = std::max(worst, std::abs(vectorised::log(x) - exact) / std::max(1.0, std::abs(exact)));
    }
    CHECK(worst < 1e-14);
    CHECK(vectorised::log(1.0) == 0.0);
    CHECK(vectorised::log(std::numeric_limits<double>::min()) == Approx(std::log(std::numeric_limits<double>::min())).epsilon(1e-15));
    CHECK(vectorised::log(std::numeric_limits<double>::max()) == Approx(std::log(std::numeric_limits<double>::max())).epsilon(1e-15));
}

TEST_CASE("the vectorised logarithm is right on both sides of its seam and of one") {
    for (const double seam : {std::sqrt(0.5), 1.0, std::sqrt(2.0), 2.0}) {
        for (const double x : {std::nextafter(seam, 0.0), seam, std::nextafter(seam, 3.0)}) {
            CHECK(std::abs(vectorised::log(x) - std::log(x)) < 1e-15);
        }
    }
}

TEST_CASE("sine and cosine of a turn keep their stated error, quarter turns included") {
    double worst = 0.0;
    const int draws = test::effort(1000000);
    for (int i = 0; i <= draws; ++i) {
        const double turn = static_cast<double>(i) / draws;
        // The reference takes the nearest quarter off first, so that its own argument is exact.
        const double quarter = std::round(4.0 * turn);
        const double r = (turn - 0.25 * quarter) * 2.0 * constants::pi;
        const double sines[4] = {std::sin(r), std::cos(r), -std::sin(r), -std::cos(r)};
        const int k = static_cast<int>(quarter) & 3;
        const auto got = vectorised::sineCosineOfTurn(turn);
        worst = std::max({worst, std::abs(got.sine - sines[k]), std::abs(got.cosine - sines[(k + 1) & 3])});
    }
    CHECK(worst < 1e-15);
    CHECK(vectorised::sineCosineOfTurn(0.25).sine == 1.0);
    CHECK(vectorised::sineCosineOfTurn(0.5).cosine == -1.0);
    CHECK(vectorised::sineCosineOfTurn(0.75).sine == -1.0);
    CHECK(vectorised::sineCosineOfTurn(1.0).cosine == 1.0);
}
