#pragma once
// Smooth random fields for the island: gradient noise over a permuted lattice, all of it a function of the seed.

#include <array>
#include <cstdint>

#include "base/random.h"

namespace linefall::island {

/// 0 below `from`, 1 above `to`, a smooth cubic between; `from` may be the larger one.
[[nodiscard]] inline float smoothStep(float from, float to, float x) {
    const float t = (x - from) / (to - from);
    const float u = t < 0.0f ? 0.0f : t > 1.0f ? 1.0f : t;
    return u * u * (3.0f - 2.0f * u);
}

[[nodiscard]] inline float mix(float a, float b, float share) {
    return a + (b - a) * share;
}

/// A uniform number in (0, 1) for a pair of whole numbers and a purpose of the generator's own.
[[nodiscard]] inline float chance(std::uint64_t seed, RandomUse use, int i, int j, int what) {
    return static_cast<float>(uniformFromWord(keyedWords(seed, use, static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(j),
                                                         static_cast<std::uint32_t>(what))[0]));
}

/// Gradient noise in the plane (after Perlin, "Improving noise", SIGGRAPH 2002), about -0.7 to 0.7, zero at lattice
/// points, continuous second derivative. It repeats after 256 lattice steps. `channel` keys independent fields.
class Noise {
public:
    Noise(std::uint64_t seed, std::uint32_t channel);

    /// One octave at lattice coordinates.
    [[nodiscard]] float at(float x, float y) const {
        const int ix = floorOf(x);
        const int iy = floorOf(y);
        const float fx = x - static_cast<float>(ix);
        const float fy = y - static_cast<float>(iy);
        const float ux = fx * fx * fx * (fx * (fx * 6.0f - 15.0f) + 10.0f);
        const float uy = fy * fy * fy * (fy * (fy * 6.0f - 15.0f) + 10.0f);
        const std::uint8_t left = mixed_[static_cast<std::size_t>(ix & 255)];
        const std::uint8_t right = mixed_[static_cast<std::size_t>((ix + 1) & 255)];
        const float south = mix(dot(left, iy, fx, fy), dot(right, iy, fx - 1.0f, fy), ux);
        const float north = mix(dot(left, iy + 1, fx, fy - 1.0f), dot(right, iy + 1, fx - 1.0f, fy - 1.0f), ux);
        return mix(south, north, uy);
    }

    /// Sum of octaves, each at twice the frequency and `gain` times the strength of the one before.
    [[nodiscard]] float sum(float x, float y, int octaves, float gain = 0.5f) const {
        float total = 0.0f;
        float strength = 1.0f;
        for (int k = 0; k < octaves; ++k) {
            total += strength * at(x, y);
            strength *= gain;
            // A turn by about 37 degrees as well as the doubling keeps the lattices from lining up.
            const float turned = 1.6f * x - 1.2f * y + 17.3f;
            y = 1.2f * x + 1.6f * y + 5.1f;
            x = turned;
        }
        return total;
    }

private:
    [[nodiscard]] static int floorOf(float v) {
        const int whole = static_cast<int>(v);
        return whole - (v < static_cast<float>(whole) ? 1 : 0);
    }
    [[nodiscard]] float dot(std::uint8_t column, int row, float x, float y) const {
        const std::uint8_t which = mixed_[static_cast<std::size_t>((column + row) & 255)];
        return east_[which] * x + north_[which] * y;
    }

    std::array<std::uint8_t, 256> mixed_{};
    std::array<float, 256> east_{};
    std::array<float, 256> north_{};
};

}  // namespace linefall::island
