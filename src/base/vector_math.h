#pragma once
// Logarithm and sine/cosine without branches, so that a loop over them becomes vector code without fast-math, with the
// same bits from every compiler and for every vector width.

#include <cstdint>
#include <cstring>

#include "base/constants.h"
#include "base/dispatch.h"

namespace linefall::vectorised {

/// Natural logarithm of a positive normal number; relative error below 1e-14 of max(1, |log x|).
/// Method: x = 2^k m with m in [sqrt(1/2), sqrt 2); log m = 2 artanh((m - 1) / (m + 1)) by its series to s^21.
LINEFALL_INLINE double log(double x) {
    std::uint64_t bits;
    std::memcpy(&bits, &x, sizeof bits);
    // Subtracting the bits of sqrt(1/2) makes the exponent field change at sqrt(1/2) instead of at 1.
    const std::uint64_t shifted = bits - 0x3FE6A09E667F3BCDu + 0x3FF0000000000000u;
    const std::uint64_t field = (shifted >> 52) | 0x4330000000000000u;  // 2^52 + biased exponent
    double k;
    std::memcpy(&k, &field, sizeof k);
    k -= 4503599627370496.0 + 1023.0;
    const std::uint64_t mantissa = bits - ((shifted & 0xFFF0000000000000u) - 0x3FF0000000000000u);
    double m;
    std::memcpy(&m, &mantissa, sizeof m);
    const double s = (m - 1.0) / (m + 1.0);
    const double q = s * s;
    // The series in pairs, so that its terms do not wait for each other.
    const double q2 = q * q;
    const double q4 = q2 * q2;
    const double p01 = 1.0 + q * (1.0 / 3.0);
    const double p23 = 1.0 / 5.0 + q * (1.0 / 7.0);
    const double p45 = 1.0 / 9.0 + q * (1.0 / 11.0);
    const double p67 = 1.0 / 13.0 + q * (1.0 / 15.0);
    const double p89 = 1.0 / 17.0 + q * (1.0 / 19.0);
    const double sum = (p01 + q2 * p23) + q4 * ((p45 + q2 * p67) + q4 * (p89 + q2 * (1.0 / 21.0)));
    return k * 0.693147180559945309417 + 2.0 * s * sum;
}

struct SineCosine {
    double sine, cosine;
};

/// Sine and cosine of 2 pi turn for turn in [0, 1]; absolute error below 1e-15.
/// Method: the nearest quarter turn is taken off, Taylor series to the 15th and 16th power on [-pi/4, pi/4],
/// in pairs.
LINEFALL_INLINE SineCosine sineCosineOfTurn(double turn) {
    constexpr double magic = 6755399441055744.0;  // 1.5 * 2^52: adding and subtracting it rounds to a whole number
    const double shifted = 4.0 * turn + magic;
    const double r = (turn - 0.25 * (shifted - magic)) * (2.0 * constants::pi);
    const double q = r * r;
    const double q2 = q * q;
    const double q4 = q2 * q2;
    const double s01 = -1.0 / 6.0 + q * (1.0 / 120.0);
    const double s23 = -1.0 / 5040.0 + q * (1.0 / 362880.0);
    const double s45 = -1.0 / 39916800.0 + q * (1.0 / 6227020800.0);
    const double s = r + r * q * ((s01 + q2 * s23) + q4 * (s45 - q2 * (1.0 / 1307674368000.0)));
    const double c01 = 1.0 / 24.0 - q * (1.0 / 720.0);
    const double c23 = 1.0 / 40320.0 - q * (1.0 / 3628800.0);
    const double c45 = 1.0 / 479001600.0 - q * (1.0 / 87178291200.0);
    const double c = 1.0 - 0.5 * q + q2 * ((c01 + q2 * c23) + q4 * (c45 + q2 * (1.0 / 20922789888000.0)));
    // Odd quarters exchange sine and cosine; the sine is negative in quarters 2 and 3, the cosine in 1 and 2. The lowest bits
    // of `shifted` are the quarter, and all of it is done on bits.
    std::uint64_t quarter, sine, cosine;
    std::memcpy(&quarter, &shifted, sizeof quarter);
    std::memcpy(&sine, &s, sizeof sine);
    std::memcpy(&cosine, &c, sizeof cosine);
    const std::uint64_t exchanged = (sine ^ cosine) & (0 - (quarter & 1));
    sine ^= exchanged ^ ((quarter & 2) << 62);
    cosine ^= exchanged ^ (((quarter + 1) & 2) << 62);
    SineCosine out;
    std::memcpy(&out.sine, &sine, sizeof sine);
    std::memcpy(&out.cosine, &cosine, sizeof cosine);
    return out;
}

}  // namespace linefall::vectorised
