#include "physics/noise.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/dispatch.h"
#include "base/random.h"
#include "base/vector_math.h"

namespace linefall {

const Keys<NoiseSettings>& noiseKeys() {
    static const Keys<NoiseSettings> keys = [] {
        Keys<NoiseSettings> k("instrument.");
        k.number("read_noise", Kind::electrons, &NoiseSettings::read_noise_e, 20.0, 0.0, 1e6, "noise of the amplifier (standard deviation)");
        return k;
    }();
    return keys;
}

const Keys<NoiseSeedSettings>& noiseSeedKeys() {
    static const Keys<NoiseSeedSettings> keys = [] {
        Keys<NoiseSeedSettings> k("noise.");
        k.text("seed", &NoiseSeedSettings::seed, "1", "seed of shot and read noise, a whole number");
        return k;
    }();
    return keys;
}

double poissonByInversion(double mean, double uniform) {
    if (mean <= 0.0) return 0.0;
    double probability = std::exp(-mean);
    double below = probability;
    double n = 0.0;
    // Far in the tail the sum stops growing; by then the deviate is reached within its own resolution of 2^-32.
    while (uniform > below && n < 10.0 * mean + 60.0) {
        n += 1.0;
        probability *= mean / n;
        below += probability;
    }
    return n;
}

namespace {

constexpr std::size_t block = 256;

struct Deviates {
    std::array<std::uint32_t, block> first, second, third;
    std::array<double, block> shot, read;
};

LINEFALL_VECTORISED
void drawWords(const NoiseKey& key, std::size_t start, std::size_t count, Deviates& d) {
    for (std::size_t i = 0; i < count; ++i) {
        const auto words = keyedWords(key.seed, RandomUse::shot_noise, key.line,
                                      key.first_sample + static_cast<std::uint32_t>(start + i), key.band);
        d.first[i] = words[0];
        d.second[i] = words[1];
        d.third[i] = words[2];
    }
}

LINEFALL_VECTORISED
void drawNormals(std::size_t count, Deviates& d) {
    for (std::size_t i = 0; i < count; ++i) {
        // Unsigned to double without the slow path: put the word in the low bits of 2^52.
        const std::uint64_t a = 0x4330000000000000u | d.first[i];
        const std::uint64_t b = 0x4330000000000000u | d.second[i];
        double u, v;
        std::memcpy(&u, &a, sizeof u);
        std::memcpy(&v, &b, sizeof v);
        u = (u - 4503599627370496.0 + 0.5) * (1.0 / 4294967296.0);
        v = (v - 4503599627370496.0 + 0.5) * (1.0 / 4294967296.0);
        const double radius = std::sqrt(-2.0 * vectorised::log(u));
        const vectorised::SineCosine turn = vectorised::sineCosineOfTurn(v);
        d.shot[i] = radius * turn.cosine;
        d.read[i] = radius * turn.sine;
    }
}

/// Shot noise by the normal approximation, and read noise. Returns how many means are too small for the approximation.
LINEFALL_VECTORISED
std::size_t addToBlock(const double* __restrict in, double* __restrict out, std::size_t count, const NoiseKinds& kinds,
                       const Deviates& d) {
    constexpr double magic = 6755399441055744.0;  // 1.5 * 2^52: rounds to the nearest whole number
    const double read_e = kinds.read_e > 0.0 ? kinds.read_e : 0.0;
    if (!kinds.shot) {
        for (std::size_t i = 0; i < count; ++i) out[i] = in[i] + read_e * d.read[i];
        return 0;
    }
    std::size_t small = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const double mean = in[i] > 0.0 ? in[i] : 0.0;
        const double z = d.shot[i];
        const double drawn = ((mean + std::sqrt(mean) * z + (z * z - 1.0) * (1.0 / 6.0)) + magic) - magic;
        out[i] = (drawn > 0.0 ? drawn : 0.0) + read_e * d.read[i];
        small += in[i] < exact_poisson_below_e ? 1 : 0;
    }
    return small;
}

}  // namespace

void addNoise(const ExpectedElectrons& in, const NoiseKinds& kinds, const NoiseKey& key, const ReadElectrons& out) {
    if (!kinds.shot && kinds.read_e <= 0.0) {
        std::copy(in.value.begin(), in.value.end(), out.value.begin());
        return;
    }
    Deviates d;
    for (std::size_t start = 0; start < out.value.size(); start += block) {
        const std::size_t count = std::min(block, out.value.size() - start);
        drawWords(key, start, count, d);
        drawNormals(count, d);
        const double* source = in.value.data() + start;
        double* target = out.value.data() + start;
        if (addToBlock(source, target, count, kinds, d) == 0) continue;
        for (std::size_t i = 0; i < count; ++i) {
            if (!(source[i] < exact_poisson_below_e)) continue;
            target[i] = poissonByInversion(source[i], uniformFromWord(d.third[i])) + std::max(0.0, kinds.read_e) * d.read[i];
        }
    }
}

}  // namespace linefall
