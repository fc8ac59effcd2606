// A folder as the world fills it. Nothing stops the run, and nothing is passed over in silence.
#include <catch2/catch.hpp>
#include <sys/stat.h>

#include <algorithm>
#include <filesystem>

#include "marking/csv.h"
#include "marking/feedback_page.h"
#include "marking/marking_files.h"
#include "notices.h"
#include "tower_lesson.h"

namespace linefall {

namespace {

using namespace test;
namespace fs = std::filesystem;

}  // namespace

TEST_CASE("hostile and broken answer files are listed one by one, and the good one among them is marked") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("hostile");
    Answers good = answersOf(lesson, "good");
    give(good, "length", said(metresText(towerVariant(good.variant - 1).shadow_m())));
    const std::string text = answersText(good);
    const auto as = [&](const std::string& student) {  // with that student's own variant
        const std::string of = "variant = " + std::to_string(variantOf(lesson, student) + 1) + "\n";
        return replaced(replaced(text, "\"good\"", "\"" + student + "\""), "variant = " + std::to_string(good.variant) + "\n", of);
    };
    writeText(path + "/good.toml", text);

    writeText(path + "/empty.toml", "");
    writeText(path + "/bytes.toml", std::string("\x00\x01\xFF\xFE linefall", 14));
    writeText(path + "/not-toml.toml", "<html>Please log in</html>");
    writeText(path + "/types.toml", "linefall_answers = 1\nlesson = 3\nversion = \"one\"\nstudent = [1]\nvariant = {}\npart = 7\n");
    writeText(path + "/deep.toml", "a = " + std::string(100000, '['));
    writeText(path + "/giant-number.toml", replaced(as("giant"), "variant = ", "variant = 99999999999999999999999"));
    writeText(path + "/foreign.toml", replaced(text, "\"" + lesson.id + "\"", "\"another-lesson\""));
    writeText(path + "/older.toml", replaced(as("older"), "version = 1", "version = 7"));
    writeText(path + "/nameless.toml", as(""));
    writeText(path + "/long-name.toml", as(std::string(5000, 'x')));
    writeText(path + "/giant-values.toml", replaced(as("values"), metresText(towerVariant(good.variant - 1).shadow_m()), "9e999999 m"));
    writeText(path + "/unknown-part.toml", replaced(replaced(as("unknown"), "part.\"length\"", "part.\"lenght\""), "part.\"length\"", "part.\"lenght\""));
    fs::create_symlink(path + "/good.toml", path + "/link.toml");
    fs::create_symlink("/dev/zero", path + "/zero.toml");
    fs::create_symlink("nowhere", path + "/dangling.toml");
    REQUIRE(mkfifo((path + "/pipe.toml").c_str(), 0600) == 0);
    fs::create_directories(path + "/group/deeper");
    writeText(path + "/group/deeper/x.toml", text);
    writeText(path + "/group/inside.toml", as("inside"));
    writeText(path + "/one-gigabyte.toml", "x");
    fs::resize_file(path + "/one-gigabyte.toml", std::uintmax_t{1} << 30);  // a hole: no disk is filled
    writeText(path + "/a-bit-too-large.toml", std::string(most_answer_bytes + 1, '#'));
    writeText(path + "/no-parts.toml", as("no-parts").substr(0, as("no-parts").find("[part")));

    const HandIns in = readHandIns(path, lesson, {}, {});
    CAPTURE(problemsCsv({{}, in.notices, in.files, true}));
    const std::vector<std::pair<std::string, std::string>> expected{
        {"empty.toml", "unreadable"}, {"bytes.toml", "unreadable"}, {"not-toml.toml", "unreadable"}, {"types.toml", "unreadable"}, {"deep.toml", "unreadable"},
        {"giant-number.toml", "unreadable"}, {"foreign.toml", "foreign lesson"}, {"older.toml", "other version"}, {"nameless.toml", "unreadable"}, {"long-name.toml", "unreadable"},
        {"unknown-part.toml", "unknown part"}, {"link.toml", "link"}, {"zero.toml", "link"}, {"dangling.toml", "link"}, {"pipe.toml", "no file"}, {"group/deeper", "folder"},
        {"one-gigabyte.toml", "too large"}, {"a-bit-too-large.toml", "too large"}, {"good.toml", ""}, {"group/inside.toml", ""}, {"no-parts.toml", ""}, {"giant-values.toml", ""}};
    for (const auto& [file, what] : expected) {
        INFO(file);
        CHECK(whatOf(in.notices, file) == what);
    }
    for (const Notice& notice : in.notices) {
        CHECK_FALSE(notice.why.empty());
        CHECK(notice.why.find(path) == std::string::npos);  // a student's page is no place for the lecturer's folders
    }
    const Marks marks = markAll(lesson, in, 2);
    std::map<std::string, double> points;
    for (const MarkedStudent& student : marks.students) points[student.id] = student.points;
    CHECK(points.size() == 5);
    CHECK(points.at("good") == 2.0);
    CHECK(points.count("inside") == 1);
    CHECK(points.at("no-parts") == 0.0);
    CHECK(points.at("values") == 0.0);
    CHECK(points.at("unknown") == 0.0);
}

TEST_CASE("the roster's students come in its order, strangers after them, and who is missing is told") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("roster");
    for (const char* student : {"b2", "a1", "stranger", "=1+1"}) writeText(path + "/" + std::string(student) + ".toml", answersText(answersOf(lesson, student)));
    writeText(path + "/list.csv", "id,name\nB2,\"=HYPERLINK(\"\"x\"\")\"\nmissing,Max\na1,Ada\n=1+1,Eve\n");
    const Roster roster = readRoster(path + "/list.csv", {});
    HandInRules rules;
    rules.left_out = {path + "/list.csv"};
    const Marks marks = markAll(lesson, readHandIns(path, lesson, roster, rules), 1);
    const Statistics statistics = statisticsOf(lesson, marks);
    ColumnMap columns;
    columns.score = "Points";
    const CsvTable book = readCsv(gradebookCsv({lesson, marks, statistics, roster, columns}), "gradebook");
    CHECK(book.head == std::vector<std::string>{"id", "name", "Points", "max", "feedback"});
    REQUIRE(book.rows.size() == 5);
    CHECK(book.rows[0][0] == "B2");
    CHECK(book.rows[0][1] == "'=HYPERLINK(\"x\")");
    CHECK(book.rows[1] == std::vector<std::string>{"missing", "Max", "", "8", "No answer file."});
    CHECK(book.rows[2][2] == "0");
    CHECK(book.rows[3][0] == "'=1+1");
    CHECK(book.rows[4][0] == "stranger");
    CHECK(find(marks.notices, "missing")->student == "missing");
    CHECK(find(marks.notices, "not on the roster")->student == "stranger");
    CHECK(marks.files == 4);
}

TEST_CASE("no table lets a student's words become a formula, and no page lets them become an element") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("formulas");
    Answers a = answersOf(lesson, "@evil");
    for (const char* part : {"longer", "length", "height", "why"}) give(a, part, said("=HYPERLINK(\"http://x\",\"<script>alert(1)</script>\")"));
    RawAnswer sun;
    sun.settings["=x"] = "+1";
    give(a, "sun", sun);
    a.fingerprint = "=1";
    a.parts["=part"].attempts.push_back(said("-1"));
    writeText(path + "/=file.toml", answersText(a));
    const Marks marks = markAll(lesson, readHandIns(path, lesson, {}, {}), 1);
    REQUIRE(marks.students.size() == 1);
    const Statistics statistics = statisticsOf(lesson, marks);
    const ColumnMap columns;
    const Roster roster;
    const std::vector<Change> changes{{"=1", "=2", 1.0, 2.0, "=3"}};
    const Marking m{lesson, marks, statistics, roster, columns, &changes};
    for (const std::string& text : {gradebookCsv(m), detailsCsv(m), itemsCsv(statistics), clustersCsv(statistics), variantsCsv(statistics), toleranceCsv(statistics), problemsCsv(marks), changesCsv(changes)}) {
        for (const std::vector<std::string>& row : readCsv(text, "t").rows) {
            for (const std::string& cell : row) {
                char* end = nullptr;
                (void)std::strtod(cell.c_str(), &end);
                const bool number = !cell.empty() && *end == '\0';
                INFO(cell);
                CHECK((number || cell.empty() || std::string("=+-@\t\r\n").find(cell[0]) == std::string::npos));
            }
        }
    }
    const std::string& page = marks.students[0].page;
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("&lt;script&gt;") != std::string::npos);
    CHECK(page.find("Tower &amp; shadow") != std::string::npos);
    CHECK(page.find("http") == page.find("http://x"));  // nothing is fetched: the only address is the student's own words
}

TEST_CASE("a student's file name is safe, readable where it can be, and its own") {
    CHECK(safeName("s1234") == "s1234");
    CHECK(safeName("A.Lovelace_3-b") == "A.Lovelace_3-b");
    std::set<std::string> names;
    for (const char* id : {"../../etc/passwd", "a/b", "a_b", "a\\b", ".hidden", "..", "", "con", "CON.html", "nul", "a b", "\xC3\xBC", "x\ny", "index", "a."}) {
        const std::string name = safeName(id);
        INFO(id << " -> " << name);
        CHECK(name.find_first_of("/\\ \n\t:*?\"<>|") == std::string::npos);
        CHECK(name[0] != '.');
        CHECK(names.insert(name).second);
        CHECK(fs::path(name).filename() == name);
    }
    CHECK(safeName(std::string(5000, 'x')).size() < 100);
    CHECK(safeName(std::string(5000, 'x')) != safeName(std::string(5001, 'x')));
}

TEST_CASE("ten thousand files that are no answers are all listed") {
    const Lesson lesson = towerLesson();
    const std::string path = emptyFolder("ten-thousand");
    for (int i = 0; i < 10000; ++i) writeText(path + "/" + std::to_string(i), "x = [");
    const HandIns in = readHandIns(path, lesson, {}, {});
    CHECK(in.files == 10000);
    CHECK(in.notices.size() == 10000);
    CHECK(in.marked.empty());
    fs::remove_all(path);
}

TEST_CASE("a folder that is not there is the lecturer's mistake") {
    const Lesson lesson = towerLesson();
    CHECK_THROWS_AS(readHandIns(folder() + "/no-such", lesson, {}, {}), InputError);
}

TEST_CASE("a variant that cannot be flown leaves its own students unmarked and tells why") {
    std::string text = towerText();
    text = replaced(text, "[\"50 m\", \"40 deg\"]", "[\"-5 m\", \"40 deg\"]");
    Lesson lesson;
    try {
        lesson = towerLesson(text);
    } catch (const InputError& e) {
        SUCCEED("the reader refuses it already: " << e.what());
        return;
    }
    const std::string path = emptyFolder("unflown");
    for (int i = 0; i < 40; ++i) {
        const Answers a = answersOf(lesson, "s" + std::to_string(i));
        writeText(path + "/" + a.student + ".toml", answersText(a));
    }
    const Marks marks = markAll(lesson, readHandIns(path, lesson, {}, {}), 2);
    CHECK(marks.students.size() + marks.notices.size() == 40);
    CHECK(marks.students.size() > 15);
    CHECK_FALSE(marks.notices.empty());
    for (const Notice& notice : marks.notices) CHECK(notice.why.find("variant 2: ") == 0);
}

}  // namespace linefall
