// The guide for authors is complete: its lists are the code's.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "lesson/expression_node.h"
#include "lesson/names.h"
#include "lesson/new_lesson.h"
#include "lesson/play.h"
#include "lesson/truth.h"
#include "ground/object.h"
#include "ground/paint.h"
#include "scene/scene.h"
#include "scene/toml_reader.h"
#include "support/folders.h"
#include "support/scenes.h"

using namespace linefall;

namespace {

const Lesson& guide() {
    static const Lesson lesson = readLesson(sourceFolder() + "/lessons/writing-a-lesson");
    return lesson;
}

/// The code words that begin the items of the lists of a step, in order.
std::vector<std::string> listed(const std::string& title) {
    std::vector<std::string> words;
    for (const Step& step : guide().steps) {
        if (step.title != title) continue;
        for (const StepItem& item : step.items) {
            for (const Prose& block : item.prose) {
                if (block.kind != Prose::Kind::bullets) continue;
                for (const Prose& one : block.parts) {
                    const Prose* first = one.parts.empty() ? nullptr : &one.parts.front();
                    if (first != nullptr && first->kind == Prose::Kind::paragraph && !first->parts.empty()) first = &first->parts.front();
                    if (first != nullptr && first->kind == Prose::Kind::code_text) words.push_back(wordsOf(*first));
                }
            }
        }
    }
    return words;
}

std::set<std::string> setOf(const std::vector<std::string>& words) { return {words.begin(), words.end()}; }

}  // namespace

TEST_CASE("the guide lists every measure and every fact, in the order of the code") {
    std::vector<std::string> measures, facts;
    for (const MeasureWord& word : measureWords()) measures.push_back(word.word);
    for (const FactName& fact : factNames()) facts.push_back(fact.name);
    CHECK(listed("Measures") == measures);
    CHECK(listed("Facts") == facts);
}

TEST_CASE("the guide lists every function and every property of a thing, and no other") {
    std::set<std::string> all = setOf(functionNames());
    all.insert(objectProperties().begin(), objectProperties().end());
    CHECK(setOf(listed("Expressions")) == all);
}

TEST_CASE("the guide explains every kind of block, step and figure") {
    const std::set<std::string> blocks{"step", "choice", "number", "point", "line", "match", "plan", "because", "figure", "variants", "test"};
    CHECK(setOf(listed("The file from top to bottom")).size() > blocks.size());
    for (const std::string& block : blocks) {
        INFO(block);
        CHECK(setOf(listed("The file from top to bottom")).count(block) == 1);
        CHECK((block == "step" || setOf(listed("Blocks, key by key")).count(block) == 1));
    }
    for (const Part* part : guide().parts()) CHECK(blocks.count(nameOf(part->kind)) == 1);
}

TEST_CASE("the lesson that an author begins with has a sound name, and its title may hold anything") {
    CHECK(lessonId("shadow-to-height"));
    for (const char* bad : {"", "-a", "a-", "Shadow", "a b", "a/b", "..", "a.toml"}) CHECK_FALSE(lessonId(bad));
    const std::vector<NewFile> files = newLessonFiles("A \"title\" with \\ and\nlines");
    const Lesson lesson = readLessonText(files.front().text, "/nowhere/mine");
    CHECK(lesson.title == "A \"title\" with \\ and lines");
    CHECK(lesson.variants.count() == 24);
    std::set<Part::Kind> kinds;
    for (const Part* part : lesson.parts()) kinds.insert(part->kind);
    CHECK(kinds.size() >= 5);
}

TEST_CASE("the blocks that the guide shows word for word are sound questions of its own lesson") {
    const std::string folder = test::folder() + "/guide-words";
    std::filesystem::remove_all(folder);
    std::filesystem::copy(sourceFolder() + "/lessons/writing-a-lesson", folder);
    std::ifstream in(folder + "/lesson.md");
    std::ostringstream all;
    all << in.rdbuf();
    std::string text = all.str(), shown;
    const std::string start = "```text\ntoml ";
    std::set<std::string> words;
    for (std::size_t at = text.find(start); at != std::string::npos; at = text.find(start, at + 1)) {
        const std::size_t word = at + start.size(), end = text.find("\n```", word);
        words.insert(text.substr(word, text.find('\n', word) - word));
        shown += "```toml " + text.substr(word, end + 4 - word) + "\n\n";
    }
    CHECK(words == std::set<std::string>{"match", "number", "plan"});
    const std::size_t before = text.find("## Read: Blocks, key by key");
    REQUIRE(before != std::string::npos);
    text.insert(before, shown);
    std::ofstream(folder + "/lesson.md") << text;
    const Lesson lesson = readLesson(folder);
    REQUIRE(lesson.parts().size() == guide().parts().size() + 3);
    for (const int variant : {0, 23}) {
        Truths truths(lesson, variant);
        for (const Step& step : lesson.steps) {
            for (const Part& part : step.parts) {
                if (guide().findPart(part.id) != nullptr) continue;
                for (const Played& played : playPart(part, step, truths)) {
                    INFO(part.id << ", " << played.played);
                    CHECK(played.problem.empty());
                }
            }
        }
    }
}

TEST_CASE("the guide lists every shape, every pattern and every material that a place may name") {
    std::set<std::string> all = setOf(shapeNames());
    for (const std::string& name : patternNames()) all.insert(name);
    Problems problems;
    const auto file = parseTomlFile(scenesFolder() + "/materials.toml", problems);
    REQUIRE(file);
    const toml::array* materials = (*file)["material"].as_array();
    REQUIRE(materials != nullptr);
    for (const toml::node& one : *materials) all.insert(*(*one.as_table())["name"].value<std::string>());
    CHECK(all.size() > 20);
    CHECK(setOf(listed("The place, the flight and the instrument")) == all);
}
