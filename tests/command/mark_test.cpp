// `linefall mark` and `linefall lesson export`, as a lecturer starts them.
#include <catch2/catch.hpp>

#include <algorithm>

#include "marking/csv.h"
#include "marking/tower_lesson.h"
#include "program.h"

namespace linefall {

using namespace test;

TEST_CASE("a folder is marked from the command line, marked again, and what changed is listed") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("handed-in"), out = path + "/marks", again = fresh("marks-again");
    const auto hand = [&](const std::string& student, const std::string& length) {
        Answers a = answersOf(lesson, student);
        give(a, "length", said(length));
        writeText(path + "/" + student + ".toml", answersText(a));
    };
    hand("0012", metresText(towerVariant(variantOf(lesson, "0012")).shadow_m()));
    hand("0044", "1 m");
    writeText(path + "/roster.csv", "Matrikel;Wer\n0044;\"B, b\"\n0012;A\n0099;C\n");
    writeText(path + "/broken.toml", "?");
    const Arguments mark{"mark", path, "--lesson", lesson.folder, "--roster", path + "/roster.csv", "--columns", "id=matrikel,name=wer,score=Punkte"};
    Arguments first = mark;
    first.insert(first.end(), {"--out", out, "--json"});
    const Said said_first = run(first);
    INFO(said_first.err);
    REQUIRE(said_first.code == 0);
    const auto json = said_first.json();
    CHECK(json.at("marked") == 2);
    CHECK(json.at("files") == 3);
    CHECK(json.at("notices").at("unreadable") == 1);
    CHECK(json.at("notices").at("missing") == 1);
    CHECK(filesIn(out) == std::vector<std::string>{"clusters.csv", "details.csv", "feedback", "gradebook.csv", "items.csv", "problems.csv", "statistics.html", "summary.json", "tolerance.csv", "variants.csv"});
    CHECK(filesIn(out + "/feedback") == std::vector<std::string>{"0012.html", "0044.html"});
    const CsvTable book = readCsvFile(out + "/gradebook.csv");
    CHECK(book.head == std::vector<std::string>{"Matrikel", "Wer", "Punkte", "max", "feedback"});
    REQUIRE(book.rows.size() == 3);
    CHECK(book.rows[0][0] == "0044");
    CHECK(book.rows[0][1] == "B, b");
    CHECK(book.rows[1][2] == "2");
    CHECK(book.rows[2][2] == "");

    // The folder that was written to lies in the one that is read, and is no answer.
    hand("0044", metresText(towerVariant(variantOf(lesson, "0044")).shadow_m()));
    Arguments second = mark;
    second.insert(second.end(), {"--out", out, "--previous", out});
    const Said said_second = run(second);
    INFO(said_second.err);
    REQUIRE(said_second.code == 0);
    CHECK(said_second.out.find("3 files, 2 students marked, mean 2.00 of 8 points") == 0);
    const CsvTable changes = readCsvFile(out + "/changes.csv");
    REQUIRE(changes.rows.size() == 1);
    CHECK(changes.rows[0][0] == "0044");
    CHECK(changes.rows[0][3] == "2");
}

TEST_CASE("marking that cannot begin says why, with exit code 2, and writes nothing") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("nothing-handed-in");
    const auto check = [&](const Arguments& more, const std::string& words) {
        const std::string out = fresh("no-marks");
        Arguments all{"mark"};
        all.insert(all.end(), more.begin(), more.end());
        all.insert(all.end(), {"--out", out});
        const Said said = run(all);
        CAPTURE(said.err, words);
        CHECK(said.code == 2);
        CHECK(said.err.find(words) != std::string::npos);
        CHECK_FALSE(std::filesystem::exists(out));
    };
    check({path + "/no", "--lesson", lesson.folder}, "expected a folder with answer files");
    check({path, "--lesson", "no-such-lesson"}, "no-such-lesson");
    check({path, "--lesson", lesson.folder, "--roster", path + "/no.csv"}, "no.csv");
    check({path, "--lesson", lesson.folder, "--columns", "identity=x"}, "--columns");
    check({path, "--lesson", lesson.folder, "--previous", path}, "details.csv");
    const Said said = run({"mark", path, "--lesson", lesson.folder, "--out", fresh("no-answers")});
    CHECK(said.code == 0);
    CHECK(said.out.find("0 files, 0 students marked") == 0);
}

TEST_CASE("a variant's questions are exported from the command line with their pictures") {
    const Lesson lesson = towerLesson();
    const std::string out = fresh("qti");
    const Said said = run({"lesson", "export", lesson.folder, "--variant", "2", "--out", out});
    INFO(said.err);
    REQUIRE(said.code == 0);
    CHECK(filesIn(out) == std::vector<std::string>{"images", "imsmanifest.xml", "items", "test.xml"});
    CHECK(filesIn(out + "/items") == std::vector<std::string>{"height.xml", "length.xml", "longer.xml", "tip.xml", "why.xml"});
    CHECK(filesIn(out + "/images") == std::vector<std::string>{"noon-A.png"});
    CHECK(said.err.find("left out: sun: ") != std::string::npos);
    const Said wrong = run({"lesson", "export", lesson.folder, "--variant", "5", "--out", fresh("no-qti")});
    CHECK(wrong.code == 2);
    CHECK(wrong.err.find("--variant: read 5, expected 1 to 4") != std::string::npos);
}

}  // namespace linefall
