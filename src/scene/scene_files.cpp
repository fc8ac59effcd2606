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

bool isScenePath(const std::string& name) {
    return name.find('/') != std::string::npos || (name.size() > 5 && name.compare(name.size() - 5, 5, ".toml") == 0);
}

std::string locatedScene(const std::string& name_or_path, const std::string& folder) {
    if (!isScenePath(name_or_path) || name_or_path.find('\0') != std::string::npos) return name_or_path;
    std::error_code error;
    const auto whole = [&](const fs::path& path) {
        const fs::path absolute = fs::absolute(path, error);
        return error ? path.string() : absolute.lexically_normal().string();
    };
    const fs::path named(name_or_path);
    if (folder.empty() || named.is_absolute()) return whole(named);
    const fs::path beside = fs::path(folder) / named;
    return whole(!fs::is_regular_file(beside, error) && fs::is_regular_file(named, error) ? named : beside);
}

std::string resolveSceneFile(const std::string& folder, const std::string& name_or_path, Problems& problems, const Place& place) {
    std::error_code error;
    const std::string key =
        place.file.rfind("--", 0) == 0 ? "" : folder.substr(0, folder.size() - 1);  // an option is its own place
    const bool whole = name_or_path.find('\0') == std::string::npos;
    if (whole && isScenePath(name_or_path)) {
        if (fs::is_regular_file(name_or_path, error)) return name_or_path;
        const std::string read = error && error != std::errc::no_such_file_or_directory ? error.message() : "no such file";
        if (place.file.empty()) problems.push_back({{name_or_path, 0, 0}, "", read, "a scene file (.toml)", ""});
        else problems.push_back({place, key, "'" + name_or_path + "': " + read, "a scene file (.toml)", ""});
        return "";
    }
    const std::string path = scenesFolder() + "/" + folder + "/" + name_or_path + ".toml";
    if (whole && !name_or_path.empty() && fs::is_regular_file(path, error)) return path;
    std::vector<std::string> names;
    std::string list;
    for (const Listed& listed : listScenes(folder)) {
        names.push_back(listed.name);
        list += (list.empty() ? "" : ", ") + listed.name;
    }
    problems.push_back({place, key, "'" + name_or_path + "'", "one of " + list + ", or a path to a .toml file",
                        nearestName(name_or_path, names)});
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

}  // namespace linefall
