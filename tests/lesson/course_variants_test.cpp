// What every lesson of the course must have. That each variant is judged as it must be is a CTest test of its own for each
// lesson, course/..., which runs 'linefall lesson check'.
#include <catch2/catch.hpp>

#include <algorithm>

#include "lesson/lesson.h"
#include "support/folders.h"

using namespace linefall;

namespace {

bool hasStep(const Lesson& lesson, StepKind kind) {
    return std::any_of(lesson.steps.begin(), lesson.steps.end(), [&](const Step& step) { return step.kind == kind; });
}

int partsOf(const Lesson& lesson, Part::Kind kind) {
    const std::vector<const Part*> parts = lesson.parts();
    return static_cast<int>(std::count_if(parts.begin(), parts.end(), [&](const Part* part) { return part->kind == kind; }));
}

}  // namespace

TEST_CASE("every lesson of the course predicts, observes, measures and explains, with variants, reasons and named mistakes") {
    const std::vector<Catalogued> all = listLessons(sourceFolder() + "/lessons");
    int course = 0, published = 0;
    for (const Catalogued& one : all) {
        INFO(one.id << ": " << one.problem);
        REQUIRE(one.problem.empty());
        if (one.number == 0) continue;  // guides are no part of the course
        ++course;
        const Lesson lesson = readLesson(sourceFolder() + "/lessons/" + one.id);
        CHECK(lesson.variants.count() - static_cast<int>(lesson.variants.drop.size()) >= 24);
        for (const StepKind kind : {StepKind::predict, StepKind::observe, StepKind::explain}) CHECK(hasStep(lesson, kind));
        CHECK(partsOf(lesson, Part::Kind::because) > 0);
        CHECK(lesson.tests.size() >= 2);
        CHECK(lesson.minutes >= 10);
        CHECK(lesson.minutes <= 30);
        for (const LessonTest& test : lesson.tests) published += test.source.empty() ? 0 : 1;
        int mistakes = 0;
        for (const Part* part : lesson.parts()) {
            INFO(part->id);
            if (part->kind == Part::Kind::number) {
                CHECK(part->formula.given());  // a truth that is read in the picture is checked with a closed formula
                CHECK(part->wrong.size() >= 2);
                CHECK_FALSE(part->hints.empty());
            }
            mistakes += static_cast<int>(part->wrong.size());
            for (const ChoiceOption& option : part->options) mistakes += option.name.empty() ? 0 : 1;
        }
        CHECK(mistakes >= 2);
    }
    CHECK(course == 12);
    CHECK(published >= 6);
}
