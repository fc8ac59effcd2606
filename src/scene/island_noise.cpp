#include "scene/island_noise.h"

#include <cmath>
#include <utility>

namespace linefall::island {

Noise::Noise(std::uint64_t seed, std::uint32_t channel) {
    for (std::uint32_t i = 0; i < 256; ++i) mixed_[i] = static_cast<std::uint8_t>(i);
    for (std::uint32_t i = 0; i < 256; ++i) {
        const auto words = keyedWords(seed, RandomUse::terrain, i, channel, 0x6e6f69u);
        std::swap(mixed_[i], mixed_[i + words[0] % (256 - i)]);
        // A direction from a point in the square: only a square root, so every machine finds the same bits.
        const double x = 2.0 * uniformFromWord(words[1]) - 1.0;
        const double y = 2.0 * uniformFromWord(words[2]) - 1.0;
        const double length = std::sqrt(x * x + y * y) + 1e-9;
        east_[i] = static_cast<float>(x / length);
        north_[i] = static_cast<float>(y / length);
    }
}

}  // namespace linefall::island
