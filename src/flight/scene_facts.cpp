#include "flight/scene_facts.h"

#include "physics/solar_spectrum.h"

namespace linefall {

Facts factsOfScene(const Scene& scene, std::size_t index) {
    Problems problems;
    const std::unique_ptr<Instrument> instrument = makeInstrument(scene, index, problems);
    if (!problems.empty()) throw InputError(problems);
    const std::vector<Band>& bands = instrument->bands();
    LightPath path;
    path.instrument = instrument.get();
    path.effects = effectKeys().read(scene.settings);
    for (const Band& band : bands) path.wavelengths_um.push_back(effectiveWavelength_um(solarSpectrum(), band));
    const SunSettings sun_settings = sunKeys().read(scene.settings);
    const Sunlight sun = sunlight(sun_settings, scene.place ? scene.place->site : SunSite{}, bands);
    const Weather weather{sun, Air(airKeys().read(scene.settings), solarSpectrum(), bands, sun.zenith_rad()), {sun.towards}, nullptr};
    const FlightSettings flight = scene.flightSettings();
    return factsOf(*instrument, {flight.height_m, flight.speed_m_s, flight.length_m, scene.earthRadius_m()}, path, weather);
}

}  // namespace linefall
