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
    double sum = 1.0 / 21.0;
    sum = sum * q + 1.0 / 19.0;
    sum = sum * q + 1.0 / 17.0;
    sum = sum * q + 1.0 / 15.0;
    sum = sum * q + 1.0 / 13.0;
    sum = sum * q + 1.0 / 11.0;
    sum = sum * q + 1.0 / 9.0;
    sum = sum * q + 1.0 / 7.0;
    sum = sum * q + 1.0 / 5.0;
    sum = sum * q + 1.0 / 3.0;
    sum = sum * q + 1.0;
    return k * 0.693147180559945309417 + 2.0 * s * sum;
}

struct SineCosine {
    double sine, cosine;
};

/// Sine and cosine of 2 pi turn for turn in [0, 1]; absolute error below 1e-15.
/// Method: the nearest quarter turn is taken off, Taylor series to the 15th and 16th power on [-pi/4, pi/4].
LINEFALL_INLINE SineCosine sineCosineOfTurn(double turn) {
    constexpr double magic = 6755399441055744.0;  // 1.5 * 2^52: adding and subtracting it rounds to a whole number
    const double quarter = (4.0 * turn + magic) - magic;
    const double r = (turn - 0.25 * quarter) * (2.0 * constants::pi);
    const double q = r * r;
    double s = -1.0 / 1307674368000.0;
    s = s * q + 1.0 / 6227020800.0;
    s = s * q - 1.0 / 39916800.0;
    s = s * q + 1.0 / 362880.0;
    s = s * q - 1.0 / 5040.0;
    s = s * q + 1.0 / 120.0;
    s = s * q - 1.0 / 6.0;
    s = r + r * q * s;
    double c = 1.0 / 20922789888000.0;
    c = c * q - 1.0 / 87178291200.0;
    c = c * q + 1.0 / 479001600.0;
    c = c * q - 1.0 / 3628800.0;
    c = c * q + 1.0 / 40320.0;
    c = c * q - 1.0 / 720.0;
    c = c * q + 1.0 / 24.0;
    c = 1.0 - 0.5 * q + q * q * c;
    const bool odd = quarter == 1.0 || quarter == 3.0;
    const double sine_size = odd ? c : s;
    const double cosine_size = odd ? s : c;
    const bool sine_negative = quarter == 2.0 || quarter == 3.0;
    const bool cosine_negative = quarter == 1.0 || quarter == 2.0;
    return {sine_negative ? -sine_size : sine_size, cosine_negative ? -cosine_size : cosine_size};
}

}  // namespace linefall::vectorised
