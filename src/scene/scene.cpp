#include "scene/scene.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <mutex>

#include "base/angle.h"
#include "physics/atmosphere.h"
#include "physics/calendar.h"
#include "physics/effects.h"
#include "physics/noise.h"
#include "scene/scene_files.h"
#include "scene/toml_reader.h"

namespace linefall {

const Keys<QualitySettings>& qualityKeys() {
    static const Keys<QualitySettings> keys = [] {
        Keys<QualitySettings> k("quality.");
        k.count("contributions", &QualitySettings::contributions, 1, 1, 4096,
                "looks a sample, spread over footprint, optics and dwell; 1: the centre alone");
        return k;
    }();
    return keys;
}

const Keys<EarthSettings>& earthKeys() {
    static const Keys<EarthSettings> keys = [] {
        Keys<EarthSettings> k("earth.");
        k.number("radius", Kind::length, &EarthSettings::radius_m, constants::earth_radius_m, 1e5, 1e8,
                 "radius of the spherical Earth of the curved facts");
        return k;
    }();
    return keys;
}

const std::vector<Parameter>& sceneRows() {
    static const std::vector<Parameter> rows = [] {
        std::vector<Parameter> all;
        const auto append = [&all](const std::vector<Parameter>& some) { all.insert(all.end(), some.begin(), some.end()); };
        append(flightKeys().rows());
        append(sunKeys().rows());
        append(airKeys().rows());
        append(effectKeys().rows());
        append(noiseSeedKeys().rows());
        append(qualityKeys().rows());
        append(earthKeys().rows());
        return all;
    }();
    return rows;
}

namespace {

const Parameter* findRow(const std::vector<Parameter>& rows, const std::string& key) {
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const Parameter& p) { return p.key == key; });
    return found == rows.end() ? nullptr : &*found;
}

bool isSeed(const std::string& key) { return key.size() >= 5 && key.compare(key.size() - 5, 5, ".seed") == 0; }

/// What a declared row cannot say: seeds are whole numbers, a time is RFC 3339.
void checkTexts(const Settings& settings, Problems& problems) {
    for (const auto& [key, setting] : settings.all()) {
        const std::string* text = std::get_if<std::string>(&setting.value);
        if (text == nullptr) continue;
        if (isSeed(key) && (text->empty() || text->size() > 19 || text->find_first_not_of("0123456789") != std::string::npos)) {
            problems.push_back({setting.place, key, "'" + *text + "'", "a whole number of at most 19 digits", ""});
        }
        if (key == "sun.time" && !text->empty()) {
            if (const ParsedInstant parsed = parseInstant(*text); !parsed.ok()) {
                problems.push_back({setting.place, key, "'" + *text + "'", parsed.error, ""});
            }
        }
    }
}

/// One "key=value" of --set; "A." or "B." in front of an instrument key names the first or second instrument.
void giveSet(const std::string& text, int index, Scene& scene, Problems& problems) {
    const Place place{"--set", 1, index + 1};
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos) {
        problems.push_back({place, "", "'" + text + "'", "key=value, for example flight.height=\"5 km\"", ""});
        return;
    }
    std::string key = text.substr(0, equals);
    const std::string value = text.substr(equals + 1);
    std::size_t first = 0;
    std::size_t last = scene.instruments.size();
    if (key.size() > 2 && key[1] == '.' && key[0] >= 'A' && key[0] <= 'Z') {
        first = static_cast<std::size_t>(key[0] - 'A');
        key = key.substr(2);
        if (first >= last) {
            problems.push_back({place, text.substr(0, equals), "no such instrument", "A for the first of " + std::to_string(last), ""});
            return;
        }
        last = first + 1;
    }
    if (const Parameter* row = findSceneRow(key)) {
        if (const auto read = readValue(*row, value, place, problems)) scene.settings.give(*row, {*read, place, Layer::user}, problems);
        return;
    }
    bool known = false;
    std::vector<std::string> names;
    for (const Parameter& row : sceneRows()) names.push_back(row.key);
    for (std::size_t i = first; i < last; ++i) {
        InstrumentSetup& setup = scene.instruments[i];
        for (const Parameter& row : setup.kindOf().rows) names.push_back(row.key);
        const Parameter* row = findInstrumentRow(setup.kindOf(), key);
        if (row == nullptr) continue;
        Problems found;
        if (const auto read = readValue(*row, value, place, found)) setup.settings.give(*row, {*read, place, Layer::user}, found);
        // The same mistake is told once, however many instruments know the key.
        if (!known) problems.insert(problems.end(), found.begin(), found.end());
        known = true;
    }
    if (!known) problems.push_back({place, key, "an unknown key", "a declared key (linefall keys lists them)", nearestName(key, names)});
}

struct StateNames {
    std::string place, flight;
    std::vector<std::string> presets;
    std::vector<const toml::table*> tables;
};

const std::vector<std::string>& settingTables() {
    static const std::vector<std::string> names{"flight", "sun", "air", "effect", "noise", "quality", "earth"};
    return names;
}

StateNames readStateNames(TableReader& r) {
    StateNames names;
    (void)r.whole("linefall", 1, 1, 1, true);
    names.place = r.text("place", "");
    names.flight = r.text("flight_plan", "");
    for (const toml::table* table : r.tables("instrument")) {
        const toml::node* preset = table->get("preset");
        if (preset == nullptr || !preset->is_string()) {
            r.problems().push_back({placeOf(*table, r.file()), "instrument.preset", "", "the name or path of an instrument; it is missing", ""});
            continue;
        }
        names.presets.push_back(preset->value_or(std::string()));
        names.tables.push_back(table);
    }
    for (const std::string& name : settingTables()) r.know(name);
    return names;
}

/// Place names are loaded once a program run: they are large and never change.
std::shared_ptr<const PlaceData> loadPlaceOnce(const std::string& name, int threads) {
    static std::mutex mutex;
    static std::map<std::string, std::weak_ptr<const PlaceData>> loaded;
    const std::lock_guard lock(mutex);
    if (auto place = loaded[name].lock()) return place;
    auto place = loadPlace(name, true, threads);
    loaded[name] = place;
    return place;
}

}  // namespace

const Parameter* findSceneRow(const std::string& key) { return findRow(sceneRows(), key); }

const Parameter* findInstrumentRow(const InstrumentKind& kind, const std::string& key) { return findRow(kind.rows, key); }

void readFlightFile(const std::string& path, Settings& settings, Problems& problems) {
    const auto file = parseTomlFile(path, problems);
    if (!file) return;
    TableReader r(*file, path, "", problems);
    (void)r.text("title", "");
    (void)r.text("description", "");
    readSettings(*file, path, "flight.", flightKeys().rows(), Layer::preset, {"title", "description", "sun"}, settings, problems);
    if (const toml::table* sun = r.table("sun")) readSettings(*sun, path, "sun.", sunKeys().rows(), Layer::preset, {}, settings, problems);
}

Scene loadScene(const SceneRequest& request) {
    Scene scene;
    Problems problems;
    std::optional<toml::table> state;
    StateNames names;
    if (!request.state.empty()) {
        state = parseTomlFile(request.state, problems);
        if (!state) throw InputError(problems);
        TableReader r(*state, request.state, "", problems);
        names = readStateNames(r);
        r.finish();
    }
    const auto chosen = [](const std::string& asked, const std::string& stated, const char* standard) {
        return !asked.empty() ? asked : !stated.empty() ? stated : std::string(standard);
    };
    // A flight of the same name goes with a place, unless another is asked for.
    const std::string place_name = chosen(request.place, names.place, "island");
    scene.flight = chosen(request.flight, request.place.empty() ? names.flight : "", "");
    if (scene.flight.empty()) {
        const std::string own = std::filesystem::path(place_name).stem().string();
        scene.flight = std::filesystem::exists(scenesFolder() + "/flights/" + own + ".toml") ? own : "straight";
    }
    if (const std::string path = resolveSceneFile("flights", scene.flight, problems); !path.empty()) {
        readFlightFile(path, scene.settings, problems);
    }

    std::vector<std::string> presets = request.instruments;
    const bool own_instruments = presets.empty() && !names.presets.empty();
    if (own_instruments) presets = names.presets;
    if (presets.empty()) presets = {"whisk-broom", "push-broom"};
    if (presets.size() > 26) problems.push_back({{"", 0, 0}, "instrument", std::to_string(presets.size()), "at most 26 instruments", ""});
    for (const std::string& preset : presets) {
        InstrumentSetup setup;
        setup.preset = preset;
        setup.kind = instrumentKinds().front().name;
        if (const std::string path = resolveSceneFile("instruments", preset, problems); !path.empty()) {
            readInstrumentFile(path, setup, problems);
        }
        scene.instruments.push_back(std::move(setup));
    }
    if (state) {
        for (const std::string& name : settingTables()) {
            const toml::node* node = state->get(name);
            if (node == nullptr) continue;
            if (const toml::table* table = node->as_table()) {
                readSettings(*table, request.state, name + ".", sceneRows(), Layer::scene, {}, scene.settings, problems);
            } else {
                problems.push_back({placeOf(*node, request.state), name, writtenAs(*node), "a table [" + name + "]", ""});
            }
        }
        if (own_instruments) {
            for (std::size_t i = 0; i < names.tables.size(); ++i) {
                readSettings(*names.tables[i], request.state, "instrument.", scene.instruments[i].kindOf().rows, Layer::scene,
                             {"preset"}, scene.instruments[i].settings, problems);
            }
        }
    }
    for (std::size_t i = 0; i < request.sets.size(); ++i) giveSet(request.sets[i], static_cast<int>(i), scene, problems);
    if (!request.noise_seed.empty()) {
        scene.settings.give(*findSceneRow("noise.seed"), {Value{request.noise_seed}, {"--seed", 0, 0}, Layer::user}, problems);
    }
    checkTexts(scene.settings, problems);
    for (const InstrumentSetup& setup : scene.instruments) checkTexts(setup.settings, problems);

    if (problems.empty()) {  // geometry can be judged only when every value is sound
        for (std::size_t i = 0; i < scene.instruments.size(); ++i) (void)makeInstrument(scene, i, problems);
        try {
            (void)Motion(scene.flightSettings());
        } catch (const InputError& e) {
            problems.insert(problems.end(), e.problems().begin(), e.problems().end());
        }
    }
    try {
        scene.place = request.needs_ground ? loadPlaceOnce(place_name, request.threads) : loadPlace(place_name, false);
    } catch (const InputError& e) {
        problems.insert(problems.end(), e.problems().begin(), e.problems().end());
    }
    if (!problems.empty()) throw InputError(problems);
    return scene;
}

std::unique_ptr<Instrument> makeInstrument(const Scene& scene, std::size_t index, Problems& problems) {
    const InstrumentSetup& setup = scene.instruments.at(index);
    const FlightSettings flight = scene.flightSettings();
    return setup.kindOf().make(setup.settings, setup.bands,
                               {flight.height_m, flight.speed_m_s, flight.length_m, scene.earthRadius_m()}, problems);
}

}  // namespace linefall
