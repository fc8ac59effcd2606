#include "scene/island_noise.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace linefall::island {

/// Points that are worked out together, few enough to stay close to the processor.
struct Noise::Block {
    static constexpr std::size_t most = 64;
    std::array<int, most> corner;
    std::array<float, most> x, y;  // past the south-western corner, 0 to 1
    std::array<std::array<Gradient, 2>, most> south, north;  // at the western and eastern corners
};

Noise::Noise(std::uint64_t seed, std::uint32_t channel) : lattice_(static_cast<std::size_t>(across) * across) {
    std::array<std::uint8_t, period> mixed{};
    std::array<Gradient, period> gradient{};
    for (std::uint32_t i = 0; i < period; ++i) mixed[i] = static_cast<std::uint8_t>(i);
    for (std::uint32_t i = 0; i < period; ++i) {
        const auto words = keyedWords(seed, RandomUse::terrain, i, channel, 0x6e6f69u);
        std::swap(mixed[i], mixed[i + words[0] % (period - i)]);
        // A direction from a point in the square: only a square root, so every machine finds the same bits.
        const double x = 2.0 * uniformFromWord(words[1]) - 1.0;
        const double y = 2.0 * uniformFromWord(words[2]) - 1.0;
        const double length = std::sqrt(x * x + y * y) + 1e-9;
        gradient[i] = {static_cast<float>(x / length), static_cast<float>(y / length)};
    }
    for (std::size_t row = 0; row < across; ++row) {
        for (std::size_t column = 0; column < across; ++column) {
            lattice_[row * across + column] = gradient[mixed[(mixed[column % period] + row) % period]];
        }
    }
}

LINEFALL_VECTORISED
void Noise::findCorners(const float* x, const float* y, std::size_t count, Block& block) {
    for (std::size_t i = 0; i < count; ++i) {
        const int column = floorOf(x[i]);
        const int row = floorOf(y[i]);
        block.corner[i] = cornerOf(column, row);
        block.x[i] = x[i] - static_cast<float>(column);
        block.y[i] = y[i] - static_cast<float>(row);
    }
}

LINEFALL_VECTORISED
void Noise::addOctave(float strength, std::size_t count, const Block& block, float* __restrict x, float* __restrict y,
                      float* __restrict total) {
    for (std::size_t i = 0; i < count; ++i) {
        const auto& south = block.south[i];
        const auto& north = block.north[i];
        total[i] += strength * blend(south[0], south[1], north[0], north[1], block.x[i], block.y[i]);
        turn(x[i], y[i]);
    }
}

void Noise::sums(std::span<float> x, std::span<float> y, int octaves, float gain, std::span<float> total) const {
    Block block;
    for (std::size_t first = 0; first < x.size(); first += Block::most) {
        const std::size_t count = std::min(Block::most, x.size() - first);
        std::fill_n(total.data() + first, count, 0.0f);
        float strength = 1.0f;
        for (int k = 0; k < octaves; ++k) {
            findCorners(x.data() + first, y.data() + first, count, block);
            for (std::size_t i = 0; i < count; ++i) {
                const Gradient* south = lattice_.data() + block.corner[i];
                block.south[i] = {south[0], south[1]};
                block.north[i] = {south[across], south[across + 1]};
            }
            addOctave(strength, count, block, x.data() + first, y.data() + first, total.data() + first);
            strength *= gain;
        }
    }
}

}  // namespace linefall::island
