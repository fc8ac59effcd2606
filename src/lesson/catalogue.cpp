// Where lessons lie, and the list of them.

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "lesson/lesson.h"
#include "scene/scene.h"

namespace linefall {

namespace fs = std::filesystem;

std::string lessonsFolder() {
    if (const char* named = std::getenv("LINEFALL_LESSONS")) return named;
    return (fs::path(scenesFolder()).parent_path() / "lessons").string();
}

std::string resolveLesson(const std::string& id_or_path) {
    std::error_code error;
    const bool whole = id_or_path.find('\0') == std::string::npos && !id_or_path.empty();
    if (whole && id_or_path.find('/') == std::string::npos) {
        const fs::path own = fs::path(lessonsFolder()) / id_or_path;
        if (fs::is_regular_file(own / "lesson.md", error)) return own.string();
    }
    if (whole) {
        const fs::path path(id_or_path);
        if (fs::is_regular_file(path / "lesson.md", error)) return path.string();
        if (path.filename() == "lesson.md" && fs::is_regular_file(path, error)) return path.has_parent_path() ? path.parent_path().string() : ".";
    }
    std::vector<std::string> names;
    std::string list;
    for (const Catalogued& lesson : listLessons(lessonsFolder())) {
        names.push_back(lesson.id);
        list += (list.empty() ? "" : ", ") + lesson.id;
    }
    throw InputError(Problem{{"", 0, 0}, "lesson", "'" + id_or_path.substr(0, 200) + "'", "one of " + list + ", or the path of a folder with lesson.md", nearestName(id_or_path, names)});
}

std::vector<Catalogued> listLessons(const std::string& folder) {
    std::vector<Catalogued> all;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        if (!fs::is_regular_file(entry.path() / "lesson.md", error)) continue;
        Catalogued one;
        one.id = entry.path().filename().string();
        try {
            const Lesson lesson = readLesson(entry.path().string());
            one = {lesson.id, lesson.title, lesson.outcome, lesson.level, lesson.topic, lesson.number, lesson.minutes, lesson.builds_on, ""};
        } catch (const InputError& e) {
            one.problem = e.problems().front().text();
        }
        all.push_back(std::move(one));
    }
    std::sort(all.begin(), all.end(), [](const Catalogued& a, const Catalogued& b) {
        return std::pair(a.number == 0 ? 10000 : a.number, a.id) < std::pair(b.number == 0 ? 10000 : b.number, b.id);
    });
    return all;
}

}  // namespace linefall
