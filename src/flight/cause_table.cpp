#include "flight/cause_table.h"

#include <algorithm>

#include "flight/light_stops.h"
#include "physics/atmosphere.h"
#include "physics/effects.h"
#include "physics/sun.h"

namespace linefall {

const std::array<CauseRow, cause_count>& causeTable() {
    static const std::array<CauseRow, cause_count> table{{
        {Cause::perspective, "perspective", "perspective",
         "Lines of sight spread from one point: cells grow towards the edge, and what is high leans outwards.", "aim", {"effect.perspective"}},
        {Cause::relief, "relief", "relief",
         "What stands above or below the datum is shown away from its true place.", "aim", {"effect.relief"}},
        {Cause::attitude, "attitude", "attitude",
         "The platform rolls, pitches and yaws, and every look turns with it.", "aim", {"flight.attitude"}},
        {Cause::sweep_motion, "motion during the sweep", "sweep-motion",
         "The platform flies on while a line is gathered, so the end of a line lies ahead of its beginning.", "aim", {"effect.sweep_motion"}},
        {Cause::air, "air", "air",
         "Air weakens the light on both ways, scatters some of it on the ground as skylight, and adds haze.", "air, down", {"air.on"}},
        {Cause::skylight, "skylight", "skylight",
         "Light that the air scattered reaches the ground from the whole sky, into shadows too.", "ground", {"effect.skylight"}},
        {Cause::cast_shadow, "cast shadow", "cast-shadow",
         "Whatever stands between a place and the sun takes the beam away there.", "ground", {"effect.cast_shadow"}},
        {Cause::slope_shading, "slope shading", "slope-shading",
         "A slope that faces the sun gathers more of the beam than one that turns away.", "ground", {"effect.slope_shading"}},
        {Cause::blur, "blur", "blur",
         "A sample gathers light from all its footprint, smeared by the optics and the dwell, not from one point.", "optics", {"effect.blur"}},
        {Cause::noise, "noise", "noise",
         "Photons arrive by chance and the amplifier adds its own unrest: equal light gives unequal counts.", "detector",
         {"effect.shot_noise", "effect.read_noise"}},
        {Cause::quantisation, "quantisation", "quantisation",
         "The converter writes whole numbers only: light that differs by less than a step gets the same count.", "counts", {"effect.quantisation"}},
        {Cause::pattern, "detector pattern", "pattern",
         "Every detector has its own gain and offset, which shows as stripes or speckle.", "detector", {"effect.pattern"}},
    }};
    return table;
}

const CauseRow& rowOf(Cause cause) { return causeTable()[static_cast<std::size_t>(cause)]; }

int stopOfCause(Cause cause) {
    const auto& stops = lightStops();
    const auto at = std::find_if(stops.begin(), stops.end(), [&](const Stop& stop) { return std::string_view(stop.name) == rowOf(cause).stage; });
    return static_cast<int>(at - stops.begin());
}

std::optional<Cause> causeNamed(std::string_view text) {
    for (const CauseRow& row : causeTable()) {
        if (text == row.name || text == row.word) return row.cause;
    }
    return std::nullopt;
}

bool isOn(const Scene& scene, Cause cause) {
    const std::vector<const char*>& keys = rowOf(cause).keys;
    return std::any_of(keys.begin(), keys.end(), [&](const char* key) {
        const Setting* given = scene.settings.find(key);
        return std::get<bool>(given != nullptr ? given->value : findSceneRow(key)->default_value);
    });
}

Scene switched(const Scene& scene, Cause cause, bool on) {
    Scene out = scene;
    for (const char* key : rowOf(cause).keys) out.settings.replace(*findSceneRow(key), on);
    return out;
}

namespace {

bool isUpright(const FlightSettings& f) {
    return f.roll_rad == 0.0 && f.pitch_rad == 0.0 && f.roll_swing_rad == 0.0 && f.pitch_swing_rad == 0.0 && f.rough_air_rad == 0.0;
}

/// Level ground at datum, where nothing stands.
bool isBare(const Ground& ground) {
    return ground.terrain().least_m() == 0.0 && ground.terrain().most_m() == 0.0 && ground.objects().empty() && ground.movers().empty();
}

/// A sun that stays below the horizon gives no light of any kind.
bool isNight(const Scene& scene) {
    const SunSettings sun = sunKeys().read(scene.settings);
    return !sun.moves && scene.place && !sunlight(sun, scene.place->site, {}).up();
}

std::string whyNoLight(const Scene& scene, const char* else_said, bool said) {
    if (isNight(scene)) return "The sun is below the horizon: there is no light.";
    return said ? else_said : "";
}

/// Looks that a sample gathers.
int looksASample(const Scene& scene) {
    return effectKeys().read(scene.settings).blur ? qualityKeys().read(scene.settings).contributions : 1;
}

std::string whyNoSweep(const Scene& scene, std::size_t index) {
    if (looksASample(scene) > 1) return "";
    Problems problems;
    const std::unique_ptr<Instrument> instrument = makeInstrument(scene, index, problems);
    if (!problems.empty() || instrument->lookTime_s(0, 0, 0.0) != instrument->lineTime_s(0)) return "";
    return "This instrument takes all samples of a line at one instant.";
}

}  // namespace

std::string whyIdle(const Scene& scene, std::size_t index, Cause cause) {
    const FlightSettings flight = scene.flightSettings();
    const EffectSettings effects = effectKeys().read(scene.settings);
    const Settings& of_instrument = scene.instruments.at(index).settings;
    const bool bare = scene.place && scene.place->ground && isBare(*scene.place->ground);
    switch (cause) {
        case Cause::relief:
            if (flight.lean == 0.0) return "The factor on relief displacement (lean) is 0.";
            if (bare) return "This place is level at datum, and nothing stands on it.";
            if (!effects.perspective && (!flight.attitude_on || isUpright(flight))) return "Without perspective every look goes straight down: nothing is displaced.";
            return "";
        case Cause::attitude:
            return isUpright(flight) && flight.yaw_rad == 0.0 && flight.yaw_swing_rad == 0.0 ? "The platform flies level: roll, pitch, yaw and rough air are all 0." : "";
        case Cause::sweep_motion: return whyNoSweep(scene, index);
        case Cause::air: return whyNoLight(scene, "", false);
        case Cause::skylight: return whyNoLight(scene, "Without air there is nothing that scatters light from the sky.", !airKeys().read(scene.settings).on);
        case Cause::cast_shadow:
        case Cause::slope_shading: return whyNoLight(scene, "This place is level, and nothing stands on it.", bare);
        case Cause::blur:
            return qualityKeys().read(scene.settings).contributions == 1 ? "One look a sample (quality.contributions): a point cannot be blurred." : "";
        case Cause::quantisation:
            return converterKeys().read(of_instrument).bits == 16 ? "This converter has 16 bits already: its steps are too fine to see." : "";
        case Cause::pattern: {
            const DetectorSettings detector = detectorKeys().read(of_instrument);
            const bool alike = detector.pattern_gain == 0.0 && detector.pattern_offset_e == 0.0 && detector.dead_share == 0.0;
            return alike ? "All detectors of this instrument are alike: gain, offset and dead detectors are 0." : "";
        }
        case Cause::perspective:
        case Cause::noise: break;
    }
    return "";
}

bool acts(const Scene& scene, std::size_t instrument, Cause cause) {
    return isOn(scene, cause) && whyIdle(scene, instrument, cause).empty();
}

}  // namespace linefall
