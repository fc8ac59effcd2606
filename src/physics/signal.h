#pragma once
// What travels between the stages. Every stage takes one of these and hands on the next, so that stages cannot be
// joined in the wrong order. Each is a view of one value a contribution or sample, for one band.

#include <cstdint>
#include <span>

namespace linefall {

/// Spectral irradiance at the ground before the terrain has its say, W m-2 um-1.
struct LightAtGround {
    std::span<double> beam;  ///< on a surface that faces the sun
    std::span<double> sky;   ///< on level open ground
};

/// Spectral irradiance on the surface as it is tilted and shaded, W m-2 um-1.
struct LightOnSurface {
    std::span<double> beam;
    std::span<double> sky;
};

/// Spectral radiance leaving the ground towards the sensor, W m-2 sr-1 um-1.
struct RadianceAtGround {
    std::span<double> value;
};

/// Spectral radiance arriving at the sensor, W m-2 sr-1 um-1.
struct RadianceAtSensor {
    std::span<double> value;
};

/// Radiant power of one band on one detector, W.
struct PowerOnDetector {
    std::span<double> value;
};

/// Expected electrons gathered in one dwell, before noise, e.
struct ExpectedElectrons {
    std::span<double> value;
};

/// Electrons as read out, noise included, e.
struct ReadElectrons {
    std::span<double> value;
};

/// Numbers written down.
struct Counts {
    std::span<std::uint16_t> value;
};

}  // namespace linefall
