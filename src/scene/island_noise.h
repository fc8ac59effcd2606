#pragma once
// Smooth random fields for the island: gradient noise over a permuted lattice, all of it a function of the seed.

#include <cstdint>
#include <span>
#include <vector>

#include "base/dispatch.h"
#include "base/random.h"

namespace linefall::island {

/// 0 below `from`, 1 above `to`, a smooth cubic between; `from` may be the larger one.
[[nodiscard]] LINEFALL_INLINE float smoothStep(float from, float to, float x) {
    const float t = (x - from) / (to - from);
    const float u = t < 0.0f ? 0.0f : t > 1.0f ? 1.0f : t;
    return u * u * (3.0f - 2.0f * u);
}

[[nodiscard]] LINEFALL_INLINE float mix(float a, float b, float share) {
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
        const int column = floorOf(x);
        const int row = floorOf(y);
        const Gradient* south = lattice_.data() + cornerOf(column, row);
        const Gradient* north = south + across;
        return blend(south[0], south[1], north[0], north[1], x - static_cast<float>(column), y - static_cast<float>(row));
    }

    /// Sum of octaves, each at twice the frequency and `gain` times the strength of the one before.
    [[nodiscard]] float sum(float x, float y, int octaves, float gain = 0.5f) const {
        float total = 0.0f;
        float strength = 1.0f;
        for (int k = 0; k < octaves; ++k) {
            total += strength * at(x, y);
            strength *= gain;
            turn(x, y);
        }
        return total;
    }

    /// The same sums at many points, in less than half the time that they take one by one. The coordinates are used up.
    void sums(std::span<float> x, std::span<float> y, int octaves, float gain, std::span<float> total) const;

private:
    struct Gradient {
        float east, north;
    };
    struct Block;
    static constexpr int period = 256;         // lattice steps after which the noise repeats
    static constexpr int across = period + 1;  // gradients in a row of lattice_

    [[nodiscard]] LINEFALL_INLINE static int floorOf(float v) {
        const int whole = static_cast<int>(v);
        return whole - (v < static_cast<float>(whole) ? 1 : 0);
    }
    /// Index of the gradient at the south-western corner of a lattice square.
    [[nodiscard]] LINEFALL_INLINE static int cornerOf(int column, int row) {
        return (row & (period - 1)) * across + (column & (period - 1));
    }
    /// The value at a point (x, y), 0 to 1 each, of a lattice square with these gradients at its corners.
    [[nodiscard]] LINEFALL_INLINE static float blend(Gradient sw, Gradient se, Gradient nw, Gradient ne, float x, float y) {
        const float u = x * x * x * (x * (x * 6.0f - 15.0f) + 10.0f);
        const float v = y * y * y * (y * (y * 6.0f - 15.0f) + 10.0f);
        const float south = mix(sw.east * x + sw.north * y, se.east * (x - 1.0f) + se.north * y, u);
        const float north = mix(nw.east * x + nw.north * (y - 1.0f), ne.east * (x - 1.0f) + ne.north * (y - 1.0f), u);
        return mix(south, north, v);
    }
    /// Moves a point to the next octave: a turn by about 37 degrees as well as the doubling keeps the lattices from lining up.
    LINEFALL_INLINE static void turn(float& x, float& y) {
        const float turned = 1.6f * x - 1.2f * y + 17.3f;
        y = 1.2f * x + 1.6f * y + 5.1f;
        x = turned;
    }
    static void findCorners(const float* x, const float* y, std::size_t count, Block& block);
    static void addOctave(float strength, std::size_t count, const Block& block, float* x, float* y, float* total);

    std::vector<Gradient> lattice_;  // row by row; the first column and row stand again at the end
};

}  // namespace linefall::island
