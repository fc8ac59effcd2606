// Answers that were made for their marks: a thousand of them get exactly these.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdint>
#include <set>

#include "marking/items.h"
#include "marking/marking_files.h"
#include "tower_lesson.h"

namespace linefall {

namespace {

using namespace test;

/// Numbers that are the same on every machine.
class Draw {
public:
    explicit Draw(std::uint64_t seed) : state_(seed) {}
    int below(int count) {
        state_ = state_ * 6364136223846793005u + 1442695040888963407u;
        return static_cast<int>((state_ >> 33) % static_cast<std::uint64_t>(count));
    }

private:
    std::uint64_t state_;
};

struct Known {
    std::string student;
    std::map<std::string, double> points;
    std::map<std::string, std::string> rules;
    double total = 0.0;
};

/// One student's file, and the marks that it was made for. Nothing here asks the judge.
Known make(const Lesson& lesson, int index, Draw& draw, const std::vector<PicturePlace>& tips, const std::vector<PicturePlace>& feet, Answers& a) {
    Known known;
    known.student = "s" + std::to_string(1000 + index);
    a = answersOf(lesson, known.student);
    const int variant = a.variant - 1;
    const TowerVariant v = towerVariant(variant);
    const auto expect = [&](const std::string& part, double points, const std::string& rule) {
        known.points[part] = points;
        known.rules[part] = rule;
    };

    const bool longer = v.elevation_rad < std::acos(-1.0) / 4.0;
    switch (draw.below(5)) {
    case 0: expect("longer", 0.0, "none"); break;
    case 1: give(a, "longer", said("c")); expect("longer", 0.25, "wrong no shadow"); break;
    case 2: give(a, "longer", said(longer ? "b" : "a")); expect("longer", -0.5, "other"); break;
    case 3: give(a, "longer", said("z")); expect("longer", 0.0, "unreadable"); break;
    default: give(a, "longer", said(longer ? " A)" : "B")); expect("longer", 1.0, "right");
    }

    double own_length = 0.0;  // what a later answer follows from
    switch (draw.below(7)) {
    case 0: expect("length", 0.0, "none"); break;
    case 1: own_length = v.zenith_m(); give(a, "length", said(metresText(own_length))); expect("length", 0.5, "wrong zenith for elevation"); break;
    case 2: own_length = v.shadow_m(); give(a, "length", said(metresText(own_length).substr(0, 4))); expect("length", 1.0, "unit"); break;
    case 3: own_length = 1.7 * v.shadow_m(); give(a, "length", said(metresText(own_length))); expect("length", 0.0, "other"); break;
    case 4: give(a, "length", said("quite long")); expect("length", 0.0, "unreadable"); break;
    case 5: own_length = v.shadow_m(); give(a, "length", said("1e300 m")); give(a, "length", said(metresText(own_length / 1000.0 * 1000.0))); expect("length", 2.0, "right"); break;
    default: own_length = v.shadow_m(); give(a, "length", said(metresText(own_length))); expect("length", 2.0, "right");
    }

    const bool astray = own_length > 0.0 && std::abs(own_length / v.shadow_m() - 1.0) > 0.2;
    switch (draw.below(5)) {
    case 0: expect("height", 0.0, "none"); break;
    case 1: give(a, "height", said(metresText(2.6 * v.tower_m))); expect("height", 0.0, "other"); break;
    case 2: {
        const double height = (astray ? own_length : v.shadow_m()) * std::tan(v.elevation_rad);
        give(a, "height", said(metresText(height)));
        expect("height", 3.0, astray ? "follow" : "right");
        break;
    }
    case 3: give(a, "height", said(metresText(v.tower_m / 0.3048).substr(0, 5) + " ft")); expect("height", 3.0, "right"); break;
    default: give(a, "height", said(metresText(v.tower_m))); expect("height", 3.0, "right");
    }

    RawAnswer place;
    const auto index_of = static_cast<std::size_t>(variant);
    switch (draw.below(4)) {
    case 0: expect("tip", 0.0, "none"); break;
    case 1: place.points = {feet[index_of]}; give(a, "tip", place); expect("tip", 0.5, "wrong the foot"); break;
    case 2: place.points = {{tips[index_of].sample, tips[index_of].line + 30.0}}; give(a, "tip", place); expect("tip", 0.0, "other"); break;
    default: place.points = {{tips[index_of].sample + 1.2, tips[index_of].line - 1.2}}; give(a, "tip", place); expect("tip", 1.0, "right");
    }

    RawAnswer sun;
    const auto degrees = [&](double off) { return std::to_string(v.elevation_rad * 180.0 / std::acos(-1.0) + off) + " deg"; };
    switch (draw.below(4)) {
    case 0: expect("sun", 0.0, "none"); break;
    case 1: sun.settings["sun.elevation"] = degrees(-11.0); give(a, "sun", sun); expect("sun", 0.5, "partly"); break;
    case 2: sun.settings["sun.elevation"] = degrees(-25.0); give(a, "sun", sun); expect("sun", 0.0, "other"); break;
    default: sun.settings["sun.elevation"] = degrees(1.0); give(a, "sun", sun); expect("sun", 1.0, "right");
    }

    if (draw.below(2) == 0) {
        give(a, "why", said("Because of the sun."));
        expect("why", 0.0, "stored");
    } else {
        expect("why", 0.0, "none");
    }
    for (const auto& [part, points] : known.points) known.total += points;
    known.total = std::max(known.total, 0.0);
    return known;
}

}  // namespace

TEST_CASE("a thousand generated submissions get exactly the marks that they were made for") {
    const Lesson lesson = towerLesson();
    std::vector<PicturePlace> tips, feet;
    for (int i = 0; i < lesson.variants.count(); ++i) {
        Truths truths(lesson, i);
        tips.push_back(truths.place("tip"));
        feet.push_back(truths.place("foot"));
        REQUIRE(std::hypot(tips.back().sample - feet.back().sample, tips.back().line - feet.back().line) > 8.0);
    }
    const std::string path = emptyFolder("known-marks");
    Draw draw(4);
    std::map<std::string, Known> all;
    std::map<std::string, int> rules;
    for (int i = 0; i < 1000; ++i) {
        Answers a;
        const Known known = make(lesson, i, draw, tips, feet, a);
        std::string text = answersText(a);
        if (i % 3 == 0) text = "score = 99\n" + text;  // a claimed score is nobody's business
        writeText(path + "/" + known.student + ".toml", text);
        for (const auto& [part, rule] : known.rules) ++rules[rule];
        all[known.student] = known;
    }
    for (const char* rule : {"right", "follow", "unit", "wrong zenith for elevation", "wrong the foot", "partly", "other", "unreadable", "stored", "none"}) CHECK(rules[rule] > 40);

    const Marks marks = markAll(lesson, readHandIns(path, lesson, {}, {}), 2);
    CAPTURE(problemsCsv(marks));
    CHECK(marks.files == 1000);
    CHECK(marks.notices.empty());
    REQUIRE(marks.students.size() == 1000);
    int compared = 0;
    for (const MarkedStudent& student : marks.students) {
        const Known& known = all.at(student.id);
        INFO(student.id << " variant " << student.variant + 1);
        CHECK(student.most == 8.0);
        CHECK(student.points == Approx(known.total).margin(1e-9));
        for (const MarkedPart& part : student.parts) {
            INFO(part.score.part << ": " << part.answer << ", truth " << part.truth);
            CHECK(part.score.verdict.rule == known.rules.at(part.score.part));
            CHECK(part.score.points == Approx(known.points.at(part.score.part)).margin(1e-9));
            ++compared;
        }
    }
    CHECK(compared == 6000);

    // The same marks from one thread, to the byte.
    const Marks again = markAll(lesson, readHandIns(path, lesson, {}, {}), 1);
    const Statistics one = statisticsOf(lesson, marks), other = statisticsOf(lesson, again);
    const ColumnMap columns;
    const Roster roster;
    CHECK(detailsCsv({lesson, marks, one, roster, columns}) == detailsCsv({lesson, again, other, roster, columns}));
    CHECK(summaryJson({lesson, marks, one, roster, columns}) == summaryJson({lesson, again, other, roster, columns}));

    // And the statistics of the whole agree with what was made.
    for (const Item& item : one.items) {
        int right = 0;
        for (const auto& [student, known] : all) right += known.rules.at(item.part) == "right" || known.rules.at(item.part) == "follow" ? 1 : 0;
        CHECK(item.right == right);
        CHECK(item.n == 1000);
    }
    const Item& length = one.items.at(1);
    CAPTURE(clustersCsv(one));
    CHECK(length.part == "length");
    REQUIRE(length.clusters.size() >= 3);
    std::map<std::string, int> causes;
    for (const Cluster& cluster : length.clusters) causes[cluster.cause] = cluster.count;
    CHECK(causes["zenith for elevation"] == rules["wrong zenith for elevation"]);
    CHECK(causes["right number, another unit"] == rules["unit"]);
    // 1.7 times what a shadow is on paper, compared with what was measured of it in the picture.
    const auto unknown = std::find_if(length.clusters.begin(), length.clusters.end(), [](const Cluster& c) { return !c.known; });
    REQUIRE(unknown != length.clusters.end());
    CHECK(unknown->cause.find("no known cause: about 1.") == 0);
    CHECK(unknown->count > 80);
    CHECK(unknown->low > 1.66);
    CHECK(unknown->high < 1.74);
    CHECK(length.tolerant);
    for (std::size_t k = 1; k < tolerance_factors.size(); ++k) CHECK(length.share_right_at[k] >= length.share_right_at[k - 1]);
    CHECK(length.share_right_at[2] == length.share_right);
    CHECK(one.items.at(2).share_right_at[2] == one.items.at(2).share_right);
}

TEST_CASE("with other tolerances other answers are right") {
    const Lesson lesson = towerLesson();
    Truths truths(lesson, 0);
    const Step& step = lesson.steps.at(1);
    const Part& part = step.parts.at(0);
    const double truth = truths.evaluate(part.truth, "noon").value, tolerance = truths.evaluate(part.tolerance, "noon").value;
    CHECK(truth == Approx(towerVariant(0).shadow_m()).margin(tolerance));
    CHECK(truths.evaluate(withTolerance(part, 1.5).tolerance, "noon").value == Approx(1.5 * tolerance));
    std::string student;
    for (int i = 0; student.empty() && i < 100; ++i) student = variantOf(lesson, "s" + std::to_string(i)) == 0 ? "s" + std::to_string(i) : "";
    REQUIRE_FALSE(student.empty());
    const std::string path = emptyFolder("tolerances");
    Answers a = answersOf(lesson, student);
    give(a, "length", said(metresText(truth + 1.4 * tolerance)));
    writeText(path + "/a.toml", answersText(a));
    const Marks marks = markAll(lesson, readHandIns(path, lesson, {}, {}), 1);
    REQUIRE(marks.students.size() == 1);
    const MarkedPart& marked = marks.students[0].parts.at(1);
    CHECK(marked.tolerant);
    CHECK(marked.right_at == std::array<bool, 7>{false, false, false, false, true, true, true});
    CHECK(marked.value == Approx(truth + 1.4 * tolerance).margin(0.01));
    CHECK(marked.tolerance_value == Approx(tolerance));
}

}  // namespace linefall
