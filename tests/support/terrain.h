#pragma once
// Rough little terrains and keyed random rays for the tests of the ground.

#include <cmath>
#include <cstdint>

#include "base/constants.h"
#include "base/random.h"
#include "base/vectors.h"
#include "ground/height_field.h"

namespace linefall::test {

/// A stream of numbers in (0, 1), a function of its two keys alone.
class Draws {
public:
    Draws(std::uint64_t seed, std::uint32_t stream) : seed_(seed), stream_(stream) {}
    double uniform() {
        if (used_ == 4) {
            words_ = keyedWords(seed_, RandomUse::test, stream_, block_++, 0);
            used_ = 0;
        }
        return uniformFromWord(words_[used_++]);
    }
    double between(double least, double most) { return least + (most - least) * uniform(); }
    /// A direction spread evenly over the sphere.
    Vec3 direction() {
        const double z = between(-1.0, 1.0);
        const double azimuth = between(0.0, 2.0 * constants::pi);
        const double level = std::sqrt(1.0 - z * z);
        return {level * std::sin(azimuth), level * std::cos(azimuth), z};
    }

private:
    std::uint64_t seed_;
    std::uint32_t stream_;
    std::uint32_t block_ = 0;
    std::size_t used_ = 4;
    std::array<std::uint32_t, 4> words_{};
};

/// Hills of two wavelengths and rough posts: `relief_m` is about half the height from valley to summit.
inline HeightField roughTerrain(int columns, int rows, double spacing_m, double relief_m, std::uint64_t seed) {
    Raster<float> posts(columns, rows);
    Draws draws(seed, 0);
    const double phase = draws.between(0.0, 6.0);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const double hills = 0.6 * std::sin(0.21 * column + phase) * std::cos(0.17 * row - phase) +
                                 0.25 * std::sin(0.55 * column - 0.31 * row);
            posts.at(column, row) = static_cast<float>(relief_m * (hills + 0.3 * draws.between(-1.0, 1.0)));
        }
    }
    return HeightField(std::move(posts), spacing_m);
}

/// Posts from a function of the place in metres from the centre.
template <class Height>
HeightField shapedTerrain(int columns, int rows, double spacing_m, const Height& height_m) {
    Raster<float> posts(columns, rows);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            posts.at(column, row) = static_cast<float>(
                height_m((column - 0.5 * (columns - 1)) * spacing_m, (row - 0.5 * (rows - 1)) * spacing_m));
        }
    }
    return HeightField(std::move(posts), spacing_m);
}

}  // namespace linefall::test
