#pragma once
// Stage 4, material: how much of the light that reaches the ground leaves towards the sensor?

#include <string>
#include <vector>

#include "base/spectrum.h"

namespace linefall {

/// A Lambertian surface: directional-hemispherical reflectance over wavelength, 0..1.
struct Material {
    std::string name;
    Spectrum reflectance;
    bool water = false;  ///< may glint when glint is switched on
    std::string source;  ///< where the spectrum comes from, or "common practice without a source"
};

using Materials = std::vector<Material>;

}  // namespace linefall
