#pragma once
// The front of an eye: its pupil, the blur of a lens out of focus, and what its media let through.

#include <optional>

#include "base/parameter.h"

namespace linefall {

struct OcularSettings {
    std::optional<double> pupil_m, adapting_luminance_cd_m2;
    double defocus_D;
    double age_years;
};
/// Keys of `instrument.` that describe the front of an eye, in place of an f-number.
[[nodiscard]] const Keys<OcularSettings>& ocularKeys();

/// Diameter of the pupil of an eye that has adapted to a luminance, m: d = 4.9 - 3 tanh(0.4 log10 L) in mm, L in cd/m2.
/// Source: Moon and Spencer 1944, as restated by Watson and Yellott 2012, Journal of Vision 12(10) (from memory). Left out:
/// age, size of the lit field, and the spread between people, which is large.
[[nodiscard]] double pupilDiameter_m(double luminance_cd_m2);

/// Standard deviation along one axis, rad, of the disc into which a lens out of focus spreads a point: the disc is as wide
/// as pupil times defocus, and a uniform disc of diameter D has the deviation D / 4. Geometrical optics, exact for small angles.
/// pupil_m: diameter; defocus_D: dioptres, of either sign.
[[nodiscard]] double defocusBlur_rad(double pupil_m, double defocus_D);

/// Share of the light at a wavelength that cornea, lens and the rest of an eye of some age let through to the retina, 10^-D:
///   D = (0.446 + 0.000031 y^2) (400 / w)^4 + 14.19 * 10.68 exp(-(0.057 (w - 273))^2)
///     + (0.998 - 0.000063 y^2) 2.13 exp(-(0.029 (w - 370))^2) + (0.059 + 0.000186 y^2) 11.95 exp(-(0.021 (w - 325))^2)
///     + (0.016 + 0.000132 y^2) 1.43 exp(-(0.008 (w - 325))^2) + 0.111
/// w: wavelength, nm, 300 to 1000; y: age, years, 20 to 80. Source: van de Kraats and van Norren 2007, JOSA A 24(7) (from
/// memory). Left out: the yellow pigment of the macula.
[[nodiscard]] double mediaTransmission(double wavelength_um, double age_years);

}  // namespace linefall
