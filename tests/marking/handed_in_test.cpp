// Whose file counts, and which variant's truth it is held against.
#include <catch2/catch.hpp>

#include <algorithm>

#include "marking/marks.h"
#include "notices.h"
#include "tower_lesson.h"

namespace linefall {

using namespace test;

TEST_CASE("students whose files contradict each other are not marked, and those whose files go on from one another are") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("duplicates");
    Answers first = answersOf(lesson, "goes-on"), later = first;
    give(first, "longer", said("a"));
    later = first;
    give(later, "longer", said("b"));
    give(later, "length", said("3 m"));
    writeText(path + "/z-first.toml", answersText(first));
    writeText(path + "/a-later.toml", answersText(later));
    Answers one = answersOf(lesson, "two-minds"), other = one;
    give(one, "longer", said("a"));
    give(other, "longer", said("b"));
    writeText(path + "/one.toml", answersText(one));
    writeText(path + "/other.toml", replaced(answersText(other), "\"two-minds\"", "\" Two-Minds \""));
    Answers copy = answersOf(lesson, "copied");
    writeText(path + "/copy.toml", answersText(copy));
    writeText(path + "/copy (1).toml", answersText(copy));
    for (int i = 0; i < 60; ++i) writeText(path + "/many-" + std::to_string(i) + ".toml", answersText(answersOf(lesson, "many")));
    CHECK(goesOnFrom(later, first));
    CHECK_FALSE(goesOnFrom(first, later));
    CHECK_FALSE(goesOnFrom(one, other));

    const HandIns in = readHandIns(path, lesson, {}, {});
    std::vector<std::string> files;
    for (const HandedIn& handed : in.marked) files.push_back(handed.file);
    CHECK(files == std::vector<std::string>{"copy (1).toml", "a-later.toml"});
    CHECK(whatOf(in.notices, "z-first.toml") == "duplicate");
    CHECK(whatOf(in.notices, "one.toml") == "duplicate");
    CHECK(whatOf(in.notices, "other.toml") == "duplicate");
    CHECK(whatOf(in.notices, "copy.toml") == "duplicate");
    CHECK(std::count_if(in.notices.begin(), in.notices.end(), [](const Notice& n) { return n.student == "many" && !n.marked; }) == 60);
}

TEST_CASE("the variant follows from the student, whatever the file claims") {
    Lesson lesson = towerLesson();
    const std::string path = emptyFolder("variants");
    Answers a = answersOf(lesson, "copycat");
    const int own = a.variant - 1, other = (own + 1) % 4;
    a.variant = other + 1;
    give(a, "length", said(metresText(towerVariant(other).shadow_m())));  // right for a neighbour
    writeText(path + "/a.toml", answersText(a));
    HandIns in = readHandIns(path, lesson, {}, {});
    REQUIRE(in.marked.size() == 1);
    CHECK(in.marked[0].variant == own);
    CHECK(whatOf(in.notices, "a.toml") == "other variant");
    CHECK(markAll(lesson, in, 1).students.at(0).points == 0.0);

    a.salt = "my own";
    writeText(path + "/a.toml", answersText(a));
    in = readHandIns(path, lesson, {}, {});
    CHECK(in.marked.at(0).variant == own);
    CHECK(find(in.notices, "other variant")->why.find("another salt") != std::string::npos);
}

TEST_CASE("who was given a variant before it was dropped is marked by it") {
    const Lesson before = towerLesson();
    const std::string path = emptyFolder("dropped");
    Answers a = answersOf(before, "early");
    give(a, "length", said(metresText(towerVariant(a.variant - 1).shadow_m())));
    writeText(path + "/a.toml", answersText(a));
    const Lesson after = towerLesson(towerText(std::to_string(a.variant)));
    CHECK(variantOf(after, "early") != a.variant - 1);
    CHECK(variantsOf(after, "early") == std::vector<int>{a.variant - 1, variantOf(after, "early")});
    const HandIns in = readHandIns(path, after, {}, {});
    REQUIRE(in.marked.size() == 1);
    CHECK(in.marked[0].variant == a.variant - 1);
    CHECK(find(in.notices, "dropped variant") != nullptr);
    CHECK(find(in.notices, "lesson changed") != nullptr);
    CHECK(markAll(after, in, 1).students.at(0).points == 2.0);
}

TEST_CASE("another version is marked only when that is asked for, by the variant that the file names") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("versions");
    Answers a = answersOf(lesson, "old");
    a.version = 3;
    a.variant = a.variant % 4 + 1;
    give(a, "length", said(metresText(towerVariant(a.variant - 1).shadow_m())));
    writeText(path + "/a.toml", answersText(a));
    a.student = "older";
    a.variant = 77;
    writeText(path + "/b.toml", answersText(a));
    HandInRules rules;
    CHECK(readHandIns(path, lesson, {}, rules).marked.empty());
    rules.any_version = true;
    const HandIns in = readHandIns(path, lesson, {}, rules);
    REQUIRE(in.marked.size() == 1);
    CHECK(markAll(lesson, in, 1).students.at(0).points == 2.0);
    CHECK(whatOf(in.notices, "b.toml") == "other version");
}

}  // namespace linefall
