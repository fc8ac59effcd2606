// Marking again: what changed, for whom, and why.
#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>

#include "marking/csv.h"
#include "marking/marking_files.h"
#include "tower_lesson.h"

namespace linefall {

namespace {

using namespace test;

struct Marked {
    Lesson lesson;
    Marks marks;
    Statistics statistics;
    Marked(const Lesson& l, const std::string& path) : lesson(l), marks(markAll(lesson, readHandIns(path, lesson, {}, {}), 1)), statistics(statisticsOf(lesson, marks)) {}
    void write(const std::string& to) const {
        const ColumnMap columns;
        const Roster roster;
        WholeFiles files;
        std::filesystem::create_directories(to + "/feedback");
        (void)addMarking(files, to, {lesson, marks, statistics, roster, columns});
        files.commit();
    }
};

}  // namespace

TEST_CASE("marking again tells who changed, in which part, from what to what, and why") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("again"), out = emptyFolder("again-out");
    const auto hand = [&](const std::string& student, const std::string& length) {
        Answers a = answersOf(lesson, student);
        give(a, "length", said(length));
        writeText(path + "/" + student + ".toml", answersText(a));
    };
    Truths of_variant(lesson, variantOf(lesson, "wide"));
    const double tolerance = of_variant.evaluate(lesson.steps[1].parts[0].tolerance, "noon").value;
    const double wide = of_variant.evaluate(lesson.steps[1].parts[0].truth, "noon").value + 1.3 * tolerance;
    hand("wide", metresText(wide));
    hand("mind", "1 m");
    hand("gone", "1 m");
    hand("same", "1 m");
    hand("=odd", "1 m");
    Marked(lesson, path).write(out);

    const EarlierMarks earlier = readEarlierMarks(out);
    CHECK(earlier.size() == 30);
    CHECK(changesOf(earlier, Marked(lesson, path).marks.students).empty());

    std::filesystem::remove(path + "/gone.toml");
    hand("mind", metresText(towerVariant(variantOf(lesson, "mind")).shadow_m()));
    hand("new", "1 m");
    const Lesson wider = towerLesson(towerText("", 1, "3 * A.spacing_along"));
    const std::vector<Change> changes = changesOf(earlier, Marked(wider, path).marks.students);
    const auto of = [&](const std::string& id) {
        const auto at = std::find_if(changes.begin(), changes.end(), [&](const Change& c) { return c.id == id; });
        REQUIRE(at != changes.end());
        return *at;
    };
    CHECK(changes.size() == 4);
    CHECK(of("wide").part == "length");
    CHECK(of("wide").from == 0.0);
    CHECK(of("wide").to == 2.0);
    CHECK(of("wide").why.find("tolerance was ") == 0);
    CHECK(of("wide").why.find("rule was other, is right") != std::string::npos);
    CHECK(of("mind").why.find("answer was 1 m, is ") == 0);
    CHECK(of("new").part.empty());
    CHECK_FALSE(of("new").from);
    CHECK_FALSE(of("gone").to);
    CHECK(of("gone").why.find("no longer marked") != std::string::npos);
    const CsvTable table = readCsv(changesCsv(changes), "changes");
    CHECK(table.head == std::vector<std::string>{"id", "part", "from", "to", "why"});
    CHECK(table.rows.size() == 4);
}

TEST_CASE("an earlier marking that is none is told, and nothing is made of it") {
    const std::string path = emptyFolder("no-earlier");
    const auto complaint = [&] {
        try {
            (void)readEarlierMarks(path);
            return std::string();
        } catch (const InputError& e) {
            return std::string(e.what());
        }
    };
    CHECK(complaint().find("details.csv") != std::string::npos);
    writeText(path + "/details.csv", "id,part\na,b\n");
    CHECK(complaint().find("no column 'variant'") != std::string::npos);
    writeText(path + "/details.csv", "id,part,variant,answer,truth,tolerance,rule,points\na,b,1,,,,,many\nc,d,1,,,,,\n");
    CHECK(complaint().find("details.csv:2:1: points: read 'many', expected a number") != std::string::npos);
    CHECK(complaint().find("details.csv:3:1: points") != std::string::npos);
}

TEST_CASE("statistics of four students worked out by hand") {
    // Two parts of a point each; right: 11, 10, 10, 00. Share right of the first 3/4, of the second 1/4.
    // First against the rest (1 0 0 0): deviations .25 .25 .25 -.75 and .75 -.25 -.25 -.25: .25 / sqrt(.75 x .75) = 1/3.
    Lesson lesson;
    lesson.steps.resize(1);
    for (const char* id : {"one", "two"}) {
        Part part;
        part.id = id;
        part.unit = "m";
        lesson.steps[0].parts.push_back(part);
    }
    Marks marks;
    const int right[4][2]{{1, 1}, {1, 0}, {1, 0}, {0, 0}};
    for (int s = 0; s < 4; ++s) {
        MarkedStudent student;
        student.variant = s / 2;
        for (int p = 0; p < 2; ++p) {
            MarkedPart part;
            part.given = s != 3;
            part.score = {p == 0 ? "one" : "two", static_cast<double>(right[s][p]), 1.0, {}};
            part.score.verdict.share = right[s][p];
            part.score.verdict.rule = right[s][p] == 1 ? "right" : s == 3 ? "none" : "other";
            student.points += right[s][p];
            student.parts.push_back(part);
        }
        marks.students.push_back(student);
    }
    const Statistics s = statisticsOf(lesson, marks);
    CHECK(s.points.mean == 1.0);
    CHECK(s.points.deviation == Approx(std::sqrt(2.0 / 3.0)));
    REQUIRE(s.items.size() == 2);
    CHECK(s.items[0].share_right == 0.75);
    CHECK(s.items[1].share_right == 0.25);
    CHECK(s.items[0].given == 3);
    CHECK(s.items[0].discrimination.value() == Approx(1.0 / 3.0));
    CHECK(s.items[1].discrimination.value() == Approx(1.0 / 3.0));
    // Variants: 2 1 and 1 0: means 1.5 and 0.5; between 1, within 1 with 2 degrees: F = 2; p = 1 - sqrt(F / (F + 2)) for 1 and 2.
    REQUIRE(s.fairness);
    CHECK(s.fairness->f == Approx(2.0));
    CHECK(s.fairness->p == Approx(1.0 - std::sqrt(0.5)));
    CHECK(s.fairness_says.find("no difference beyond chance at 5 %: F(1, 2) = 2.00, p = 0.29") == 0);
    const CsvTable variants = readCsv(variantsCsv(s), "variants");
    REQUIRE(variants.rows.size() == 3);
    CHECK(variants.rows[0] == std::vector<std::string>{"1", "2", "1.5", "0.7071", "0.5", ""});
    CHECK(variants.rows[2][0] == "all");
    CHECK(variants.rows[2][5] == s.fairness_says);
}

}  // namespace linefall
