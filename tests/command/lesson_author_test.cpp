// What authors type: a new lesson, its check, its variants as a sheet, and its paper.
#include <catch2/catch.hpp>

#include <sstream>

#include "command/program.h"
#include "support/figures.h"
#include "support/folders.h"

using namespace linefall;
using test::Said;

namespace {

const std::string& begun() {
    static const std::string folder = [] {
        const std::string path = test::fresh("my-lesson");
        REQUIRE(test::run({"lesson", "new", path, "--title", "Mine & yours"}).code == 0);
        return path;
    }();
    return folder;
}

}  // namespace

TEST_CASE("a new lesson works as it is, and is not written over anything") {
    CHECK(test::filesIn(begun()) == std::vector<std::string>{"camera.toml", "flight.toml", "lesson.md", "place.toml"});
    const Said check = test::run({"lesson", "check", begun()});
    INFO(check.err << check.out);
    CHECK(check.code == 0);
    CHECK(check.out.find("24 variants") != std::string::npos);
    CHECK(check.out.find("to look at") == std::string::npos);
    const std::string before = test::contentOf(begun() + "/lesson.md");
    const Said again = test::run({"lesson", "new", begun()});
    CHECK(again.code == 2);
    CHECK(again.err.find("does not exist yet") != std::string::npos);
    CHECK(test::contentOf(begun() + "/lesson.md") == before);
    CHECK(test::run({"lesson", "new", test::folder() + "/My Lesson"}).code == 2);
    CHECK_FALSE(std::filesystem::exists(test::folder() + "/My Lesson"));
}

TEST_CASE("try tells each answer with the figures that it deserves, how it is judged and what is said") {
    const Said said = test::run({"lesson", "try", begun(), "--variant", "1"});
    INFO(said.out << said.err);
    CHECK(said.code == 0);
    CHECK(said.out.find("variant 1\n  guess\n    right: a\n      judged right, earns 1\n") == 0);
    CHECK(said.out.find("    wrong pixels for metres: 61.1 m\n      judged wrong pixels for metres, earns 0.25") != std::string::npos);
    CHECK(said.out.find("    nonsense: 12 bananas\n      judged unreadable (the student is asked again), earns 0\n") != std::string::npos);
    std::istringstream lines(said.out);
    for (std::string line; std::getline(lines, line);) {
        INFO(line);
        CHECK(line.size() <= 110);
        CHECK(line.find_last_not_of("0123456789") != std::string::npos);
        std::size_t digits = 0;
        for (const char c : line) digits = c >= '0' && c <= '9' ? digits + 1 : c == '.' ? digits : 0;
        CHECK(digits < 8);
    }
}

TEST_CASE("print writes a worksheet and its key, and nothing else") {
    const std::string out = test::fresh("paper");
    const Said said = test::run({"lesson", "print", begun(), "--student", "Ada/..", "--out", out});
    INFO(said.err);
    CHECK(said.code == 0);
    CHECK(test::filesIn(out) == std::vector<std::string>{"my-lesson-Ada___-key.html", "my-lesson-Ada___-worksheet.html"});
    const std::string sheet = test::contentOf(out + "/my-lesson-Ada___-worksheet.html");
    CHECK(sheet.find("Mine &amp; yours") != std::string::npos);
    CHECK(sheet.find("Ada/..") != std::string::npos);
    CHECK(test::occurrences(sheet, "<img ") == 2);  // to see and to measure in, and from higher up
    const Said again = test::run({"lesson", "print", begun(), "--student", "ada/..", "--out", out + "-2"});
    CHECK(again.code == 0);  // the same student, however the name is written: the same variant
    const std::string other = test::contentOf(out + "-2/my-lesson-ada___-key.html"), key = test::contentOf(out + "/my-lesson-Ada___-key.html");
    const auto variant = [](const std::string& text) { return text.substr(text.find("Variant "), 11); };
    CHECK(variant(other) == variant(key));
    CHECK(test::run({"lesson", "print", begun(), "--variant", "25", "--student", "a", "--out", test::fresh("none")}).code == 2);
    CHECK(test::run({"lesson", "print", begun(), "--out", test::fresh("none")}).code == 2);
    CHECK_FALSE(std::filesystem::exists(test::folder() + "/none"));
}

TEST_CASE("variants tell their difficulty and draw a contact sheet as PNG or HTML") {
    const std::string png = test::folder() + "/sheet.png", html = test::folder() + "/sheet.html";
    const Said said = test::run({"lesson", "variants", begun(), "--sheet", png});
    INFO(said.err);
    REQUIRE(said.code == 0);
    CHECK(test::occurrences(said.out, "; difficulty ") == 24);
    CHECK(said.out.find("Difficulty: |truth| / tolerance") != std::string::npos);
    CHECK(said.out.find("stands out:") == std::string::npos);
    CHECK(test::coloursOf(png).columns > 900);
    const Said json = test::run({"lesson", "variants", begun(), "--variant", "2", "--json", "--sheet", html, "--scene", "high"});
    REQUIRE(json.code == 0);
    CHECK(json.json().at(0).at("difficulty") == 1.0);
    CHECK(test::occurrences(test::contentOf(html), "<img ") == 24);
    CHECK(test::run({"lesson", "variants", begun(), "--sheet", test::folder() + "/sheet.gif"}).code == 2);
    CHECK(test::run({"lesson", "variants", begun(), "--sheet", png, "--scene", "hihg"}).err.find("high") != std::string::npos);
}

TEST_CASE("lessons of the course print: two instruments, rows in time, a plain picture, and the guide") {
    const std::string out = test::fresh("course-paper");
    for (const std::string id : {"eye-and-camera", "rows-are-times", "what-made-this-picture", "writing-a-lesson"}) {
        const Said said = test::run({"lesson", "print", sourceFolder() + "/lessons/" + id, "--variant", "1", "--out", out});
        INFO(id << said.err);
        CHECK(said.code == 0);
        const std::string sheet = test::contentOf(out + "/" + id + "-variant-1-worksheet.html");
        CHECK(test::occurrences(sheet, "<img ") >= 1);
        CHECK(test::xmlFaults(out + "/" + id + "-variant-1-worksheet.html") == "");
        CHECK(test::xmlFaults(out + "/" + id + "-variant-1-key.html") == "");
    }
}
