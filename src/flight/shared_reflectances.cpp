#include "flight/shared_reflectances.h"

#include <mutex>

#include "physics/material.h"
#include "physics/solar_spectrum.h"

namespace linefall {

namespace {

constexpr std::size_t most_kept = 6;

struct Kept {
    std::weak_ptr<const PlaceData> place;
    std::vector<Band> bands;
    std::shared_ptr<const BandReflectances> values;
};

}  // namespace

std::shared_ptr<const BandReflectances> sharedReflectances(const std::shared_ptr<const PlaceData>& place, const std::vector<Band>& bands) {
    static std::mutex mutex;
    static std::vector<Kept> kept;  // the latest last
    const std::lock_guard lock(mutex);
    for (const Kept& one : kept) {
        if (one.place.lock() == place && one.bands == bands) return one.values;
    }
    auto values = std::make_shared<BandReflectances>();
    for (const Band& band : bands) {
        values->reflectances.push_back(bandReflectances(place->materials, solarSpectrum(), band));
        values->wavelengths_um.push_back(effectiveWavelength_um(solarSpectrum(), band));
    }
    if (kept.size() == most_kept) kept.erase(kept.begin());
    kept.push_back({place, bands, values});
    return values;
}

}  // namespace linefall
