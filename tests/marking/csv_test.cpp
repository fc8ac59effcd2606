// Tables by hand: what RFC 4180 says, and what real spreadsheets write instead.
#include <catch2/catch.hpp>

#include <functional>

#include "base/problem.h"
#include "marking/csv.h"
#include "marking/roster.h"
#include "support/scenes.h"

namespace linefall {

namespace {

using Row = std::vector<std::string>;

std::string complaint(const std::function<void()>& act) {
    try {
        act();
        return "";
    } catch (const InputError& e) {
        return e.what();
    }
}

}  // namespace

TEST_CASE("a table is read with quotes, doubled quotes, line ends in cells, CR LF and a mark at the front") {
    const CsvTable t = readCsv("\xEF\xBB\xBFid,name\r\n7,\"Ada \"\"the\"\" first, \r\nof all\"\r\n\r\n8,\n9", "t.csv");
    CHECK(t.head == Row{"id", "name"});
    REQUIRE(t.rows.size() == 3);
    CHECK(t.rows[0] == Row{"7", "Ada \"the\" first, \r\nof all"});
    CHECK(t.rows[1] == Row{"8", ""});
    CHECK(t.rows[2] == Row{"9", ""});
    CHECK(t.lines == std::vector<int>{2, 5, 6});
    CHECK(t.column(" NAME ") == 1);
    CHECK(t.column("age") == -1);
}

TEST_CASE("the separator is found in the head, or told") {
    CHECK(readCsv("id;\"a,b,c\";n\n1;2;3\n", "t").rows[0] == Row{"1", "2", "3"});
    CHECK(readCsv("id\tn\n1\t2\n", "t").separator == '\t');
    CHECK(readCsv("id\n1\n", "t").separator == ',');
    CHECK(readCsv("id;x,y\n1;2\n", "t", ';').head == Row{"id", "x,y"});
}

TEST_CASE("a table that cannot be read is told with file and line") {
    CHECK(complaint([] { (void)readCsv("", "t.csv"); }).find("t.csv: read nothing") == 0);
    CHECK(complaint([] { (void)readCsv("a,b\n1,\"2\n3,4\n", "t.csv"); }).find("t.csv:2:1: read a quote that is never closed") == 0);
    CHECK(complaint([] { (void)readCsv("a,b\n1,2,3\n", "t.csv"); }).find("t.csv:2:1: read 3 cells, expected at most 2") == 0);
    CHECK(complaint([] { (void)readCsv("a,A \n1,2\n", "t.csv"); }).find("twice") != std::string::npos);
    CHECK(complaint([] { (void)readCsv("a,b\n1,M\xFCller\n", "t.csv"); }).find("t.csv:2:1: read the byte FC, expected text in UTF-8") == 0);
    CHECK(complaint([] { (void)readCsv(std::string("a\n1\0\n", 5), "t.csv"); }).find("byte 00") != std::string::npos);
    CHECK(complaint([] { (void)readCsv(std::string(2000, ','), "t.csv"); }).find("at most 500 columns") != std::string::npos);
    CHECK(complaint([] { (void)readCsvFile(test::folder()); }).find("no file") != std::string::npos);
}

TEST_CASE("cells from outside that a spreadsheet would compute are made words, numbers of our own are not") {
    for (const char* evil : {"=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", "\nx"}) CHECK(neutralised(evil) == "'" + std::string(evil));
    CHECK(neutralised("a=1") == "a=1");
    CHECK(neutralised("") == "");
    CHECK(neutralised("\xE2\x88\x92" "3") == "\xE2\x88\x92" "3");              // a true minus sign is a letter like any other
    CHECK(neutralised("\x01=1") == "'=1");                                      // what is left out cannot hide it
    CHECK(neutralised("a\xFF") == "a\xEF\xBF\xBD");
    CHECK(neutralised("\xED\xA0\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");  // half of a surrogate pair
    CsvWriter csv({"=id", "n"});
    csv.text("=cmd|' /C calc'!A0").number(-0.5);
    csv.end();
    csv.text("a,\"b\"\r\nc").whole(-3);
    csv.end();
    csv.text(" x").blank();
    csv.end();
    CHECK(csv.out() == "'=id,n\r\n'=cmd|' /C calc'!A0,-0.5\r\n\"a,\"\"b\"\"\r\nc\",-3\r\n\" x\",\r\n");
}

TEST_CASE("what is written is read back the same") {
    const Row nasty{"a", "b,c", "\"", "\"\"", "line\nend", " blank ", ";", "", "\xC3\xBC"};
    CsvWriter csv(Row{"1", "2", "3", "4", "5", "6", "7", "8", "9"});
    for (const std::string& cell : nasty) csv.text(cell);
    csv.end();
    CHECK(readCsv(csv.out(), "t").rows.at(0) == nasty);
}

TEST_CASE("numbers are written with a point and without a needless end") {
    CsvWriter csv({"a", "b", "c", "d", "e"});
    csv.number(1.0).number(0.1).number(1.0 / 3.0).number(-0.0).number(1.0 / 0.0);
    csv.end();
    CHECK(csv.out() == "a,b,c,d,e\r\n1,0.1,0.3333333333,0,\r\n");
    CsvWriter statistics({"a", "b", "c"});
    statistics.figures(1.0 / 3.0).figures(1018.1818).figures(0.5);
    statistics.end();
    CHECK(statistics.out() == "a,b,c\r\n0.3333,1018,0.5\r\n");
}

TEST_CASE("a roster is read by the names of its columns, and its odd rows are told") {
    const std::string path = test::written("Matriculation;Student;Group\n 0012 ;\"Mo, Li\";a\n;nobody;b\n0012;again;b\n44;;c\n", ".csv");
    const Roster roster = readRoster(path, readColumns("id=matriculation, name=Student"));
    REQUIRE(roster.students.size() == 2);
    CHECK(roster.students[0].id == "0012");
    CHECK(roster.students[0].name == "Mo, Li");
    CHECK(roster.id_column == "Matriculation");
    CHECK(roster.find("44") != nullptr);
    CHECK(roster.find("12") == nullptr);
    CHECK(roster.problems == Row{"line 3: no id", "line 4: 0012 stands there twice"});
}

TEST_CASE("without a map a roster needs a column of a usual name") {
    CHECK(readRoster(test::written("Name,Student ID\nA,1\n", ".csv"), {}).students.at(0).id == "1");
    CHECK(complaint([] { (void)readRoster(test::written("who,why\nA,1\n", ".csv"), {}); }).find("--columns id=NAME") != std::string::npos);
    CHECK(complaint([] { (void)readRoster(test::written("matriculation,why\nA,1\n", ".csv"), readColumns("id=matrikulation")); }).find("did you mean 'matriculation'") != std::string::npos);
}

TEST_CASE("a map of columns that says nothing sensible is refused with all its faults") {
    const std::string said = complaint([] { (void)readColumns("id,nmae=x,separator=dot"); });
    CHECK(said.find("read 'id', expected KEY=COLUMN") != std::string::npos);
    CHECK(said.find("did you mean 'name'") != std::string::npos);
    CHECK(said.find("comma, semicolon or tab") != std::string::npos);
    CHECK(readColumns("separator=;").separator == ';');
    CHECK(readColumns("score=Points").score == "Points");
}

}  // namespace linefall
