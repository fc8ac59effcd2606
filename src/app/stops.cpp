#include "app/stops.h"

#include <algorithm>
#include <map>

#include "physics/ocular.h"
#include "physics/pigment.h"

namespace linefall {

namespace {

template <class T>
bool declares(const Keys<T>& keys, const std::string& key) {
    return std::any_of(keys.rows().begin(), keys.rows().end(), [&](const Parameter& row) { return row.key == key; });
}

/// The stop at which a parameter acts. Instrument rows declared by no later stage are geometry: they decide the aim.
int stopOf(const std::string& key) {
    const auto begins = [&](const char* prefix) { return key.rfind(prefix, 0) == 0; };
    static const std::map<std::string, int> effects{
        {"effect.cast_shadow", 2}, {"effect.slope_shading", 2}, {"effect.skylight", 2},   {"effect.glint", 2},      {"effect.glint_wind", 2},
        {"effect.blur", 5},        {"effect.cos4", 5},          {"effect.shot_noise", 6}, {"effect.read_noise", 6}, {"effect.dark_current", 6},
        {"effect.pattern", 6},     {"effect.quantisation", 7},  {"effect.saturation", 7}};
    if (const auto effect = effects.find(key); effect != effects.end()) return effect->second;
    if (begins("show.") || begins("figure.")) return -1;  // how counts are shown comes after the light path
    if (begins("sun.")) return 0;
    if (begins("air.")) return 1;
    if (begins("noise.")) return 6;
    if (begins("instrument.")) {
        if (declares(opticsKeys(), key) || declares(ocularKeys(), key) || key == "instrument.focal_length") return 5;
        if (declares(detectorKeys(), key) || declares(noiseKeys(), key)) return 6;
        if (declares(converterKeys(), key) || declares(receptorKeys(), key)) return 7;
    }
    return 4;
}

}  // namespace

std::vector<ParameterOf> parametersOf(int stop, const Scene& scene, int craft) {
    const int wanted = stop == 3 ? 1 : stop;  // the air is the same on both ways
    std::vector<ParameterOf> out;
    if (craft >= 0 && static_cast<std::size_t>(craft) < scene.instruments.size()) {
        for (const Parameter& row : scene.instruments[static_cast<std::size_t>(craft)].kindOf().rows) {
            if (stopOf(row.key) == wanted) out.push_back({&row, craft});
        }
    }
    for (const Parameter& row : sceneRows()) {
        if (stopOf(row.key) == wanted) out.push_back({&row, -1});
    }
    return out;
}

}  // namespace linefall
