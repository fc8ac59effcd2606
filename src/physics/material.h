#pragma once
// Stage 4, material: how much of the light that reaches the ground leaves towards the sensor?

#include <span>
#include <string>
#include <vector>

#include "base/spectrum.h"
#include "physics/signal.h"

namespace linefall {

/// A Lambertian surface: directional-hemispherical reflectance over wavelength, 0..1.
struct Material {
    std::string name;
    std::string title;
    Spectrum reflectance;
    bool water = false;  ///< may glint when glint is switched on
    std::string source;  ///< where the spectrum comes from, or "common practice without a source"
};

using Materials = std::vector<Material>;

/// Reflectance of every material in one band, weighted by the sun's spectrum.
[[nodiscard]] std::vector<double> bandReflectances(const Materials& materials, const Spectrum& sun, const Band& band);

/// radiance = reflectance (beam + sky) / pi. Lambertian: the same towards every direction. Exact for the band mean.
void reflectLight(const LightOnSurface& in, std::span<const double> reflectance, const RadianceAtGround& out);

/// Radiance factor (sr-1) by which a rough sea mirrors the sun's beam: multiply with the beam at the ground facing the
/// sun and with the sun's visible share.
///   r = F(w) p / (4 cos(view) cos^4(tilt)),  p = exp(-tan^2(tilt) / s2) / (pi s2),  s2 = 0.003 + 0.00512 U
/// F: Fresnel reflectance of water of index 1.34 at half the angle between sun and view; tilt: of the facet that mirrors
/// the sun into the view; U: wind speed, m/s. No shadowing of waves, no foam.
/// Source: Cox and Munk 1954, J. Opt. Soc. Am. 44 (slopes, from memory); Fresnel's law.
struct Glint {
    double half_cosine = 0.0;     ///< of half the angle between sun and view
    double tilt_cosine = 0.0;     ///< of the facet that mirrors the sun into the view
    double slope_variance = 0.0;  ///< s2
    double inside_cosine = 0.0;   ///< of the angle of the light that goes into the water
    double fresnel = 0.0;
    double factor = 0.0;          ///< r, sr-1; 0, like all others, when sun or sensor is not above the water
};
[[nodiscard]] Glint glintOf(double sun_cosine, double view_cosine, double between_cosine, double wind_m_s);
[[nodiscard]] inline double glintFactor(double sun_cosine, double view_cosine, double between_cosine, double wind_m_s) {
    return glintOf(sun_cosine, view_cosine, between_cosine, wind_m_s).factor;
}

}  // namespace linefall
