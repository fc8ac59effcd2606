#pragma once
// What the materials of a place reflect in each band of an instrument: worked out from spectra once, and asked for again
// whenever only the sun, the air or the detector is another.

#include <memory>
#include <vector>

#include "base/spectrum.h"
#include "scene/scene.h"

namespace linefall {

struct BandReflectances {
    std::vector<std::vector<double>> reflectances;  ///< [band][material], 0..1
    std::vector<double> wavelengths_um;             ///< effective wavelength of each band under the sun
};

/// From any thread; those of the last few places and bands are kept. Bands are compared by all they say.
[[nodiscard]] std::shared_ptr<const BandReflectances> sharedReflectances(const std::shared_ptr<const PlaceData>& place, const std::vector<Band>& bands);

}  // namespace linefall
