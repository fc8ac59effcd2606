// The state file: read into a scene, and written.

#include <algorithm>
#include <filesystem>

#include "scene/scene_files.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

/// A path as the state writes it: relative to the state's folder while that needs no more than one step up, so that a
/// folder can be moved with what belongs to it; else absolute. Names stay.
std::string written(const std::string& name_or_path, const std::string& folder) {
    if (folder.empty() || !isScenePath(name_or_path)) return name_or_path;
    std::error_code error;
    const fs::path target = fs::weakly_canonical(name_or_path, error);
    if (error) return name_or_path;
    const fs::path base = fs::weakly_canonical(folder, error);
    const fs::path relative = error ? fs::path() : target.lexically_relative(base);
    if (relative.empty()) return target.string();
    auto part = relative.begin();
    if (*part == ".." && ++part != relative.end() && *part == "..") return target.string();
    const std::string text = relative.generic_string();
    return isScenePath(text) ? text : "./" + text;
}

/// `key = value` lines of one table; preset values stay in the preset.
std::string settingLines(const Settings& settings, const std::string& prefix, const std::vector<Parameter>& rows,
                         bool presets_too) {
    std::string out;
    for (const auto& [key, setting] : settings.all()) {
        if (key.rfind(prefix, 0) != 0 || (!presets_too && setting.layer == Layer::preset)) continue;
        const auto row = std::find_if(rows.begin(), rows.end(), [k = &key](const Parameter& p) { return p.key == *k; });
        if (row == rows.end()) continue;
        const std::string value = exactText(*row, setting.value);
        out += key.substr(prefix.size()) + " = " + (row->kind == Kind::flag ? value : quotedToml(value)) + "\n";
    }
    return out;
}

}  // namespace

std::string stateText(const Scene& scene, const std::string& folder) {
    std::string out = "# A Linefall state: opened again it gives the same images, bit for bit.\nlinefall = 1\n";
    out += "place = " + quotedToml(scene.place ? written(scene.place->name, folder) : "") + "\n";
    out += "flight_plan = " + quotedToml(written(scene.flight, folder)) + "\n";
    for (const char* name : {"flight", "sun", "air", "effect", "noise", "quality", "earth", "show", "figure"}) {
        const std::string lines = settingLines(scene.settings, std::string(name) + ".", sceneRows(), true);
        if (!lines.empty()) out += "\n[" + std::string(name) + "]\n" + lines;
    }
    for (const InstrumentSetup& setup : scene.instruments) {
        out += "\n[[instrument]]\npreset = " + quotedToml(written(setup.preset, folder)) + "\n";
        out += settingLines(setup.settings, "instrument.", setup.kindOf().rows, false);
    }
    return out;
}

std::vector<std::string> fileStems(const Scene& scene) {
    std::vector<std::string> stems;
    for (const InstrumentSetup& setup : scene.instruments) {
        std::string stem = fs::path(setup.preset).stem().string();
        // The dot parts the stem from a band's name.
        for (char& c : stem) {
            if (c == '.' || static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '-';
        }
        std::string name = stem;
        for (int n = 2; std::find(stems.begin(), stems.end(), name) != stems.end(); ++n) name = stem + "-" + std::to_string(n);
        stems.push_back(name);
    }
    return stems;
}

}  // namespace linefall
