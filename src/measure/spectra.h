#pragma once
// What a pixel's materials reflect over wavelength, beside the bands that see it. Nothing is computed here: the spectra are
// the place's, the band means those of the walk of light.

#include <string>
#include <vector>

#include "flight/formation.h"

namespace linefall {

/// One material under a pixel.
struct MaterialSpectrum {
    std::string name, title, source;
    double share = 0.0;             ///< of the pixel's looks that end on it
    bool water = false;
    Spectrum reflectance;           ///< linear between its points, constant beyond
    std::vector<double> band_means; ///< one a band, weighted by response and sun, as the walk uses them
};

/// The materials that the looks of a pixel end on, the largest share first; empty for sky. The looks are those of the walk
/// of light, each of the same weight.
[[nodiscard]] std::vector<MaterialSpectrum> spectraUnder(const Formation& formation, int line, int sample);

/// A band's relative response as the corners of its trapezoid, wavelengths rising; 0 outside.
[[nodiscard]] std::vector<Spectrum::Point> responseCorners(const Band& band);

}  // namespace linefall
