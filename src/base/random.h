#pragma once
// Random numbers that are a pure function of a key, so that the order of threads can never change an image.
// Source: Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011): Philox4x32 with 10 rounds.

#include <array>
#include <cstdint>

#include "base/dispatch.h"

namespace linefall {

/// What a random number is for. A new purpose gets a new number at the end; never renumber.
enum class RandomUse : std::uint32_t {
    shot_noise = 1,
    read_noise = 2,
    detector_gain = 3,
    detector_offset = 4,
    dead_detector = 5,
    attitude = 6,
    terrain = 7,
    town = 8,
    test = 9,
    receptor = 10,
};

/// Philox4x32-10: four random words from a 128-bit counter and a 64-bit key.
[[nodiscard]] LINEFALL_INLINE constexpr std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter,
                                                            std::array<std::uint32_t, 2> key) {
    for (int round = 0; round < 10; ++round) {
        // High and low halves apart: loops over many counters then become better vector code.
        const std::uint32_t a_high = static_cast<std::uint32_t>((std::uint64_t{0xD2511F53u} * counter[0]) >> 32);
        const std::uint32_t b_high = static_cast<std::uint32_t>((std::uint64_t{0xCD9E8D57u} * counter[2]) >> 32);
        counter = {b_high ^ counter[1] ^ key[0], 0xCD9E8D57u * counter[2], a_high ^ counter[3] ^ key[1], 0xD2511F53u * counter[0]};
        key[0] += 0x9E3779B9u;
        key[1] += 0xBB67AE85u;
    }
    return counter;
}

/// Four random words keyed by (seed, use, line, sample, band).
[[nodiscard]] LINEFALL_INLINE constexpr std::array<std::uint32_t, 4> keyedWords(std::uint64_t seed, RandomUse use, std::uint32_t line,
                                                                std::uint32_t sample, std::uint32_t band) {
    return philox({line, sample, band, static_cast<std::uint32_t>(use)},
                  {static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)});
}

/// A number in (0, 1), never 0 and never 1: the centre of one of 2^32 equal cells.
[[nodiscard]] constexpr double uniformFromWord(std::uint32_t word) {
    return (static_cast<double>(word) + 0.5) * (1.0 / 4294967296.0);
}

/// A pair of independent standard normal deviates from two words (Box and Muller 1958).
[[nodiscard]] std::array<double, 2> normalsFromWords(std::uint32_t first, std::uint32_t second);

}  // namespace linefall
