#include "scene/scene_files.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "scene/materials_reader.h"
#include "scene/toml_reader.h"

namespace linefall {

namespace fs = std::filesystem;

std::string scenesFolder() {
    static const std::string folder = [] {
        std::error_code error;
        if (const char* named = std::getenv("LINEFALL_SCENES")) return std::string(named);
        const fs::path program = fs::read_symlink("/proc/self/exe", error);
        if (!error) {
            for (const char* beside : {"../share/linefall/scenes", "../scenes", "scenes"}) {
                const fs::path candidate = program.parent_path() / beside;
                if (fs::is_directory(candidate / "places", error)) return candidate.lexically_normal().string();
            }
        }
        return std::string(LINEFALL_SOURCE_DIR "/scenes");
    }();
    return folder;
}

std::string resolveSceneFile(const std::string& folder, const std::string& name_or_path, Problems& problems) {
    std::error_code error;
    const bool looks_like_path = name_or_path.find('/') != std::string::npos ||
                                 (name_or_path.size() > 5 && name_or_path.compare(name_or_path.size() - 5, 5, ".toml") == 0);
    if (looks_like_path) {
        if (fs::is_regular_file(name_or_path, error)) return name_or_path;
        problems.push_back({{name_or_path, 0, 0}, "", "no such file", "a scene file (.toml)", ""});
        return "";
    }
    const std::string path = scenesFolder() + "/" + folder + "/" + name_or_path + ".toml";
    if (name_or_path.find_first_of("\\\0") == std::string::npos && fs::is_regular_file(path, error)) return path;
    std::vector<std::string> names;
    std::string list;
    for (const Listed& listed : listScenes(folder)) {
        names.push_back(listed.name);
        list += (list.empty() ? "" : ", ") + listed.name;
    }
    problems.push_back({{"", 0, 0}, folder.substr(0, folder.size() - 1), "'" + name_or_path + "'",
                        "one of " + list + ", or a path to a .toml file", nearestName(name_or_path, names)});
    return "";
}

std::vector<Listed> listScenes(const std::string& folder) {
    std::vector<Listed> out;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(scenesFolder() + "/" + folder, error)) {
        if (entry.path().extension() != ".toml") continue;
        Listed listed{entry.path().stem().string(), "", ""};
        Problems ignored;
        if (const auto table = parseTomlFile(entry.path().string(), ignored)) {
            listed.title = (*table)["title"].value_or(listed.name);
            listed.description = (*table)["description"].value_or(std::string());
        }
        out.push_back(std::move(listed));
    }
    std::sort(out.begin(), out.end(), [](const Listed& a, const Listed& b) { return a.name < b.name; });
    return out;
}

Problems inspectFile(const std::string& path) {
    Problems problems;
    const auto file = parseTomlFile(path, problems);
    if (!file) return problems;
    // A file tells its kind by the key that only that kind must have.
    if (file->contains("linefall")) {
        try {
            SceneRequest request;
            request.state = path;
            (void)loadScene(request);
        } catch (const InputError& e) {
            problems = e.problems();
        }
    } else if (file->contains("terrain")) {
        PlaceData place;
        readPlace(path, place, true, 0, problems);
    } else if (file->contains("kind") || file->contains("band")) {
        InstrumentSetup setup;
        readInstrumentFile(path, setup, problems);
    } else if (file->contains("material")) {
        TableReader reader(*file, path, "", problems);
        Materials materials;
        readMaterials(reader, materials);
        reader.finish();
    } else {
        Settings settings;
        readFlightFile(path, settings, problems);
    }
    return problems;
}

namespace {

std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    return out + "\"";
}

/// `key = value` lines of one table; preset values stay in the preset.
std::string settingLines(const Settings& settings, const std::string& prefix, const std::vector<Parameter>& rows, bool presets_too) {
    std::string out;
    for (const auto& [key, setting] : settings.all()) {
        if (key.rfind(prefix, 0) != 0 || (!presets_too && setting.layer == Layer::preset)) continue;
        const auto row = std::find_if(rows.begin(), rows.end(), [k = &key](const Parameter& p) { return p.key == *k; });
        if (row == rows.end()) continue;
        const std::string value = exactText(*row, setting.value);
        out += key.substr(prefix.size()) + " = " + (row->kind == Kind::flag ? value : quoted(value)) + "\n";
    }
    return out;
}

}  // namespace

std::string stateText(const Scene& scene) {
    std::string out = "# A Linefall state: opened again it gives the same images, bit for bit.\nlinefall = 1\n";
    out += "place = " + quoted(scene.place ? scene.place->name : "") + "\n";
    out += "flight_plan = " + quoted(scene.flight) + "\n";
    for (const char* name : {"flight", "sun", "air", "effect", "noise", "quality", "earth"}) {
        const std::string lines = settingLines(scene.settings, std::string(name) + ".", sceneRows(), true);
        if (!lines.empty()) out += "\n[" + std::string(name) + "]\n" + lines;
    }
    for (const InstrumentSetup& setup : scene.instruments) {
        out += "\n[[instrument]]\npreset = " + quoted(setup.preset) + "\n";
        out += settingLines(setup.settings, "instrument.", setup.kindOf().rows, false);
    }
    return out;
}

}  // namespace linefall
