#include "scene/scene.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <mutex>
#include <set>

#include "base/angle.h"
#include "physics/atmosphere.h"
#include "physics/effects.h"
#include "physics/noise.h"
#include "scene/figure_settings.h"
#include "scene/givens.h"
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
        append(showKeys().rows());
        append(figureKeys().rows());
        return all;
    }();
    return rows;
}

namespace {

const Parameter* findRow(const std::vector<Parameter>& rows, const std::string& key) {
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const Parameter& p) { return p.key == key; });
    return found == rows.end() ? nullptr : &*found;
}

constexpr std::size_t most_instruments = 26;  // A to Z

/// A name or path, and where it was given.
struct Named {
    std::string name;
    Place place;
};

struct StateNames {
    Named place, flight;
    std::vector<Named> presets;
    std::vector<const toml::table*> tables;
};

const std::vector<std::string>& settingTables() {
    static const std::vector<std::string> names{"flight", "sun", "air", "effect", "noise", "quality", "earth", "show", "figure"};
    return names;
}

/// A name or path in a state.
Named stateName(TableReader& r, const std::string& key, const std::string& folder, bool required) {
    const std::string name = r.text(key, "", required);
    if (r.has(key) && r.raw().get(key)->is_string() && name.empty()) r.refuse(key, "''", "a name or path");
    return {locatedScene(name, folder), r.place(key)};
}

StateNames readStateNames(TableReader& r, const std::string& folder) {
    StateNames names;
    const toml::node* version = r.node("linefall");
    if (version == nullptr || version->value_exact<std::int64_t>() != 1) {
        r.refuse("linefall", version == nullptr ? "" : shown(*version), "linefall = 1: this program reads states of version 1");
    }
    names.place = stateName(r, "place", folder, false);
    names.flight = stateName(r, "flight_plan", folder, false);
    for (const toml::table* table : r.tables("instrument")) {
        if (names.presets.size() == most_instruments) {
            r.refuse("instrument", "one more instrument", "at most " + std::to_string(most_instruments) + " instruments");
            break;
        }
        TableReader instrument(*table, r.file(), "instrument", r.problems());
        names.presets.push_back(stateName(instrument, "preset", folder, true));
        names.tables.push_back(table);
    }
    for (const std::string& name : settingTables()) r.know(name);
    return names;
}

/// Place names are loaded once a program run: they are large and never change.
std::shared_ptr<const PlaceData> loadPlaceOnce(const std::string& name, int threads, const Givens& givens) {
    static std::mutex mutex;
    static std::map<std::string, std::weak_ptr<const PlaceData>> loaded;
    const std::lock_guard lock(mutex);
    std::string key = name;
    for (const auto& [given, value] : givens) key += '\0' + given + '\0' + value;
    if (auto place = loaded[key].lock()) return place;
    auto place = loadPlace(name, true, threads, givens);
    loaded[key] = place;
    return place;
}

}  // namespace

const Parameter* findSceneRow(const std::string& key) {
    return findRow(sceneRows(), key);
}

const Parameter* findInstrumentRow(const InstrumentKind& kind, const std::string& key) {
    return findRow(kind.rows, key);
}

void readFlight(const toml::table& file, const std::string& path, Layer layer, Settings& settings, Problems& problems) {
    TableReader r(file, path, "", problems);
    (void)r.text("title", "");
    (void)r.text("description", "");
    readSettings(file, path, "flight.", flightKeys().rows(), layer, {"title", "description", "sun"}, settings, problems);
    if (const toml::table* sun = r.table("sun"))
        readSettings(*sun, path, "sun.", sunKeys().rows(), layer, {}, settings, problems);
}

namespace {

bool hasSun(const Settings& settings) {
    return std::any_of(settings.all().begin(), settings.all().end(),
                       [](const auto& entry) { return entry.first.rfind("sun.", 0) == 0; });
}

/// The flight that goes with a place: the one of its name, else the straight one.
std::string flightOf(const std::string& place_name) {
    std::error_code error;
    const std::string own = std::filesystem::path(place_name).stem().string();
    return std::filesystem::is_regular_file(scenesFolder() + "/flights/" + own + ".toml", error) ? own : "straight";
}

/// The tables of a state. A flight that was asked for in its place keeps its own keys, and its own sun where it has one.
void readStateSettings(const toml::table& state, const std::string& path, const std::set<std::string>& without, Scene& scene,
                       Problems& problems) {
    for (const std::string& name : settingTables()) {
        const toml::node* node = state.get(name);
        if (node == nullptr || without.count(name) != 0) continue;
        if (const toml::table* table = node->as_table()) {
            readSettings(*table, path, name + ".", sceneRows(), Layer::scene, {}, scene.settings, problems);
        } else {
            problems.push_back({placeOf(*node, path), name, shown(*node), "a table [" + name + "]", ""});
        }
    }
}

InstrumentSetup readSetup(const Named& preset, Problems& problems, const Givens& givens = {}) {
    InstrumentSetup setup;
    setup.preset = preset.name;
    setup.kind = instrumentKinds().front().name;
    if (preset.name.empty()) return setup;  // told already
    const std::string path = resolveSceneFile("instruments", preset.name, problems, preset.place);
    if (path.empty()) return setup;
    if (auto file = parseTomlFile(path, problems)) {
        putGivens(*file, givens);
        readInstrument(*file, path, setup, problems);
    }
    return setup;
}

/// What was asked for, else what the state says, else the standard.
Named chosen(const std::string& asked, const char* option, const Named& stated, const std::string& standard) {
    if (!asked.empty()) return {locatedScene(asked, ""), {option, 0, 0}};
    return stated.name.empty() ? Named{standard, {}} : stated;
}

Scene load(const toml::table* state, const std::string& state_path, const SceneRequest& request) {
    Scene scene;
    Problems problems;
    StateNames names;
    if (state != nullptr) {
        TableReader r(*state, state_path, "", problems);
        std::error_code error;
        names = readStateNames(r, std::filesystem::absolute(state_path, error).parent_path().string());
        r.finish();
    }
    const Named place = chosen(request.place, "--place", names.place, "island");
    // A flight of the same name goes with a place, unless another is asked for.
    const Named flight = chosen(request.flight, "--flight", request.place.empty() ? names.flight : Named{}, flightOf(place.name));
    scene.flight = flight.name;
    if (const std::string path = resolveSceneFile("flights", flight.name, problems, flight.place); !path.empty()) {
        if (auto file = parseTomlFile(path, problems)) {
            putGivens(*file, request.givens);
            readFlight(*file, path, Layer::preset, scene.settings, problems);
        }
    }

    std::vector<Named> presets;
    for (const std::string& asked : request.instruments) presets.push_back(chosen(asked, "--instrument", {}, ""));
    const bool own_instruments = presets.empty() && !names.presets.empty();
    if (own_instruments) presets = names.presets;
    if (presets.empty()) presets = {{"whisk-broom", {}}, {"push-broom", {}}};
    if (presets.size() > most_instruments) {
        problems.push_back({{"--instrument", 0, 0},
                            "",
                            std::to_string(presets.size()) + " instruments",
                            "at most " + std::to_string(most_instruments),
                            ""});
        presets.resize(most_instruments);
    }
    for (const Named& preset : presets) scene.instruments.push_back(readSetup(preset, problems, request.givens));
    if (state != nullptr) {
        std::set<std::string> without;
        if (!request.flight.empty() || !request.place.empty())
            without = hasSun(scene.settings) ? std::set<std::string>{"flight", "sun"} : std::set<std::string>{"flight"};
        readStateSettings(*state, state_path, without, scene, problems);
        for (std::size_t i = 0; own_instruments && i < names.tables.size(); ++i) {
            readSettings(*names.tables[i], state_path, "instrument.", scene.instruments[i].kindOf().rows, Layer::scene,
                         {"preset"}, scene.instruments[i].settings, problems);
        }
    }
    for (std::size_t i = 0; i < request.sets.size() && !enough(problems); ++i)
        giveSet(request.sets[i], static_cast<int>(i), scene, problems);
    if (!request.noise_seed.empty()) {
        scene.settings.give(*findSceneRow("noise.seed"), {Value{request.noise_seed}, {"--seed", 0, 0}, Layer::user}, problems);
    }
    checkTexts(scene.settings, problems);
    for (const InstrumentSetup& setup : scene.instruments) checkTexts(setup.settings, problems);
    if (problems.empty()) checkGeometry(scene, request.needs_ground, problems);
    try {  // with problems the place is read, for its own, but not made
        const bool make = request.needs_ground && problems.empty();
        if (!resolveSceneFile("places", place.name, problems, place.place).empty()) {
            scene.place = make ? loadPlaceOnce(place.name, request.threads, request.givens) : loadPlace(place.name, false, 0, request.givens);
        }
    } catch (const InputError& e) {
        problems.insert(problems.end(), e.problems().begin(), e.problems().end());
    }
    if (!problems.empty()) {
        inReadingOrder(problems);
        throw InputError(problems);
    }
    return scene;
}

}  // namespace

Scene withInstrument(const Scene& scene, std::size_t index, const std::string& preset) {
    Scene next = scene;
    Problems problems;
    const InstrumentSetup setup = readSetup({locatedScene(preset, ""), {}}, problems);
    if (index >= most_instruments) {
        problems.push_back({{"instrument", 0, 0}, "", "one more instrument", "at most " + std::to_string(most_instruments) + " instruments", ""});
    }
    if (index < next.instruments.size()) next.instruments[index] = setup;
    else next.instruments.push_back(setup);
    checkTexts(setup.settings, problems);
    if (problems.empty()) checkGeometry(next, true, problems);
    if (problems.empty()) return next;
    inReadingOrder(problems);
    throw InputError(problems);
}

Scene loadState(const toml::table& state, const std::string& path, const SceneRequest& request) {
    return load(&state, path, request);
}

Scene loadScene(const SceneRequest& request) {
    if (request.state.empty()) return load(nullptr, "", request);
    Problems problems;
    const auto state = parseTomlFile(request.state, problems);
    if (!state) throw InputError(problems);
    return load(&*state, request.state, request);
}

}  // namespace linefall
