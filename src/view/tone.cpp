#include "view/tone.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "base/constants.h"
#include "physics/solar_spectrum.h"

namespace linefall {

const std::vector<Band>& worldBands() {
    static const std::vector<Band> bands{{"red", 0.60, 0.68, 0.01, 0.5}, {"green", 0.52, 0.59, 0.01, 0.5}, {"blue", 0.43, 0.50, 0.01, 0.5}};
    return bands;
}

WorldLight worldLight(const Scene& scene, double seconds) {
    const SunSettings settings = sunKeys().read(scene.settings);
    Sunlight sun = sunlight(settings, scene.place->site, worldBands(), seconds);
    Air air(airKeys().read(scene.settings), solarSpectrum(), worldBands(), sun.zenith_rad());
    WorldLight light{settings, std::move(sun), std::move(air), {}};
    const double level = std::max(0.0, light.sun.towards.z);
    double share = 0.0;  // of the light above the air that level ground receives, green
    if (light.sun.up()) {
        const double height = 0.0;
        double beam = 0.0, sky = 0.0;
        light.air.down(1, std::span(&height, 1), std::span(&beam, 1), std::span(&sky, 1));
        share = beam * level + sky;
    }
    constexpr double shown_white = 0.30;  // reflectance that would be white under a high sun
    const double exposure = std::pow(std::clamp(share, 0.02, 1.0), 0.7);
    for (std::size_t i = 0; i < 3; ++i) {
        light.white[i] = std::max(1e-6, light.sun.irradiance_W_m2_um[i] / constants::pi * shown_white * exposure);
    }
    return light;
}

Colour colourOf(const RadianceRgb& radiance, const RadianceRgb& white) {
    Colour colour{0, 0, 0, 255};
    for (std::size_t i = 0; i < 3; ++i) {
        const double linear = 1.0 - std::exp(-1.4 * std::max(0.0, radiance[i] / white[i]));
        const double encoded = linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055;
        colour[i] = static_cast<std::uint8_t>(std::lround(255.0 * std::clamp(encoded, 0.0, 1.0)));
    }
    return colour;
}

RadianceRgb skyRadianceRgb(const WorldLight& light, double height_m, const Vec3& direction) {
    RadianceRgb out{};
    if (!light.sun.up()) return out;
    for (int band = 0; band < 3; ++band) {
        const std::size_t i = static_cast<std::size_t>(band);
        out[i] = light.sun.irradiance_W_m2_um[i] * light.air.skyRadiance(band, height_m, direction, light.sun.towards);
    }
    return out;
}

}  // namespace linefall
