#pragma once
// Exponentials that compilers turn into vector code without fast-math, and that give the same bits everywhere.
// No branch, no comparison, no table, no call, no errno: each of them would keep a loop from being vectorised.

#include <cstdint>
#include <cstring>

namespace linefall {

/// e^x taken apart: e^x = scale (1 + rest).
struct ExpParts {
    double scale;  ///< 2^k, k = round(x / ln 2); 0 where it would be below 2^-1022
    double rest;   ///< e^r - 1, r = x - k ln 2, |r| <= 0.3466: the Taylor polynomial of degree 12
};

/// The parts of e^x for -1e9 <= x <= 709. Own derivation; the first term left out of `rest` is r^13 / 13!.
[[nodiscard]] inline ExpParts expParts(double x) {
    constexpr double log2_e = 1.4426950408889634;
    constexpr double ln2_high = 0x1.62e42fee00000p-1;  // ln 2 cut off after 33 bits: k times it is exact
    constexpr double ln2_low = 0x1.a39ef35793c76p-33;  // what was cut off
    constexpr double shifter = 0x1.8p52;               // adding it leaves the nearest whole number in the lowest bits

    const double shifted = x * log2_e + shifter;
    const double k = shifted - shifter;
    const double r = (x - k * ln2_high) - k * ln2_low;

    // Terms r^n / n!, gathered in pairs so that they do not wait for each other.
    const double r2 = r * r;
    const double r4 = r2 * r2;
    const double p12 = 1.0 + r * 0.5;
    const double p34 = 1.0 / 6.0 + r * (1.0 / 24.0);
    const double p56 = 1.0 / 120.0 + r * (1.0 / 720.0);
    const double p78 = 1.0 / 5040.0 + r * (1.0 / 40320.0);
    const double p9a = 1.0 / 362880.0 + r * (1.0 / 3628800.0);
    const double pbc = 1.0 / 39916800.0 + r * (1.0 / 479001600.0);
    const double rest = r * ((p12 + r2 * p34) + r4 * ((p56 + r2 * p78) + r4 * (p9a + r2 * pbc)));

    // 2^k has the exponent field k + 1023; a negative field (its top bit is set) becomes 0.
    std::uint64_t field = 0;
    std::memcpy(&field, &shifted, sizeof field);
    field += 1023u - 0x4338000000000000u;  // the bits of the shifter
    field &= (field >> 63) - 1u;
    field <<= 52;
    double scale = 0.0;
    std::memcpy(&scale, &field, sizeof scale);
    return {scale, rest};
}

/// e^x for -1e9 <= x <= 709; relative error below 1e-15 from -708 up; the result is 0 below -709. NaN stays NaN.
[[nodiscard]] inline double fastExp(double x) {
    const ExpParts e = expParts(x);
    return e.scale + e.scale * e.rest;
}

/// e^x - 1 for -1e9 <= x <= 709, without loss of digits near 0; relative error below 2e-15. NaN stays NaN.
[[nodiscard]] inline double fastExpm1(double x) {
    const ExpParts e = expParts(x);
    return (e.scale - 1.0) + e.scale * e.rest;
}

}  // namespace linefall
