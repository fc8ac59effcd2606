// What can be judged only when all of a lesson is read.

#include <algorithm>
#include <filesystem>
#include <set>

#include "lesson/block_reader.h"
#include "lesson/names.h"
#include "lesson/variant.h"
#include "scene/givens.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

class References {
public:
    References(const Lesson& lesson, Problems& problems) : lesson_(lesson), problems_(problems) {}

    void check() {
        names();
        for (const LessonScene& scene : lesson_.scenes) {
            for (const auto& [key, value] : scene.set) declared(key, scene.set_place);
        }
        for (const LessonPoint& point : lesson_.points) {
            for (const Formula* f : {&point.east, &point.north, &point.height}) formula(*f);
        }
        for (const auto& [name, f] : lesson_.names) formula(f);
        for (const LessonMeasure& measure : lesson_.measures) {
            scene(measure.scene, measure.place, measure.instrument);
            points(measure.points, measure.place);
            formula(measure.size);
        }
        for (const Step& step : lesson_.steps) checkStep(step);
        for (const LessonTest& test : lesson_.tests) checkTest(test);
    }

private:
    void refuse(const Place& place, const std::string& key, const std::string& read, const std::string& expected, const std::vector<std::string>& known = {}) {
        if (!enough(problems_)) problems_.push_back({place, key, "'" + read.substr(0, 60) + "'", expected, nearestName(read, known)});
    }
    void names() {
        std::set<std::string> seen{"pi"};
        const auto once = [&](const std::string& name, const Place& place) {
            if (!seen.insert(name).second) refuse(place, "", name, "a name that stands for one thing: given, let and measures share their names");
        };
        for (const std::string& name : lesson_.variants.given) once(name, lesson_.variants.place);
        for (const auto& [name, f] : lesson_.names) once(name, f.place);
        for (const LessonMeasure& measure : lesson_.measures) once(measure.name, measure.place);
        for (const LessonPoint& point : lesson_.points) point_names_.push_back(point.name);
        for (const LessonScene& one : lesson_.scenes) {
            scene_names_.push_back(one.name);
            if (one.name.size() == 1) refuse(one.place, "scene", one.name, "a name of two letters or more: A and B are instruments");
        }
        known_ = allNames(lesson_);
    }
    void scene(const std::string& name, const Place& place, int instrument = 0) {
        const LessonScene* found = lesson_.findScene(name);
        if (found == nullptr) refuse(place, "scene", name, "the name of a scene of this lesson", scene_names_);
        else if (instrument >= static_cast<int>(found->instruments.size()))
            refuse(place, "instrument", std::string(1, static_cast<char>('A' + instrument)), "one of the " + std::to_string(found->instruments.size()) + " instrument(s) of scene " + found->name);
    }
    void points(const std::vector<std::string>& names, const Place& place) {
        for (const std::string& name : names) {
            if (std::find(point_names_.begin(), point_names_.end(), name) == point_names_.end()) refuse(place, "", name, "the name of a point of [points]", point_names_);
        }
    }
    void formula(const Formula& f) {
        for (const std::string& name : f.expression.names()) {
            if (!knownName(lesson_, name)) refuse(f.place, "", name, "a truth name: given, let, measure, fact or declared key", known_);
        }
    }
    /// True when the formula asks for a name, itself or through names of [let].
    [[nodiscard]] bool asksFor(const Formula& f, const std::string& name, int depth) const {
        for (const std::string& asked : f.expression.names()) {
            if (asked == name) return true;
            for (const auto& [let, inner] : lesson_.names) {
                if (let == asked && depth < 20 && asksFor(inner, name, depth + 1)) return true;
            }
        }
        return false;
    }
    void declared(const std::string& key, const Place& place) {
        if (findDeclaredKey(key) != nullptr) return;
        refuse(place, "", key, "a declared key: linefall keys lists them", known_);
    }
    void checkStep(const Step& step) {
        scene(step.scene, step.place);
        for (const std::string& key : step.unlock) declared(key, step.place);
        for (const LessonFigure& figure : step.figures) {
            scene(figure.scene.empty() ? step.scene : figure.scene, figure.place, figure.instrument);
            for (const auto& [key, value] : figure.set) declared(key, figure.place);
        }
        for (const Part& part : step.parts) checkPart(part, step);
    }
    void checkPart(const Part& part, const Step& step) {
        if (!ids_.insert(part.id).second) refuse(part.place, "id", part.id, "an id that no other question has");
        scene(part.scene.empty() ? step.scene : part.scene, part.place, part.instrument);
        for (const Formula* f : {&part.truth, &part.formula, &part.tolerance}) formula(*f);
        points(part.truth_points, part.place);
        for (const ChoiceOption& option : part.options) formula(option.when);
        for (const Constraint& constraint : part.constraints) formula(constraint.holds);
        for (const WantedSetting& setting : part.settings) {
            const Parameter* row = findDeclaredKey(setting.key);
            if (row == nullptr) declared(setting.key, part.place);
            else if (part.kind == Part::Kind::match && (row->kind == Kind::text || row->kind == Kind::choice || row->kind == Kind::flag))
                refuse(part.place, "setting", setting.key, "a setting that is a number");
            formula(setting.within), formula(setting.reach);
        }
        std::set<std::string> mistakes;
        for (const NamedWrong& wrong : part.wrong) {
            if (!mistakes.insert(wrong.name).second) refuse(wrong.place, "name", wrong.name, "a name that no other mistake of this question has");
            formula(wrong.value), formula(wrong.when), points(wrong.points, wrong.place);
        }
        for (const auto& [name, id] : part.follow) {
            const Part* earlier = lesson_.findPart(id);
            const bool before = earlier != nullptr && earlier->kind == Part::Kind::number && id != part.id && ids_.count(id) != 0;
            if (!before) refuse(part.place, "follow", id, "the id of a number that was asked before");
            if (!asksFor(part.truth, name, 0)) refuse(part.place, "follow", name, "a name that the truth asks for, itself or through a name of [let]", part.truth.expression.names());
        }
    }
    void checkTest(const LessonTest& test) {
        if (test.variant > lesson_.variants.count()) refuse(test.place, "variant", std::to_string(test.variant), "a variant's number, at most " + std::to_string(lesson_.variants.count()));
        for (const LessonTest::Expected& one : test.expected) {
            if (ids_.count(one.part) == 0) refuse(test.place, "test", one.part, "the id of a question", {ids_.begin(), ids_.end()});
        }
    }

    const Lesson& lesson_;
    Problems& problems_;
    std::vector<std::string> point_names_, scene_names_, known_;
    std::set<std::string> ids_;
};

bool isPath(const std::string& name) { return name.find('/') != std::string::npos || (name.size() > 5 && name.compare(name.size() - 5, 5, ".toml") == 0); }

/// True when the path leads to a file within the folder, links followed.
bool inFolder(const fs::path& path, const std::string& folder) {
    std::error_code error;
    const fs::path real = fs::canonical(path, error);
    if (error) return false;
    const fs::path relative = real.lexically_relative(fs::canonical(folder, error));
    return !error && !relative.empty() && *relative.begin() != "..";
}

void ownFile(const Lesson& lesson, const std::string& name, const Place& place, const std::string& key, Problems& problems) {
    const bool bad = name.find('\0') != std::string::npos || fs::path(name).is_absolute();
    if (!bad && inFolder(fs::path(lesson.folder) / name, lesson.folder)) return;
    problems.push_back({place, key, "'" + name.substr(0, 80) + "'", "a file of the lesson's own folder", ""});
}

/// Pictures that a place file names.
void placePictures(const Lesson& lesson, const std::string& path, Problems& problems) {
    Problems other;
    const auto file = parseTomlFile(path, other);
    if (!file) return void(problems.insert(problems.end(), other.begin(), other.end()));
    const toml::table* terrain = (*file)["terrain"].as_table();
    for (const char* key : {"file", "material_map"}) {
        const toml::node* node = terrain == nullptr ? nullptr : terrain->get(key);
        if (node != nullptr && node->is_string()) ownFile(lesson, writtenAs(*node), placeOf(*node, path), key, problems);
    }
}

}  // namespace

std::string lessonFile(const Lesson& lesson, const std::string& name) { return isPath(name) ? lesson.folder + "/" + name : name; }

void checkReferences(const Lesson& lesson, Problems& problems) { References(lesson, problems).check(); }

void checkFiles(const Lesson& lesson, Problems& problems) {
    std::set<std::string> seen;
    const auto one = [&](const LessonScene& scene, const std::string& name, bool place) {
        if (!isPath(name) || !seen.insert(name).second || enough(problems)) return;
        const std::size_t before = problems.size();
        ownFile(lesson, name, scene.place, "scene." + scene.name, problems);
        if (place && problems.size() == before) placePictures(lesson, lessonFile(lesson, name), problems);
    };
    for (int variant = 0; variant < std::max(lesson.variants.count(), 1); ++variant) {
        const Givens givens = givensOf(lesson, variant);
        for (const LessonScene& scene : lesson.scenes) {
            one(scene, withGivens(scene.ground, givens), true);
            one(scene, withGivens(scene.flight, givens), false);
            for (const std::string& instrument : scene.instruments) one(scene, withGivens(instrument, givens), false);
        }
    }
}

}  // namespace linefall
