#include "lesson/names.h"

#include <algorithm>
#include <cctype>

#include "lesson/truth.h"

namespace linefall {

CutName cutName(const Lesson& lesson, const std::string& name) {
    CutName cut{"", -1, name};
    const std::size_t point = cut.rest.find('.');
    if (point != std::string::npos && cut.rest.substr(0, point).size() > 1 && lesson.findScene(cut.rest.substr(0, point)) != nullptr) {
        cut.scene = cut.rest.substr(0, point);
        cut.rest = cut.rest.substr(point + 1);
    }
    if (cut.rest.size() > 2 && cut.rest[1] == '.' && cut.rest[0] >= 'A' && cut.rest[0] <= 'Z') {
        cut.instrument = cut.rest[0] - 'A';
        cut.rest = cut.rest.substr(2);
    }
    return cut;
}

const Parameter* findDeclaredKey(const std::string& key) {
    if (const Parameter* row = findSceneRow(key)) return row;
    const std::string bare = key.size() > 2 && key[1] == '.' && key[0] >= 'A' && key[0] <= 'Z' ? key.substr(2) : key;
    for (const InstrumentKind& kind : instrumentKinds()) {
        if (const Parameter* row = findInstrumentRow(kind, bare)) return row;
    }
    return nullptr;
}

std::string objectWord(const std::string& name) {
    std::string word;
    for (const char c : name) {
        const bool keep = std::isalnum(static_cast<unsigned char>(c)) != 0;
        word += keep ? static_cast<char>(std::tolower(static_cast<unsigned char>(c))) : '_';
    }
    return word;
}

const std::vector<std::string>& objectProperties() {
    static const std::vector<std::string> names{"height", "east", "north", "base", "length", "width"};
    return names;
}

bool knownName(const Lesson& lesson, const std::string& name) {
    if (name == "pi") return true;
    const CutName cut = cutName(lesson, name);
    if (cut.instrument >= 0) {
        const LessonScene* scene = lesson.findScene(cut.scene);
        if (scene == nullptr || cut.instrument >= static_cast<int>(scene->instruments.size())) return false;
    }
    if (cut.rest.rfind("object.", 0) == 0) {
        const std::size_t last = cut.rest.rfind('.');
        const std::string property = cut.rest.substr(last + 1);
        return last > 7 && std::find(objectProperties().begin(), objectProperties().end(), property) != objectProperties().end();
    }
    const auto& facts = factNames();
    if (std::any_of(facts.begin(), facts.end(), [&](const FactName& fact) { return fact.name == cut.rest; })) return true;
    if (const Parameter* row = findDeclaredKey(cut.rest)) return row->kind != Kind::text && row->kind != Kind::choice;
    if (cut.instrument >= 0) return false;
    const auto& given = lesson.variants.given;
    return std::find(given.begin(), given.end(), cut.rest) != given.end() ||
           std::any_of(lesson.names.begin(), lesson.names.end(), [&](const auto& one) { return one.first == cut.rest; }) ||
           std::any_of(lesson.measures.begin(), lesson.measures.end(), [&](const LessonMeasure& one) { return one.name == cut.rest; });
}

std::vector<std::string> allNames(const Lesson& lesson) {
    std::vector<std::string> names = lesson.variants.given;
    for (const auto& [name, formula] : lesson.names) names.push_back(name);
    for (const LessonMeasure& measure : lesson.measures) names.push_back(measure.name);
    for (const FactName& fact : factNames()) names.push_back(fact.name), names.push_back("A." + fact.name);
    for (const Parameter& row : sceneRows()) names.push_back(row.key);
    for (const InstrumentKind& kind : instrumentKinds()) {
        for (const Parameter& row : kind.rows) names.push_back(row.key);
    }
    return names;
}

}  // namespace linefall
