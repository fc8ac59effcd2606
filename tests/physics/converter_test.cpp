#include "physics/converter.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "base/random.h"
#include "support/effort.h"

using namespace linefall;
using test::effort;

namespace {

ConverterSettings bits(int n) {
    ConverterSettings s = converterKeys().defaults();
    s.bits = n;
    return s;
}

/// Root mean square of (value read back - true signal) over a ramp through full scale with noise of 1 % of it, in per cent.
/// code = floor(signal / step), step = full scale / 2^bits, read back at +0.5 steps.
double rampError_percent(int n_bits, int samples) {
    const double full = 1e6;
    // The converter's range reaches 10 % beyond the ramp at both ends, so that noise is not clipped and only steps count.
    const double step = full / std::ldexp(1.0, n_bits);
    double sum = 0.0;
    std::vector<double> signal(1);
    std::vector<std::uint16_t> count(1);
    const double lift = 64.0 * step * std::max(1.0, std::ldexp(1.0, n_bits) / 256.0);
    for (int i = 0; i < samples; ++i) {
        const auto words = keyedWords(5, RandomUse::test, static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(n_bits), 0);
        const double truth = full * (i + 0.5) / samples;
        signal[0] = truth + 0.01 * full * normalsFromWords(words[0], words[1])[0] + lift;
        writeCounts({signal}, {step, 65535}, {count});
        const double back = (count[0] + 0.5) * step - lift;
        sum += (back - truth) * (back - truth);
    }
    return 100.0 * std::sqrt(sum / samples) / full;
}

}  // namespace

TEST_CASE("rounding to whole counts alone makes an error of 0.288675 counts", "[converter]") {
    // 1 / sqrt(12) = 0.288675 (HST ACS Data Handbook, ch. 4; optical.md, Radiometry, A), measured on an even ramp.
    const int n = 1 << 20;
    double sum = 0.0;
    std::vector<double> in(1);
    std::vector<std::uint16_t> out(1);
    for (int i = 0; i < n; ++i) {
        in[0] = 4096.0 * (i + 0.5) / n;
        writeCounts({in}, {1.0, 4095}, {out});
        sum += std::pow(out[0] + 0.5 - in[0], 2.0);
    }
    CHECK(std::sqrt(sum / n) == Approx(0.288675).epsilon(0.0).margin(5e-6));
}

TEST_CASE("coarse bits over a noisy ramp make errors of 2.06, 1.10, 1.006 and 1.000 %", "[converter]") {
    // sqrt(1 + (100 / 2^bits)^2 / 12) per cent (optical.md, Radiometry, C). Statistical error of n samples: 1 / sqrt(2 n).
    struct Row {
        int n_bits;
        double percent, margin;
    };
    const Row row = GENERATE(Row{4, 2.06, 0.005}, Row{6, 1.10, 0.005}, Row{8, 1.006, 0.002}, Row{12, 1.000, 0.002});
    const int n = effort(1000000);
    CHECK(rampError_percent(row.n_bits, n) == Approx(row.percent).epsilon(0.0).margin(row.margin + 4.0 / std::sqrt(2.0 * n)));
    CHECK(std::sqrt(1.0 + std::pow(100.0 / std::ldexp(1.0, row.n_bits), 2.0) / 12.0) == Approx(row.percent).margin(row.margin));
}

TEST_CASE("a count is the floor of electrons by step, clipped to the converter's range", "[converter]") {
    std::vector<double> in{-3.0, 0.0, 24.999, 25.0, 999.0, 1e9};
    std::vector<std::uint16_t> out(in.size());
    writeCounts({in}, {25.0, 255}, {out});
    CHECK(out == std::vector<std::uint16_t>{0, 0, 0, 1, 39, 255});
}

TEST_CASE("steps follow from bits and full well, or from a gain that is given", "[converter]") {
    CHECK(stepsOf(bits(8), 51200.0, true).step_e == Approx(200.0));
    CHECK(stepsOf(bits(8), 51200.0, true).most == 255);
    CHECK(stepsOf(bits(1), 100.0, true).most == 1);
    CHECK(stepsOf(bits(16), 65536.0, true).most == 65535);
    ConverterSettings given = bits(10);
    given.gain_e = 3.0;
    CHECK(stepsOf(given, 1e5, true).step_e == 3.0);
    CHECK(stepsOf(given, 1e5, true).most == 1023);
    // Without quantisation: the same range in 65 536 steps.
    const Steps fine = stepsOf(given, 1e5, false);
    CHECK(fine.most == 65535);
    CHECK(fine.step_e * 65536.0 == Approx(3.0 * 1024.0).epsilon(1e-14));
}

TEST_CASE("a receptor that saturates softly gives half of its largest reading at the half-saturation, and is read back", "[converter]") {
    const Steps soft{1.0, 255, 500.0};
    std::vector<double> caught{-5.0, 0.0, 500.0, 1500.0, 1e12};
    std::vector<std::uint16_t> count(caught.size());
    writeCounts({caught}, soft, {count});
    CHECK(count == std::vector<std::uint16_t>{0, 0, 128, 192, 255});  // 256 n / (n + 500), down to a whole number, at most 255
    CHECK(electronsOf(128.0, soft) == Approx(500.0));
    CHECK(electronsOf(192.0, soft) == Approx(1500.0));
    CHECK(electronsOf(7.0, {3.0, 255}) == Approx(21.0));
    for (double c = 0.25; c < 255.0; c += 1.0) {
        std::vector<double> n{electronsOf(c, soft)};
        std::vector<std::uint16_t> back(1);
        writeCounts({n}, soft, {back});
        CHECK(back[0] == static_cast<int>(c));
    }
}
