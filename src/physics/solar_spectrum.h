#pragma once
// Stage 1, sun: how much light arrives above the air, at which wavelengths?

#include "base/spectrum.h"

namespace linefall {

/// Spectral irradiance of the sun at one astronomical unit, W m-2 um-1, on a plane that faces it, 0.25 to 4 um; its
/// band means are those of ASTM E490-00 (total 1366.1 W m-2).
/// The points are our own reconstruction from published band means (E490) and point values (ASTM G173); they are not
/// the standard's table. The Fraunhofer lines are not resolved: use it for bands of 20 nm and wider.
[[nodiscard]] const Spectrum& solarSpectrumE490();

/// The spectrum that the core uses: the shape of E490, scaled to the modern total of 1360.8 W m-2 (Kopp and Lean 2011):
/// solarSpectrumE490 x 1360.8 / 1366.1. Multiply by 1 / distance_au^2.
[[nodiscard]] const Spectrum& solarSpectrum();

/// Radiance of a level Lambertian surface in the beam above the air, W m-2 sr-1 um-1: L = rho E cos z / pi, with rho the
/// reflectance, E the irradiance normal to the beam, W m-2 um-1, and z the sun's zenith angle; 0 when the sun is down.
[[nodiscard]] double lambertRadiance(double reflectance, double irradiance_W_m2_um, double sun_zenith_rad);

}  // namespace linefall
