#pragma once
// Stage 8, noise: shot and read noise, keyed so that an image never depends on threads.

#include <cstdint>
#include <string>

#include "base/parameter.h"
#include "physics/signal.h"

namespace linefall {

struct NoiseSettings {
    double read_noise_e;
};

[[nodiscard]] const Keys<NoiseSettings>& noiseKeys();

struct NoiseSeedSettings {
    std::string seed;
};

/// `noise.seed`, set by --seed.
[[nodiscard]] const Keys<NoiseSeedSettings>& noiseSeedKeys();

/// What the noise of a row of samples hangs on.
struct NoiseKey {
    std::uint64_t seed = 1;
    std::uint32_t line = 0;
    std::uint32_t first_sample = 0;
    std::uint32_t band = 0;
};

struct NoiseKinds {
    bool shot = true;
    double read_e = 0.0;  ///< standard deviation; 0: none
};

/// The number of electrons that Poisson's law gives for a mean, from a uniform deviate in (0, 1): exact inversion of
/// the distribution. Meant for means below about 100.
[[nodiscard]] double poissonByInversion(double mean, double uniform);

/// Below this mean the shot noise is drawn by exact inversion; above it from a normal deviate z as
/// the whole number nearest to mean + sqrt(mean) z + (z^2 - 1) / 6, whose total variation distance from Poisson's law is below 1e-3.
inline constexpr double exact_poisson_below_e = 30.0;

/// out = Poisson(in) + read * normal. Same key, same numbers; every sample has its own key, so any part of a line
/// drawn alone has the same noise as within the line.
void addNoise(const ExpectedElectrons& in, const NoiseKinds& kinds, const NoiseKey& key, const ReadElectrons& out);

}  // namespace linefall
