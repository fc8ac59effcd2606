// The lessons that come with the program, in a share of their variants: truths agree with closed formulas, right answers earn
// everything, named mistakes are told apart, senseless answers earn nothing, and each lesson's own tests hold. 'linefall lesson
// check' does the same with every variant; here one in 24 stands for the others, beside those that a test names.

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

#include "lesson/play.h"

using namespace linefall;

namespace {

std::set<int> variantsToPlay(const Lesson& lesson) {
    std::set<int> chosen;
    for (int i = 0; i < lesson.variants.count(); ++i) {
        if (i % 24 == lesson.number % 24) chosen.insert(i);
    }
    for (const LessonTest& test : lesson.tests) {
        if (test.variant > 0) chosen.insert(test.variant - 1);
    }
    return chosen;
}

}  // namespace

TEST_CASE("the lessons of the course judge as they say") {
    for (const Catalogued& one : listLessons(lessonsFolder())) {
        if (one.number == 0) continue;  // guides are no part of the course
        INFO(one.id << ": " << one.problem);
        REQUIRE(one.problem.empty());
        const Lesson lesson = readLesson(resolveLesson(one.id));
        CHECK(lesson.variants.count() >= 24);
        for (const int variant : variantsToPlay(lesson)) {
            if (lesson.variants.dropped(variant)) continue;
            Truths truths(lesson, variant, 2);
            for (const VariantTruth& truth : variantTruths(truths)) {
                INFO("variant " << variant + 1 << ", " << truth.part);
                REQUIRE(truth.formula.has_value());
                CHECK(std::abs(truth.formula->value - truth.truth.value) <= 0.5 * truth.tolerance.value);
            }
            for (const Played& played : playVariant(truths)) {
                INFO("variant " << variant + 1 << ", " << played.part << ", " << played.played << ": " << played.problem);
                CHECK(played.problem.empty());
                CHECK(played.verdict.message.find("rong!") == std::string::npos);
            }
        }
    }
}
