#include "physics/pigment.h"

#include <cassert>
#include <cmath>

namespace linefall {

const std::vector<std::string>& receptorNames() {
    static const std::vector<std::string> names{"L", "M", "S", "rod"};
    return names;
}

const Keys<ReceptorSettings>& receptorKeys() {
    using S = ReceptorSettings;
    static const Keys<S> keys = [] {
        Keys<S> k("instrument.");
        k.number("half_saturation", Kind::electrons, &S::half_saturation_e, 20000.0, 1.0, 1e9, "photons caught at which the reading of an L or M cone is half of its largest: to what light it has adapted (Naka and Rushton 1966)")
            .number("s_half_saturation", Kind::electrons, &S::s_half_saturation_e, 2000.0, 1.0, 1e9, "the same of an S cone, which catches fewer")
            .number("rod_half_saturation", Kind::electrons, &S::rod_half_saturation_e, 100.0, 1.0, 1e9, "the same of a rod, which is blind in daylight: saturated (common practice, no source)");
        return k;
    }();
    return keys;
}

double receptorPeak_um(const std::string& receptor) {
    if (receptor == "L") return 0.5584;
    if (receptor == "M") return 0.5308;
    if (receptor == "S") return 0.4190;
    assert(receptor == "rod");
    return 0.4963;
}

double pigmentSensitivity(double wavelength_um, double peak_um) {
    const double w = 1e3 * wavelength_um, peak = 1e3 * peak_um;
    const double x = peak / w;
    const double a = 0.8795 + 0.0459 * std::exp(-(peak - 300.0) * (peak - 300.0) / 11940.0);
    const double alpha = 1.0 / (std::exp(69.7 * (a - x)) + std::exp(28.0 * (0.922 - x)) + std::exp(-14.9 * (1.104 - x)) + 0.674);
    const double from_second = (w - (189.0 + 0.315 * peak)) / (-40.5 + 0.195 * peak);
    return alpha + 0.26 * std::exp(-from_second * from_second);
}

double receptorDensity(const std::string& receptor) { return receptor == "L" || receptor == "M" ? 0.5 : 0.4; }

double receptorSensitivity(double wavelength_um, const std::string& receptor) {
    const double d = receptorDensity(receptor);
    return (1.0 - std::pow(10.0, -d * pigmentSensitivity(wavelength_um, receptorPeak_um(receptor)))) / (1.0 - std::pow(10.0, -d));
}

Spectrum pigmentSpectrum(const std::string& receptor) {
    std::vector<Spectrum::Point> points;
    for (int i = 0; i <= 200; ++i) {
        const double wavelength = pigment_from_um + (pigment_to_um - pigment_from_um) * i / 200.0;
        points.push_back({wavelength, receptorSensitivity(wavelength, receptor)});
    }
    return Spectrum(std::move(points));
}

}  // namespace linefall
