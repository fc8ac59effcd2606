// A small lesson, read, flown and judged.
#include <catch2/catch.hpp>

#include <cmath>

#include "lesson/play.h"
#include "lesson/runner.h"
#include "lesson/variant.h"
#include "support/folders.h"

using namespace linefall;

namespace {

const Lesson& mast() {
    static const Lesson lesson = readLesson(testsFolder() + "/lesson/tower");
    return lesson;
}

RawAnswer text(const std::string& words) {
    RawAnswer answer;
    answer.text = words;
    return answer;
}

Verdict judged(Truths& truths, const std::string& id, const RawAnswer& answer, const Answers* earlier = nullptr) {
    for (const Step& step : truths.lesson().steps) {
        for (const Part& part : step.parts) {
            if (part.id == id) return judge(part, step, &answer, truths, earlier);
        }
    }
    FAIL("no part " << id);
    return {};
}

}  // namespace

TEST_CASE("a lesson is read whole") {
    const Lesson& lesson = mast();
    CHECK(lesson.id == "tower");
    REQUIRE(lesson.steps.size() == 5);
    CHECK(lesson.steps[1].kind == StepKind::predict);
    CHECK(lesson.steps[1].title == "A lower sun");
    CHECK(lesson.parts().size() == 7);
    CHECK(lesson.mostPoints() == 6.0);
    CHECK(lesson.findScene("low")->set.size() == 2);
    CHECK(lesson.fingerprint.size() == 16);
}

TEST_CASE("a sound lesson plays right, wrong and senseless answers as it says in every variant") {
    const LessonCheck check = checkLesson(mast(), 2);
    INFO(textOf(check.problems));
    CHECK(check.problems.empty());
    CHECK(check.played > 3 * 15);
    CHECK_FALSE(check.remarks.empty());  // three variants are few
}

TEST_CASE("the truth of a shadow is read in the picture and agrees with the closed formula") {
    Truths truths(mast(), 1);
    for (const VariantTruth& one : variantTruths(truths)) {
        REQUIRE(one.formula);
        CHECK(one.truth.value == Approx(one.formula->value).epsilon(0.004));
    }
    CHECK(variantTruths(truths)[0].truth.value == Approx(60.0 / std::tan(55.0 * 3.14159265358979 / 180.0)).epsilon(0.004));
}

TEST_CASE("numbers are judged by truth, unit, named mistake and what follows from an earlier value") {
    Truths truths(mast(), 1);
    const double length = 60.0 / std::tan(55.0 * 3.14159265358979 / 180.0);
    CHECK(judged(truths, "length", text(std::to_string(length) + " m")).rule == "right");
    CHECK(judged(truths, "length", text(std::to_string(length * 1e-3) + " km")).rule == "right");
    CHECK(judged(truths, "length", text(std::to_string(length / 0.3048) + " ft")).share == 1.0);
    CHECK(judged(truths, "length", text(std::to_string(length))).rule == "unit");
    CHECK(judged(truths, "length", text(std::to_string(length) + " km")).share == 0.5);
    CHECK(judged(truths, "length", text(std::to_string(length) + " s")).rule == "unit");
    CHECK(judged(truths, "length", text("5 m")).rule == "other");
    CHECK(judged(truths, "length", text("5 m")).share == 0.0);
    CHECK(judged(truths, "length", text("long")).rule == "unreadable");
    const Verdict zenith = judged(truths, "length", text(std::to_string(60.0 * std::tan(55.0 * 3.14159265358979 / 180.0)) + " m"));
    CHECK(zenith.rule == "wrong zenith for elevation");
    CHECK(zenith.share == 0.25);
    CHECK(zenith.message == "That is what a sun 55 deg from the zenith would cast.");
    const Verdict bare = judged(truths, "length", text(std::to_string(60.0 * std::tan(55.0 * 3.14159265358979 / 180.0))));
    CHECK(bare.rule == "wrong zenith for elevation");  // a forgotten unit does not hide the mistake
    CHECK(bare.share == 0.125);
    CHECK(bare.message.find("write the unit beside the number: m") != std::string::npos);

    Answers earlier;
    earlier.parts["length"].attempts.push_back(text("21 m"));  // a slip of half the length
    const double follows = 21.0 * std::tan(55.0 * 3.14159265358979 / 180.0);
    CHECK(judged(truths, "height", text(std::to_string(follows) + " m"), &earlier).rule == "follow");
    CHECK(judged(truths, "height", text(std::to_string(follows) + " m")).rule != "follow");
    CHECK(judged(truths, "height", text("60 m"), &earlier).rule == "right");
}

TEST_CASE("a match is scored by closeness and a plan by the constraints that it meets") {
    Truths truths(mast(), 0);
    RawAnswer sun;
    sun.settings = {{"sun.elevation", "62 deg"}, {"sun.azimuth", "200 deg"}};  // 12 deg off: half way from 2 to 22
    CHECK(judged(truths, "sun", sun).share == Approx(0.75));
    CHECK(judged(truths, "sun", sun).rule == "partly");
    RawAnswer plan;
    plan.settings = {{"flight.height", "600 m"}};  // fine cells, a narrow swath
    const Verdict verdict = judged(truths, "plan", plan);
    CHECK(verdict.share == 0.5);
    CHECK(verdict.message.find("The swath is 195") == 0);
    plan.settings = {{"sun.elevation", "3 deg"}};
    CHECK(judged(truths, "plan", plan).rule == "unreadable");
}

TEST_CASE("a student meets the gate, goes back, and goes on after the program was killed") {
    Answers kept;
    int saves = 0;
    const auto save = [&](const Answers& answers) { kept = readAnswers(answersText(answers), "kept"), ++saves; };
    Runner first(mast(), "s1", nullptr, save);
    REQUIRE(first.next());
    CHECK(first.gated());
    CHECK_FALSE(first.next());
    CHECK(first.answer("guess", text("b")).taken);
    CHECK(first.answer("guess", text("a")).message == "Noted: you will see.");
    REQUIRE(first.next());
    CHECK_FALSE(first.answer("guess", text("b")).taken);  // it stays as it was
    CHECK(first.hint("length") == "Where does it begin?");
    CHECK_FALSE(first.answer("length", text("1,234 m")).taken);
    CHECK(first.answer("length", text("12 m")).taken);
    CHECK(first.back());
    const int done = saves;
    CHECK(done == 7);

    Runner second(mast(), "s1", &kept, save);
    CHECK(second.index() == 1);
    CHECK(second.answers().opened == 2);
    CHECK(second.answers().parts.at("length").hints == 1);
    CHECK(second.answers().parts.at("length").attempts.back().text == "12 m");
    CHECK(second.answers().parts.at("guess").attempts.size() == 2);
    CHECK_THROWS_AS(Runner(mast(), "someone else", &kept, save), InputError);
}

TEST_CASE("variants are chosen by the student's name alone and a dropped one sends on its own students only") {
    Lesson lesson = mast();
    std::map<int, int> met;
    std::vector<int> before;
    for (int i = 0; i < 400; ++i) before.push_back(variantOf(lesson, "student" + std::to_string(i)));
    for (const int v : before) ++met[v];
    CHECK(met.count(2) == 0);  // dropped
    for (const auto& [variant, count] : met) CHECK(count > 60);
    lesson.variants.drop = {3, 1};
    for (int i = 0; i < 400; ++i) {
        const int now = variantOf(lesson, "student" + std::to_string(i));
        CHECK(now != 0);
        if (before[static_cast<std::size_t>(i)] != 0) CHECK(now == before[static_cast<std::size_t>(i)]);
    }
    CHECK(variantOf(mast(), " Student7 ") == variantOf(mast(), "student7"));
    CHECK(hashOf("") == 0xcbf29ce484222325u);
    CHECK(hashOf("a") == 0xaf63dc4c8601ec8cu);  // FNV-1a, from memory of the published test vectors
}
