// What a check tells an author: each problem once with the variants that it touches, and the variants that stand out.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "lesson/difficulty.h"
#include "support/folders.h"
#include "support/scenes.h"

using namespace linefall;

namespace {

/// The small lesson in a folder of its own, with other words in its text.
Lesson changed(const std::vector<std::pair<std::string, std::string>>& changes) {
    const std::string folder = test::folder() + "/checked";
    std::filesystem::remove_all(folder);
    std::filesystem::copy(testsFolder() + "/lesson/tower", folder);
    std::ifstream in(folder + "/lesson.md");
    std::ostringstream all;
    all << in.rdbuf();
    std::string text = all.str();
    for (const auto& [from, to] : changes) {
        const std::size_t at = text.find(from);
        REQUIRE(at != std::string::npos);
        text.replace(at, from.size(), to);
    }
    std::ofstream(folder + "/lesson.md") << text;
    return readLesson(folder);
}

std::size_t count(const std::vector<std::string>& lines, const std::string& words) {
    return static_cast<std::size_t>(std::count_if(lines.begin(), lines.end(), [&](const std::string& line) { return line.find(words) != std::string::npos; }));
}

}  // namespace

TEST_CASE("a wrong formula is told once, with the number of variants that it touches and no more figures than its tolerance deserves") {
    const LessonCheck check = checkLesson(changed({{"formula = \"tower / tan(high)\"", "formula = \"tower * tan(high)\""}}), 2);
    INFO(textOf(check.problems));
    REQUIRE(check.problems.size() == 1);
    const std::string text = check.problems.front().text();
    // tan 50 deg = 1.192: 50 m make 59.6 m where the shadow is 42.0 m long.
    CHECK_THAT(text, Catch::Contains("lesson.md:57:") && Catch::Contains("variant 1: the formula gives 59.6 m, the simulation 42") && Catch::Contains("(in all 3 variants)"));
    CHECK(text.find("41.9") == std::string::npos);
}

TEST_CASE("a formula that is wrong in one variant names that variant, and two of three are counted") {
    const LessonCheck one = checkLesson(changed({{"formula = \"tower / tan(high)\"", "formula = \"if(tower > 59 m, 2, 1) * tower / tan(high)\""}}), 2);
    REQUIRE(one.problems.size() == 1);
    CHECK_THAT(one.problems.front().text(), Catch::Contains("variant 2: the formula") && !Catch::Contains("variants"));
    const LessonCheck two = checkLesson(changed({{"formula = \"tower / tan(high)\"", "formula = \"if(tower > 55 m, 2, 1) * tower / tan(high)\""}}), 2);
    REQUIRE(two.problems.size() == 1);
    CHECK_THAT(two.problems.front().text(), Catch::Contains("(in 2 of 3 variants: 2, 4)"));
}

TEST_CASE("a formula that cannot be worked out is told once and hides no problem of another question") {
    const LessonCheck check = checkLesson(changed({{"formula = \"tower / tan(high)\"", "formula = \"tower + high\""}, {"formula = \"tower\"", "formula = \"2 * tower\""}}), 2);
    INFO(textOf(check.problems));
    REQUIRE(check.problems.size() == 2);
    CHECK_THAT(check.problems[0].text(), Catch::Contains("'tower + high'") && Catch::Contains("(in all 3 variants)"));
    CHECK_THAT(check.problems[1].text(), Catch::Contains("the formula gives 100 m, the simulation 50") && Catch::Contains("(in all 3 variants)"));
}

TEST_CASE("variants that stand out by their truth or their difficulty, and rows alike, are remarks of a sound lesson") {
    const LessonCheck check = checkLesson(changed({{"[\"60 m\", \"55 deg\"]", "[\"9 m\", \"55 deg\"]"}, {"[\"57 m\", \"48 deg\"]", "[\"50 m\", \"50 deg\"]"}}), 2);
    INFO(textOf(check.problems));
    CHECK(check.problems.size() <= 1);  // its own test speaks of 197 ft
    const LessonCheck sound = checkLesson(changed({{"[\"60 m\", \"55 deg\"]", "[\"9 m\", \"55 deg\"]"}, {"[\"57 m\", \"48 deg\"]", "[\"50 m\", \"50 deg\"]"}, {"height = \"197 ft\"", "height = \"29.5 ft\""}}), 2);
    INFO(textOf(sound.problems));
    CHECK(sound.problems.empty());
    CHECK(count(sound.remarks, "variant 2 stands out: the answer to height is 9.0") == 1);
    CHECK(count(sound.remarks, "variant 2 stands out: easier than the rest") == 1);
    CHECK(count(sound.remarks, "variants 1 and 4 have the same row") == 1);
    // 0.2 m more than a tolerance of about 3 m: too near in each of the three variants, and told once.
    const LessonCheck near = checkLesson(changed({{"value = \"tower * tan(high)\"", "value = \"shadow + 1.1 * pick\""}}), 2);
    CHECK(count(near.remarks, "variants 1, 2, 4 stand out: the mistake zenith for elevation (length) lies only 1.1 tolerances from the truth") == 1);
    const LessonCheck plain = checkLesson(changed({}), 2);
    CHECK(count(plain.remarks, " stand out:") + count(plain.remarks, " stands out:") == 0);
}

TEST_CASE("a truth stands out beyond four times the median or below a quarter of it") {
    std::vector<std::vector<VariantTruth>> truths;
    std::vector<int> numbers;
    for (const double height : {50.0, 60.0, 40.0, 199.0, 201.0, 12.6, 12.4, 50.0, -60.0}) {
        VariantTruth one;
        one.part = "height";
        one.unit = "m";
        one.truth = {height, Dimension::of(Kind::length)};
        one.tolerance = {std::abs(height) / 30.0, Dimension::of(Kind::length)};  // all of them equally hard
        truths.push_back({one});
        numbers.push_back(static_cast<int>(numbers.size()) + 1);
    }
    const std::vector<VariantDifficulty> all = difficultiesOf(truths, numbers);  // the median is 50 m
    for (const VariantDifficulty& one : all) {
        INFO(one.variant);
        CHECK(one.remarks.size() == (one.variant == 5 || one.variant == 7 ? 1u : 0u));
    }
    for (std::size_t i = 0; i < truths.size(); ++i) {  // bearings: none is finer than another, wherever it points
        truths[i].front().truth.dimension = truths[i].front().tolerance.dimension = Dimension::of(Kind::angle);
        truths[i].front().tolerance.value = 0.2;
    }
    for (const VariantDifficulty& one : difficultiesOf(truths, numbers)) CHECK(one.remarks.empty());
    CHECK(all[4].remarks.front() == "the answer to height is 201 m; the median of all variants is 50.0 m");
}
