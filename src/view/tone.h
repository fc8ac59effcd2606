#pragma once
// From the core's radiances to the colours of a screen. Shows light; makes none.

#include <array>
#include <cstdint>

#include "physics/atmosphere.h"
#include "scene/scene.h"

namespace linefall {

/// Radiance of the red, green and blue band, W m-2 sr-1 um-1.
using RadianceRgb = std::array<double, 3>;
using Colour = std::array<std::uint8_t, 4>;  ///< red, green, blue, opaque; sRGB

/// The three bands in which the world is shown: red, green, blue.
[[nodiscard]] const std::vector<Band>& worldBands();

/// Sun and air of a scene in the world's bands, and how bright they are shown.
struct WorldLight {
    SunSettings sun_settings{};
    Sunlight sun;
    Air air;
    RadianceRgb white{};  ///< radiance shown as white, before the shoulder
};
/// `seconds` since the flight began. Exposure follows the light on level ground with the power 0.7, as an eye half does:
/// a low sun is darker than a high one, and still shows.
[[nodiscard]] WorldLight worldLight(const Scene& scene, double seconds = 0.0);

/// sRGB colour of a radiance: divided by white, rolled off towards 1, encoded.
[[nodiscard]] Colour colourOf(const RadianceRgb& radiance, const RadianceRgb& white);

/// Radiance of the clear sky seen from a height.
[[nodiscard]] RadianceRgb skyRadianceRgb(const WorldLight& light, double height_m, const Vec3& direction);

}  // namespace linefall
