#pragma once
// An exponential that compilers turn into vector code without fast-math, and that gives the same bits everywhere.

#include <cstdint>
#include <cstring>

namespace linefall {

/// e^x. With k = round(x / ln 2) and r = x - k ln 2, |r| <= 0.3466: e^x = 2^k p(r), p the Taylor polynomial of degree 11,
/// whose first term left out is r^12 / 12!. Relative error below 1e-13 for -708 <= x <= 709; below -708 the result is 0, above
/// 709 it stays e^709; NaN stays NaN. No branch, no table, no call, no errno. Own derivation.
[[nodiscard]] inline double fastExp(double x) {
    constexpr double log2_e = 1.4426950408889634;
    constexpr double ln2_high = 0.693147180369123816490;  // 33 bits: k times it is exact
    constexpr double ln2_low = 1.90821492927058770002e-10;
    constexpr double shifter = 6755399441055744.0;  // 1.5 * 2^52: adding it leaves the whole number in the low bits

    const double not_high = x > 709.0 ? 709.0 : x;
    const double held = not_high < -708.0 ? -708.0 : not_high;
    const double shifted = held * log2_e + shifter;
    const double k = shifted - shifter;
    const double r = (held - k * ln2_high) - k * ln2_low;

    // Taylor terms 1/n!, gathered in pairs so that they do not wait for each other.
    const double r2 = r * r;
    const double r4 = r2 * r2;
    const double p01 = 1.0 + r;
    const double p23 = 0.5 + r * (1.0 / 6.0);
    const double p45 = 1.0 / 24.0 + r * (1.0 / 120.0);
    const double p67 = 1.0 / 720.0 + r * (1.0 / 5040.0);
    const double p89 = 1.0 / 40320.0 + r * (1.0 / 362880.0);
    const double pab = 1.0 / 3628800.0 + r * (1.0 / 39916800.0);
    const double p = (p01 + r2 * p23) + r4 * ((p45 + r2 * p67) + r4 * (p89 + r2 * pab));

    std::uint64_t bits = 0;
    std::memcpy(&bits, &shifted, sizeof bits);
    bits = (bits + 1023u) << 52;
    double scale = 0.0;
    std::memcpy(&scale, &bits, sizeof scale);
    const double value = p * scale;
    return x < -708.0 ? 0.0 : value;
}

}  // namespace linefall
