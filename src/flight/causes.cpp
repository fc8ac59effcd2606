#include "flight/causes.h"

#include <algorithm>

namespace linefall {

namespace {

/// Text of all settings whose key begins with one of the prefixes and is not excepted: equal text, equal cause.
std::string written(const Settings& settings, const std::vector<Parameter>& rows, const std::vector<std::string>& prefixes,
                        const std::vector<std::string>& except = {}) {
    std::string out;
    for (const Parameter& row : rows) {
        const bool wanted = std::any_of(prefixes.begin(), prefixes.end(), [&](const std::string& p) { return row.key.rfind(p, 0) == 0; });
        if (!wanted || std::find(except.begin(), except.end(), row.key) != except.end()) continue;
        const Setting* given = settings.find(row.key);
        out += row.key + "=" + exactText(row, given != nullptr ? given->value : row.default_value) + ";";
    }
    return out;
}

/// Instrument keys that act after the look: changing them leaves the looks as they are.
const std::vector<std::string>& afterTheLook() {
    static const std::vector<std::string> keys{
        "instrument.transmission", "instrument.dark_current", "instrument.full_well", "instrument.pattern_gain",
        "instrument.pattern_offset", "instrument.dead_detectors", "instrument.seed", "instrument.read_noise",
        "instrument.bits", "instrument.gain"};
    return keys;
}

}  // namespace

std::vector<std::string> causesOf(const Scene& scene, const InstrumentSetup& setup) {
    const std::vector<Parameter>& rows = sceneRows();
    const std::vector<Parameter>& instrument_rows = setup.kindOf().rows;
    // The f-number shapes the diffraction pattern, so it reaches the looks when there are several contributions.
    const bool sharp = qualityKeys().read(scene.settings).contributions > 1;
    std::vector<std::string> except = afterTheLook();
    if (!sharp) except.insert(except.end(), {"instrument.f_number", "instrument.blur"});
    std::string bands;
    for (const Band& b : setup.bands) {
        bands += b.name + exactText(b.from_um, Kind::number) + exactText(b.to_um, Kind::number) + exactText(b.edge_um, Kind::number) + b.receptor +
                 exactText(b.quantum_efficiency, Kind::number);
    }
    return {
        setup.preset + setup.kind + bands + written(scene.settings, rows, {"flight.", "quality.", "effect.blur", "effect.sweep_motion", "effect.perspective", "effect.relief"}) +
            written(setup.settings, instrument_rows, {"instrument."}, except),
        written(scene.settings, rows, {"sun.azimuth", "sun.elevation", "sun.time", "sun.moves", "sun.disc", "effect.cast_shadow"}),
        written(scene.settings, rows, {"sun.distance", "air.", "effect.slope_shading", "effect.skylight", "effect.glint"}),
        written(scene.settings, rows, {"noise.", "effect.cos4", "effect.shot_noise", "effect.read_noise", "effect.dark_current",
                                           "effect.pattern", "effect.quantisation", "effect.saturation"}) +
            written(setup.settings, instrument_rows, {"instrument."})};
}

}  // namespace linefall
