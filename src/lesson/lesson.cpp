#include "lesson/lesson.h"

#include <algorithm>

#include "lesson/variant.h"

namespace linefall {

const char* nameOf(Part::Kind kind) {
    switch (kind) {
        case Part::Kind::choice: return "choice";
        case Part::Kind::number: return "number";
        case Part::Kind::point: return "point";
        case Part::Kind::line: return "line";
        case Part::Kind::match: return "match";
        case Part::Kind::because: return "because";
        case Part::Kind::plan: return "plan";
    }
    return "";
}

const std::vector<std::string>& stepWords() {
    static const std::vector<std::string> words{"Read", "Try first", "Predict", "Observe", "Measure", "Explain"};
    return words;
}

const char* nameOf(StepKind kind) { return stepWords()[static_cast<std::size_t>(kind)].c_str(); }

bool VariantTable::dropped(int index) const { return std::find(drop.begin(), drop.end(), index + 1) != drop.end(); }

const LessonScene* Lesson::findScene(const std::string& name) const {
    if (scenes.empty()) return nullptr;
    if (name.empty()) return &scenes.front();
    const auto found = std::find_if(scenes.begin(), scenes.end(), [&](const LessonScene& scene) { return scene.name == name; });
    return found == scenes.end() ? nullptr : &*found;
}

const Part* Lesson::findPart(const std::string& id) const {
    for (const Part* part : parts()) {
        if (part->id == id) return part;
    }
    return nullptr;
}

std::vector<const Part*> Lesson::parts() const {
    std::vector<const Part*> all;
    for (const Step& step : steps) {
        for (const Part& part : step.parts) all.push_back(&part);
    }
    return all;
}

double Lesson::mostPoints() const {
    double sum = 0.0;
    for (const Part* part : parts()) sum += part->points;
    return sum;
}

std::uint64_t hashOf(const std::string& text, std::uint64_t from) {
    for (const char c : text) {
        from ^= static_cast<unsigned char>(c);
        from *= 0x100000001b3u;
    }
    return from;
}

namespace {

std::string plainName(const std::string& student) {
    const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
    std::string name;
    for (const char c : student) name += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    while (!name.empty() && blank(name.back())) name.pop_back();
    std::size_t first = 0;
    while (first < name.size() && blank(name[first])) ++first;
    return name.substr(first);
}

std::uint64_t finished(std::uint64_t z) {
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

}  // namespace

int variantOf(const Lesson& lesson, const std::string& student) {
    const int count = lesson.variants.count();
    if (count == 0) return 0;
    for (int round = 0; round < 10000; ++round) {
        const std::string key = lesson.id + "\n" + lesson.variants.salt + "\n" + plainName(student) + "\n" + std::to_string(round);
        const int index = static_cast<int>(finished(hashOf(key)) % static_cast<std::uint64_t>(count));
        if (!lesson.variants.dropped(index)) return index;
    }
    int index = 0;  // practically never: nearly all of many variants are dropped
    while (lesson.variants.dropped(index)) ++index;
    return index;
}

const std::string* givenText(const Lesson& lesson, int variant, const std::string& name) {
    const auto& given = lesson.variants.given;
    const auto found = std::find(given.begin(), given.end(), name);
    if (found == given.end() || variant < 0 || variant >= lesson.variants.count()) return nullptr;
    return &lesson.variants.rows[static_cast<std::size_t>(variant)][static_cast<std::size_t>(found - given.begin())];
}

std::map<std::string, std::string> givensOf(const Lesson& lesson, int variant) {
    std::map<std::string, std::string> givens;
    for (const std::string& name : lesson.variants.given) {
        if (const std::string* text = givenText(lesson, variant, name)) givens[name] = *text;
    }
    return givens;
}

}  // namespace linefall
