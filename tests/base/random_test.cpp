// The keyed generator against published vectors, and the laws that its numbers must follow.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "base/random.h"
#include "support/effort.h"

using namespace linefall;

namespace {

using Words = std::array<std::uint32_t, 4>;

/// Two-sided bound that a standard normal deviate passes with probability 0.999.
constexpr double bound_999 = 3.2905;
/// One-sided bound, 0.999.
constexpr double upper_999 = 3.0902;

/// Upper 0.1 % point of chi-squared with n degrees of freedom (Wilson and Hilferty 1931).
double chiSquared999(double n) { return n * std::pow(1.0 - 2.0 / (9.0 * n) + upper_999 * std::sqrt(2.0 / (9.0 * n)), 3); }

double normalBelow(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

std::vector<double> normals(int count) {
    std::vector<double> out;
    for (std::uint32_t i = 0; i < static_cast<std::uint32_t>(count) / 4; ++i) {
        const Words w = keyedWords(2024, RandomUse::test, i / 1000, i % 1000, 1);
        for (const double x : normalsFromWords(w[0], w[1])) out.push_back(x);
        for (const double x : normalsFromWords(w[2], w[3])) out.push_back(x);
    }
    return out;
}

}  // namespace

// Known-answer vectors of Philox4x32 with 10 rounds as Random123 publishes them (file kat_vectors), quoted from memory:
// all zeros, all ones, and the digits of pi.
TEST_CASE("philox meets its published known answers") {
    CHECK(philox({0, 0, 0, 0}, {0, 0}) == Words{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
    CHECK(philox({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff}) ==
          Words{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
    CHECK(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
          Words{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
    static_assert(philox({0, 0, 0, 0}, {0, 0})[0] == 0x6627e8d5, "philox is a constant expression");
}

TEST_CASE("every part of a key changes the words, and the same key gives the same words") {
    const Words start = keyedWords(1, RandomUse::test, 2, 3, 4);
    CHECK(keyedWords(1, RandomUse::test, 2, 3, 4) == start);
    std::set<Words> seen{start};
    seen.insert(keyedWords(2, RandomUse::test, 2, 3, 4));
    seen.insert(keyedWords(1ull + (1ull << 32), RandomUse::test, 2, 3, 4));
    seen.insert(keyedWords(1, RandomUse::shot_noise, 2, 3, 4));
    seen.insert(keyedWords(1, RandomUse::test, 3, 3, 4));
    seen.insert(keyedWords(1, RandomUse::test, 2, 4, 4));
    seen.insert(keyedWords(1, RandomUse::test, 2, 3, 5));
    seen.insert(keyedWords(1, RandomUse::test, 3, 2, 4));
    CHECK(seen.size() == 8);
}

TEST_CASE("uniform numbers are never 0 and never 1, and are cell centres") {
    CHECK(uniformFromWord(0) == 0.5 / 4294967296.0);
    CHECK(uniformFromWord(0xffffffff) == 1.0 - 0.5 / 4294967296.0);
    CHECK(uniformFromWord(0x80000000) == 0.5 + 0.5 / 4294967296.0);
}

TEST_CASE("uniform numbers fill 256 cells evenly along every index of the key, significance 0.001") {
    const int draws = 100000;
    for (const int index : {0, 1, 2, 3}) {
        for (std::size_t word = 0; word < 4; ++word) {
            std::vector<int> cells(256, 0);
            for (int i = 0; i < draws; ++i) {
                const auto u = static_cast<std::uint32_t>(i);
                const Words w = index == 0   ? keyedWords(u, RandomUse::test, 0, 0, 0)
                                : index == 1 ? keyedWords(7, RandomUse::test, u, 0, 0)
                                : index == 2 ? keyedWords(7, RandomUse::test, 0, u, 0)
                                             : keyedWords(7, RandomUse::test, 0, 0, u);
                ++cells[static_cast<std::size_t>(uniformFromWord(w[word]) * 256.0)];
            }
            const double expected = draws / 256.0;
            double chi = 0.0;
            for (const int n : cells) chi += (n - expected) * (n - expected) / expected;
            INFO("index " << index << ", word " << word << ", chi-squared " << chi);
            CHECK(chi < chiSquared999(255.0));
            CHECK(chi > 255.0 - upper_999 * std::sqrt(2.0 * 255.0));  // nor suspiciously even
        }
    }
}

TEST_CASE("flipping one bit of the key flips half of the 128 bits of the answer") {
    double flipped = 0.0;
    int cases = 0;
    for (std::uint32_t i = 0; i < 200; ++i) {
        for (int bit = 0; bit < 32; ++bit) {
            const Words a = keyedWords(5, RandomUse::test, i, 0, 0);
            const Words b = keyedWords(5, RandomUse::test, i ^ (1u << bit), 0, 0);
            for (std::size_t k = 0; k < 4; ++k) {
                for (std::uint32_t d = a[k] ^ b[k]; d != 0; d &= d - 1) flipped += 1.0;
            }
            ++cases;
        }
    }
    // Mean 64 and variance 32 a case; pairs (i, bit) repeat at most once, hence the factor two under the root.
    CHECK(std::abs(flipped / cases - 64.0) < bound_999 * std::sqrt(2.0 * 32.0 / cases));
}

TEST_CASE("normal deviates have the moments of the normal law, significance 0.001 each") {
    const std::vector<double> x = normals(test::effort(1000000));
    const double n = static_cast<double>(x.size());
    double m1 = 0, m2 = 0, m3 = 0, m4 = 0, lag = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        m1 += x[i];
        m2 += x[i] * x[i];
        m3 += x[i] * x[i] * x[i];
        m4 += x[i] * x[i] * x[i] * x[i];
        if (i > 0) lag += x[i] * x[i - 1];
    }
    // Variances of the mean powers of a standard normal deviate: 1, 2, 15, 96.
    CHECK(std::abs(m1 / n) < bound_999 * std::sqrt(1.0 / n));
    CHECK(std::abs(m2 / n - 1.0) < bound_999 * std::sqrt(2.0 / n));
    CHECK(std::abs(m3 / n) < bound_999 * std::sqrt(15.0 / n));
    CHECK(std::abs(m4 / n - 3.0) < bound_999 * std::sqrt(96.0 / n));
    CHECK(std::abs(lag / n) < bound_999 * std::sqrt(1.0 / n));  // the two of a pair are independent
}

TEST_CASE("normal deviates follow the normal law everywhere, Kolmogorov's test, significance 0.001") {
    std::vector<double> x = normals(test::effort(200000));
    std::sort(x.begin(), x.end());
    const double n = static_cast<double>(x.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double below = normalBelow(x[i]);
        worst = std::max({worst, below - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - below});
    }
    CHECK(worst * std::sqrt(n) < 1.9495);
}

TEST_CASE("the extreme words give finite normal deviates") {
    for (const std::uint32_t word : {0u, 1u, 0xffffffffu}) {
        for (const double x : normalsFromWords(word, word)) CHECK(std::isfinite(x));
    }
    CHECK(std::hypot(normalsFromWords(0, 5)[0], normalsFromWords(0, 5)[1]) ==
          Approx(std::sqrt(2.0 * std::log(2.0 * 4294967296.0))));
}
