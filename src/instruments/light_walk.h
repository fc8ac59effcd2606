#pragma once
// The walk forward with the light, for every passive instrument: sun, air down, terrain, material, air up, optics,
// detector, noise, converter. One function serves image and trace, so they cannot disagree.

#include <memory>
#include <span>
#include <vector>

#include "base/motion.h"
#include "base/trace.h"
#include "ground/ground.h"
#include "ground/sun_field.h"
#include "instruments/instrument.h"
#include "instruments/looks.h"
#include "physics/atmosphere.h"
#include "physics/effects.h"
#include "physics/material.h"
#include "physics/sun.h"

namespace linefall {

/// Everything the walk needs beside the looks, resolved once. Immutable.
struct LightPath {
    const Instrument* instrument = nullptr;
    const Motion* motion = nullptr;
    const Ground* ground = nullptr;
    EffectSettings effects{};
    LookManner manner;                              ///< how the looks were made
    std::vector<Offset> offsets;                    ///< one a contribution
    std::vector<std::vector<double>> reflectances;  ///< [band][material]
    std::vector<double> wavelengths_um;             ///< effective wavelength of each band
    std::vector<std::uint8_t> water;                ///< [material]
    std::vector<DetectorPattern> patterns;          ///< [band]; empty when the pattern is off
    std::uint64_t noise_seed = 1;

    /// The contributions that a band gathers: first and one past the last. All of them, unless bands look from places of
    /// their own; then as many for each band, one band after the other.
    struct Looks {
        std::size_t first = 0, end = 0;
        [[nodiscard]] bool hold(std::size_t look) const { return look >= first && look < end; }
        [[nodiscard]] std::size_t count() const { return end - first; }
    };
    [[nodiscard]] Looks looksOf(int band) const;
    /// What the noise of a pixel's band hangs on: line, sample and band; or its receptor, which several pixels share.
    [[nodiscard]] NoiseKey noiseKey(int line, int sample, int band) const;
};

/// The sun and the air under it at one instant.
struct Weather {
    Sunlight sun;
    Air air;
    std::vector<Vec3> sun_points;  ///< directions to points of the sun's disc
    std::shared_ptr<const SunField> field;  ///< of the one direction, where it pays; may be null
};

/// Part of a line: samples first .. first + count - 1.
struct LinePart {
    int line = 0;
    int first = 0;
    int count = 0;
};

/// How many points of the sun's disc each contribution sees (cast shadow and its own back included).
void seeSun(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part,
            std::span<std::uint8_t> seen);

/// Stages 1 to 5: mean spectral radiance of each sample at the sensor, rounded to single precision, band by band:
/// radiance[band * count + sample - first]. `seen` as from seeSun, for the whole line's contributions of the part.
void walkToSensor(const LightPath& path, const Weather& weather, const LineLooks& looks, std::span<const std::uint8_t> seen,
                  const LinePart& part, std::span<float> radiance, Trace* trace = nullptr);

/// Stages 6 to 9: counts[band * count + sample - first].
void walkToCounts(const LightPath& path, std::span<const float> radiance, const LinePart& part,
                  std::span<std::uint16_t> counts, Trace* trace = nullptr);

/// The mean electrons that a uniform radiance gives at the centre of the field, for facts: signal alone.
[[nodiscard]] double electronsPerRadiance(const Instrument& instrument, int band, double effective_wavelength_um);
/// Of one band: it may saturate softly. Without a band: electrons a count and the largest count alone.
[[nodiscard]] Steps stepsOf(const LightPath& path, int band = -1);
[[nodiscard]] double fullWell_e(const LightPath& path);

}  // namespace linefall
