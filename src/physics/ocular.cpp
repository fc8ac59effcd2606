#include "physics/ocular.h"

#include <cmath>

namespace linefall {

namespace {

double bump(double wavelength_nm, double centre_nm, double slope) {
    const double x = slope * (wavelength_nm - centre_nm);
    return std::exp(-x * x);
}

}  // namespace

const Keys<OcularSettings>& ocularKeys() {
    using S = OcularSettings;
    static const Keys<S> keys = [] {
        Keys<S> k("instrument.");
        k.derived("pupil", Kind::length, &S::pupil_m, 0.001, 0.009, "diameter of the pupil")
            .derived("adapting_luminance", Kind::luminance, &S::adapting_luminance_cd_m2, 1e-4, 1e5, "luminance to which the pupil has adapted; in place of its diameter (4.9 - 3 tanh(0.4 log10 L) mm, Moon and Spencer 1944; auto: 3 mm)")
            .insteadOf("pupil")
            .number("defocus", Kind::vergence, &S::defocus_D, 0.0, -10.0, 10.0, "how far the lens is out of focus; with quality.contributions above 1")
            .number("age", Kind::number, &S::age_years, 32.0, 20.0, 80.0, "age of the eye in years: its lens turns yellow (van de Kraats and van Norren 2007)");
        return k;
    }();
    return keys;
}

double pupilDiameter_m(double luminance_cd_m2) { return 1e-3 * (4.9 - 3.0 * std::tanh(0.4 * std::log10(luminance_cd_m2))); }

double defocusBlur_rad(double pupil_m, double defocus_D) { return 0.25 * pupil_m * std::abs(defocus_D); }

double mediaTransmission(double wavelength_um, double age_years) {
    const double w = 1e3 * wavelength_um, y2 = age_years * age_years;
    const double density = (0.446 + 0.000031 * y2) * std::pow(400.0 / w, 4.0) + 14.19 * 10.68 * bump(w, 273.0, 0.057) +
                           (0.998 - 0.000063 * y2) * 2.13 * bump(w, 370.0, 0.029) + (0.059 + 0.000186 * y2) * 11.95 * bump(w, 325.0, 0.021) +
                           (0.016 + 0.000132 * y2) * 1.43 * bump(w, 325.0, 0.008) + 0.111;
    return std::pow(10.0, -density);
}

}  // namespace linefall
