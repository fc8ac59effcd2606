// Front matter: what a lesson is, the scenes it flies, and the names of what is true.

#include <algorithm>

#include "lesson/block_reader.h"
#include "lesson/truth.h"

namespace linefall {

namespace {

LessonScene readScene(const std::string& name, const toml::table& table, const Lesson& lesson, Problems& problems) {
    TableReader r(table, lesson.file, "scene." + name, problems);
    LessonScene scene;
    if (r.has("like")) {
        const std::string like = r.text("like", "");
        const LessonScene* other = like.empty() ? nullptr : lesson.findScene(like);
        if (other == nullptr) r.refuse("like", "'" + like + "'", "the name of a scene that stands above");
        else scene = *other;
    }
    scene.name = name;
    scene.place = placeOf(table, lesson.file);
    scene.ground = r.text("place", scene.ground);
    scene.flight = r.text("flight", scene.flight);
    const std::vector<std::string> instruments = readTexts(r, "instruments", scene.instruments.empty(), 4);
    if (!instruments.empty()) scene.instruments = instruments;
    if (r.has("set") || scene.set.empty()) scene.set_place = r.place("set");
    for (const auto& [key, value] : readTextTable(r, "set")) {
        const auto same = std::find_if(scene.set.begin(), scene.set.end(), [k = &key](const auto& one) { return one.first == *k; });
        if (same != scene.set.end()) same->second = value;
        else scene.set.emplace_back(key, value);
    }
    r.finish();
    return scene;
}

LessonPoint readPoint(const std::string& name, const toml::table& table, const std::string& file, Problems& problems) {
    static const std::vector<std::string> parts{"foot", "top", "shadow foot", "shadow tip", "ground"};
    TableReader r(table, file, "points." + name, problems);
    LessonPoint point;
    point.name = name;
    point.place = placeOf(table, file);
    point.object = r.text("object", "");
    point.part = static_cast<LessonPoint::Part>(r.choice("part", parts, point.object.empty() ? 4 : 0));
    point.east = readFormula(r, "east", point.object.empty());
    point.north = readFormula(r, "north", point.object.empty());
    point.height = readFormula(r, "height");
    point.words = r.text("words", "");
    if (!point.words.empty() && !point.object.empty()) r.refuse("words", "'" + point.words.substr(0, 40) + "'", "words of a place on the ground; a thing has a name of its own");
    if (point.object.empty() && point.part != LessonPoint::Part::ground) r.refuse("object", "", "the name of a thing of the place");
    r.finish();
    return point;
}

LessonMeasure readMeasure(const std::string& name, const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, "measures." + name, problems);
    LessonMeasure measure;
    measure.name = name;
    measure.place = placeOf(table, file);
    std::vector<std::string> words;
    for (const MeasureWord& word : measureWords()) words.push_back(word.word);
    measure.of = words[static_cast<std::size_t>(r.choice("of", words, 0, true))];
    measure.scene = r.text("scene", "");
    measure.instrument = readInstrumentLetter(r);
    measure.points = readTexts(r, "points");
    const MeasureWord& word = *std::find_if(measureWords().begin(), measureWords().end(), [&](const MeasureWord& w) { return w.word == measure.of; });
    if (measure.points.size() != word.points)
        r.refuse("points", std::to_string(measure.points.size()) + " names", std::to_string(word.points) + " name(s) of points for '" + word.word + "'");
    measure.band_name = r.text("band", "");
    static const std::vector<std::string> scales{"counts", "radiance", "reflectance"};
    measure.scale = scales[static_cast<std::size_t>(r.choice("scale", scales, 0))];
    measure.size = readFormula(r, "size");
    measure.symbol = r.text("symbol", "", measure.of == "trace");
    r.finish();
    return measure;
}

/// Each entry of a table of tables, in the order of the file.
template <class Take>
void eachTable(TableReader& r, const std::string& key, std::size_t most, Take take) {
    const toml::table* table = r.table(key);
    if (table == nullptr) return;
    if (table->size() > most) return r.refuse(key, std::to_string(table->size()) + " entries", "at most " + std::to_string(most));
    std::vector<std::pair<std::string, const toml::node*>> entries;
    for (const auto& [name, node] : *table) entries.emplace_back(std::string(name.str()), &node);
    std::stable_sort(entries.begin(), entries.end(), [](const auto& a, const auto& b) {
        const toml::source_position one = a.second->source().begin, other = b.second->source().begin;
        return std::pair(one.line, one.column) < std::pair(other.line, other.column);
    });
    for (const auto& [name, node] : entries) {
        const auto good = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; };
        if (name.empty() || std::isalpha(static_cast<unsigned char>(name[0])) == 0 || !std::all_of(name.begin(), name.end(), good) || name.size() > 60) {
            r.problems().push_back({placeOf(*node, r.file()), key + "." + name, "'" + name + "'", "a name of letters, digits and _ that begins with a letter", ""});
            continue;
        }
        take(name, *node);
    }
}

}  // namespace

void readFront(const toml::table& table, Lesson& lesson, Problems& problems) {
    TableReader r(table, lesson.file, "", problems);
    lesson.title = r.name("title");
    lesson.number = r.whole("number", 0, 0, 9999);
    lesson.version = r.whole("version", 1, 1, 1000000);
    lesson.minutes = r.whole("minutes", 0, 1, 600, true);
    static const std::vector<std::string> levels{"first year", "second year", "advanced"};
    lesson.level = levels[static_cast<std::size_t>(r.choice("level", levels, 0, true))];
    lesson.topic = r.text("topic", "", true);
    lesson.outcome = r.text("outcome", "", true);
    lesson.builds_on = readTexts(r, "builds_on");
    lesson.feedback = r.choice("feedback", {"at once", "after marking"}, 0) == 0;
    lesson.marks_first = r.choice("marks", {"last", "first"}, 0) == 1;
    const auto needsTable = [&](const std::string& name, const toml::node& node) -> const toml::table* {
        if (const toml::table* inner = node.as_table()) return inner;
        problems.push_back({placeOf(node, lesson.file), name, shown(node), "a table, { ... }", ""});
        return nullptr;
    };
    eachTable(r, "scene", most_scenes, [&](const std::string& name, const toml::node& node) {
        if (const toml::table* inner = needsTable(name, node)) lesson.scenes.push_back(readScene(name, *inner, lesson, problems));
    });
    if (lesson.scenes.empty()) r.refuse("scene", "", "at least one scene: [scene.NAME]");
    eachTable(r, "points", most_names, [&](const std::string& name, const toml::node& node) {
        if (const toml::table* inner = needsTable(name, node)) lesson.points.push_back(readPoint(name, *inner, lesson.file, problems));
    });
    eachTable(r, "measures", most_names, [&](const std::string& name, const toml::node& node) {
        if (const toml::table* inner = needsTable(name, node)) lesson.measures.push_back(readMeasure(name, *inner, lesson.file, problems));
    });
    if (const toml::table* let = r.table("let")) {
        TableReader names(*let, lesson.file, "let", problems);
        eachTable(r, "let", most_names, [&](const std::string& name, const toml::node&) {
            lesson.names.emplace_back(name, readFormula(names, name, true));
        });
    }
    r.finish();
}

}  // namespace linefall
