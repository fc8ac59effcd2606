#include "physics/optics.h"

#include "base/constants.h"
#include "base/dispatch.h"

namespace linefall {

const Keys<OpticsSettings>& opticsKeys() {
    using O = OpticsSettings;
    static const Keys<O> keys = [] {
        Keys<O> k("instrument.");
        k.number("f_number", Kind::number, &O::f_number, 4.0, 0.5, 64.0, "focal length divided by the diameter of the aperture")
            .number("transmission", Kind::ratio, &O::transmission, 0.8, 0.001, 1.0, "share of the light that the optics pass")
            .number("blur", Kind::number, &O::blur_pitch, 0.0, 0.0, 20.0, "standard deviation of extra blur, in detector pitches");
        return k;
    }();
    return keys;
}

double irradiancePerRadiance(double f_number, double transmission) {
    return constants::pi * transmission / (4.0 * f_number * f_number + 1.0);
}

LINEFALL_VECTORISED
void gatherLight(const RadianceAtSensor& in, std::span<const double> off_axis_cosine, double irradiance_per_radiance,
                 double detector_area_m2, double band_width_um, const PowerOnDetector& out) {
    const double factor = irradiance_per_radiance * detector_area_m2 * band_width_um;
    const double* __restrict radiance = in.value.data();
    const double* __restrict cosine = off_axis_cosine.data();
    double* __restrict power = out.value.data();
    const std::size_t count = out.value.size();
    if (off_axis_cosine.empty()) {
        for (std::size_t i = 0; i < count; ++i) power[i] = radiance[i] * factor;
        return;
    }
    for (std::size_t i = 0; i < count; ++i) {
        const double c2 = cosine[i] * cosine[i];
        power[i] = radiance[i] * factor * (c2 * c2);
    }
}

}  // namespace linefall
