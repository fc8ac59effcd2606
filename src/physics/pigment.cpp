#include "physics/pigment.h"

#include <cassert>
#include <cmath>

namespace linefall {

const std::vector<std::string>& receptorNames() {
    static const std::vector<std::string> names{"L", "M", "S", "rod"};
    return names;
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

Spectrum pigmentSpectrum(const std::string& receptor) {
    std::vector<Spectrum::Point> points;
    for (int i = 0; i <= 200; ++i) {
        const double wavelength = pigment_from_um + (pigment_to_um - pigment_from_um) * i / 200.0;
        points.push_back({wavelength, pigmentSensitivity(wavelength, receptorPeak_um(receptor))});
    }
    return Spectrum(std::move(points));
}

}  // namespace linefall
