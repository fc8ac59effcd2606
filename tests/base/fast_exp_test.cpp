#include "base/fast_exp.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

using namespace linefall;

namespace {

/// Largest relative difference from the standard library over evenly spaced arguments.
template <class Ours, class Theirs>
double worst(double from, double to, int steps, const Ours& ours, const Theirs& theirs) {
    double out = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double x = from + (to - from) * (i + 0.5) / steps;
        out = std::fmax(out, std::abs(ours(x) / theirs(x) - 1.0));
    }
    return out;
}

}  // namespace

TEST_CASE("fastExp agrees with std::exp", "[fast_exp]") {
    const auto exact = [](double x) { return std::exp(x); };
    CHECK(worst(-708.0, 709.0, 400'000, fastExp, exact) < 1e-15);
    CHECK(worst(-1.0, 1.0, 400'000, fastExp, exact) < 1e-15);
    CHECK(fastExp(0.0) == 1.0);
    CHECK(fastExp(-0.0) == 1.0);
}

TEST_CASE("fastExpm1 keeps its digits near 0", "[fast_exp]") {
    const auto exact = [](double x) { return std::expm1(x); };
    CHECK(worst(-30.0, 30.0, 400'000, fastExpm1, exact) < 2e-15);
    CHECK(worst(-1e-3, 1e-3, 100'000, fastExpm1, exact) < 2e-15);
    for (double x = 1e-3; x > 1e-300; x *= 0.1) {
        CHECK(fastExpm1(x) == Approx(std::expm1(x)).epsilon(2e-15));
        CHECK(fastExpm1(-x) == Approx(std::expm1(-x)).epsilon(2e-15));
    }
    CHECK(fastExpm1(0.0) == 0.0);
}

TEST_CASE("The ends of the exponential", "[fast_exp]") {
    CHECK(fastExp(-709.0) == 0.0);
    CHECK(fastExp(-745.0) == 0.0);
    CHECK(fastExp(-1e6) == 0.0);
    CHECK(fastExp(-1e9) == 0.0);
    CHECK(fastExpm1(-1e9) == -1.0);
    CHECK(std::isfinite(fastExp(709.0)));
    CHECK(std::isnan(fastExp(std::numeric_limits<double>::quiet_NaN())));
    CHECK(std::isnan(fastExpm1(std::numeric_limits<double>::quiet_NaN())));
}

TEST_CASE("A loop gives the same bits as single calls, wherever it starts", "[fast_exp]") {
    std::vector<double> x(1003), y(x.size());
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = -50.0 + 0.0917 * static_cast<double>(i);
    for (std::size_t start = 0; start < 3; ++start) {
        for (std::size_t i = start; i < x.size(); ++i) y[i] = fastExp(x[i]);
        for (std::size_t i = start; i < x.size(); ++i) {
            volatile double alone = x[i];  // one value at a time
            if (y[i] != fastExp(alone)) FAIL("argument " << x[i]);
        }
    }
    SUCCEED();
}
