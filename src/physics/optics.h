#pragma once
// Stage 6, optics: how much power falls on one detector?

#include <span>

#include "base/parameter.h"
#include "physics/signal.h"

namespace linefall {

struct OpticsSettings {
    double f_number;
    double transmission;
    double blur_pitch;  ///< standard deviation of the extra blur, in detector pitches
};

/// Keys of `instrument.` that describe the lens; the focal length belongs to the instrument's geometry.
[[nodiscard]] const Keys<OpticsSettings>& opticsKeys();

/// Image irradiance on the axis from a uniform scene: E = pi L t / (4 N^2 + 1), so this is pi t / (4 N^2 + 1), sr.
/// N: f-number; t: transmission. Focused at infinity. Source: Slater 1980; Schowengerdt 2007 (from memory).
[[nodiscard]] double irradiancePerRadiance(double f_number, double transmission);

/// power = L * irradiancePerRadiance * cos^4(off axis) * detector area * band width.
/// detector_area_m2: of one detector; band_width_um: integral of the response. off_axis_cosine: one a sample;
/// empty: all on the axis (a mirror brings every direction to the axis). Exact for the band mean radiance.
void gatherLight(const RadianceAtSensor& in, std::span<const double> off_axis_cosine, double irradiance_per_radiance,
                 double detector_area_m2, double band_width_um, const PowerOnDetector& out);

}  // namespace linefall
