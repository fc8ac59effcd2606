// Statistics against numbers worked out by hand and against closed forms.
#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>

#include "marking/fairness.h"

namespace linefall {

TEST_CASE("mean, standard deviation and standard error of 2, 4, 4, 4, 5, 5, 7, 9") {
    const Summary s = summaryOf({2, 4, 4, 4, 5, 5, 7, 9});
    CHECK(s.n == 8);
    CHECK(s.mean == 5.0);
    CHECK(s.deviation == Approx(std::sqrt(32.0 / 7.0)));  // squares: 9 1 1 1 0 0 4 16
    CHECK(s.error() == Approx(std::sqrt(32.0 / 7.0 / 8.0)));
    CHECK(summaryOf({}).n == 0);
    CHECK(summaryOf({3}).error() == 0.0);
}

TEST_CASE("the incomplete beta function meets its closed forms") {
    for (const double x : {0.001, 0.1, 0.37, 0.5, 0.83, 0.999}) {
        for (const double a : {0.5, 1.0, 3.0, 40.0}) {
            CHECK(betaShare(x, a, 1.0) == Approx(std::pow(x, a)).epsilon(1e-11));
            CHECK(betaShare(x, 1.0, a) == Approx(1.0 - std::pow(1.0 - x, a)).epsilon(1e-11));
            CHECK(betaShare(x, a, 2.5) + betaShare(1.0 - x, 2.5, a) == Approx(1.0).epsilon(1e-12));
        }
        CHECK(betaShare(x, 0.5, 0.5) == Approx(2.0 / 3.14159265358979 * std::asin(std::sqrt(x))).epsilon(1e-11));
    }
    CHECK(betaShare(0.0, 2.0, 3.0) == 0.0);
    CHECK(betaShare(1.0, 2.0, 3.0) == 1.0);
}

TEST_CASE("the chance of F meets its closed form for two degrees of freedom between") {
    for (const double f : {0.1, 1.0, 3.35, 12.0}) {
        for (const int within : {1, 2, 27, 400}) CHECK(chanceOfF(f, 2, within) == Approx(std::pow(1.0 + 2.0 * f / within, -0.5 * within)).epsilon(1e-10));
    }
    CHECK(chanceOfF(1.0, 7, 7) == Approx(0.5));  // the median, where both sides are alike
    CHECK(chanceOfF(0.0, 3, 4) == 1.0);
}

TEST_CASE("an analysis of variance worked out by hand") {
    // Means 5, 9, 10; of all 8. Between: 6 (9 + 1 + 4) = 84, 2 degrees of freedom. Within: 16 + 24 + 28 = 68, 15 degrees.
    const auto v = varianceOf({{6, 8, 4, 5, 3, 4}, {8, 12, 9, 11, 6, 8}, {13, 9, 11, 8, 7, 12}});
    REQUIRE(v);
    CHECK(v->between == 2);
    CHECK(v->within == 15);
    CHECK(v->f == Approx(42.0 / (68.0 / 15.0)));
    CHECK(v->p == Approx(std::pow(1.0 + 2.0 * v->f / 15.0, -7.5)));
}

TEST_CASE("groups of one value and groups without any spread are not tested") {
    CHECK_FALSE(varianceOf({{1}, {2}, {3}}));
    CHECK_FALSE(varianceOf({{1, 2}}));
    CHECK_FALSE(varianceOf({{1, 1}, {2, 2}}));
    CHECK_FALSE(varianceOf({}));
    CHECK(varianceOf({{1, 2}, {7}, {1, 3}}));
}

TEST_CASE("alike groups are called different in five of a hundred cases, and different ones nearly always") {
    // 2000 draws: 5 % has a standard deviation of 0.49 %, so that 3 to 7 % fails by chance in 1 of 20 000 runs.
    int called = 0, found = 0;
    std::uint64_t state = 12;
    const auto draw = [&state] {
        double sum = -6.0;  // twelve uniform numbers: nearly normal, of width one
        for (int i = 0; i < 12; ++i) {
            state = state * 6364136223846793005u + 1442695040888963407u;
            sum += static_cast<double>(state >> 11) * 0x1p-53;
        }
        return sum;
    };
    for (int run = 0; run < 2000; ++run) {
        std::vector<std::vector<double>> alike(4), different(4);
        for (std::size_t g = 0; g < 4; ++g) {
            for (int i = 0; i < 8; ++i) {
                alike[g].push_back(draw());
                different[g].push_back(draw() + 2.0 * static_cast<double>(g));
            }
        }
        called += varianceOf(alike)->p < 0.05 ? 1 : 0;
        found += varianceOf(different)->p < 0.05 ? 1 : 0;
    }
    CHECK(called > 60);
    CHECK(called < 140);
    CHECK(found > 1990);
}

TEST_CASE("a correlation worked out by hand") {
    // Right or not: 1 1 0 0; rest: 4 3 2 1. Deviations .5 .5 -.5 -.5 and 1.5 .5 -.5 -1.5: 2 / sqrt(1 x 5).
    CHECK(correlationOf({1, 1, 0, 0}, {4, 3, 2, 1}).value() == Approx(2.0 / std::sqrt(5.0)));
    CHECK(correlationOf({1, 0, 1}, {0, 1, 0}).value() == Approx(-1.0));
    CHECK_FALSE(correlationOf({1, 1, 1}, {1, 2, 3}));
    CHECK_FALSE(correlationOf({1, 0}, {1, 2}));
    CHECK_FALSE(correlationOf({1, 0, 1}, {0.1, 0.1, 0.1}));
}

}  // namespace linefall
