// Worksheet and key of a small lesson.
#include "paper/paper.h"

#include <catch2/catch.hpp>

#include "paper/needs.h"
#include "support/figures.h"
#include "support/folders.h"

using namespace linefall;

namespace {

const Lesson& mast() {
    static const Lesson lesson = readLesson(testsFolder() + "/lesson/tower");
    return lesson;
}

constexpr const char* hostile = "</style><script>alert(1)</script> \"O'Hare\" & =1+1";

const Papers& papers() {
    static const Papers made = [] {
        Truths truths(mast(), 1);
        return printLesson(truths, hostile, 2);
    }();
    return made;
}

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

const Step& step(const std::string& title) {
    for (const Step& one : mast().steps) {
        if (one.title == title) return one;
    }
    throw std::runtime_error("no step " + title);
}

}  // namespace

TEST_CASE("worksheet and key are well formed, run nothing and fetch nothing, whatever the student's name is") {
    for (const std::string* sheet : {&papers().worksheet, &papers().key}) {
        CHECK(test::xmlFaults(test::written(*sheet, ".xml")) == "");
        CHECK_FALSE(holds(*sheet, "<script"));
        CHECK(test::occurrences(*sheet, "</style>") == 1);
        CHECK_FALSE(holds(*sheet, "http:"));
        CHECK_FALSE(holds(*sheet, "https:"));
        CHECK(test::occurrences(*sheet, " src=\"") == test::occurrences(*sheet, " src=\"data:image/"));
        CHECK(holds(*sheet, "&lt;script&gt;alert(1)"));
        CHECK(holds(*sheet, "Variant 2"));
        CHECK(holds(*sheet, mast().fingerprint));
        CHECK(holds(*sheet, "Never look at the sun"));
        CHECK(holds(*sheet, "teaching model"));
    }
}

TEST_CASE("every figure of a worksheet says in words what it shows") {
    const std::string& sheet = papers().worksheet;
    const std::size_t figures = test::occurrences(sheet, "<img ");
    REQUIRE(figures == 1);  // all questions ask about the same picture
    CHECK(test::occurrences(sheet, " alt=\"A ") == figures);
}

TEST_CASE("a worksheet asks everything and gives nothing away, and the key gives all") {
    const std::string &sheet = papers().worksheet, &key = papers().key;
    for (const Part* part : mast().parts()) {
        INFO(part->id);
        CHECK(holds(sheet, "id=\"" + part->id + "\""));
        CHECK(holds(key, part->id));
    }
    for (const char* secret : {"zenith for elevation", "Where does it begin?", "That is how far the beam runs on.", "42.01 m", "Think of the evening.", "790 m", "Half of it is missing."}) {
        INFO(secret);
        CHECK_FALSE(holds(sheet, secret));
        CHECK(holds(key, secret));  // 60 m / tan 55 deg = 42.01 m
    }
    CHECK(holds(sheet, "within two pixels."));  // in words: a share of the truth would tell it
    CHECK(holds(key, "within 3.0 m (two pixels)"));  // 2 x 1200 m x 50 um / 40 mm
}

TEST_CASE("what follows a prediction stands on a new page") {
    const std::string& sheet = papers().worksheet;
    const std::size_t guess = sheet.find("What does the shadow do?"), stop = sheet.find("<b>Stop.</b>"), page = sheet.find("<h2 class=\"new-page\"");
    REQUIRE(guess != std::string::npos);
    CHECK(guess < stop);
    CHECK(stop < page);
    CHECK(page < sheet.find("Its length"));
    CHECK(sheet.find("<img ") > page);  // no picture before it tells
}

TEST_CASE("a step prints the pictures that its answers are read in") {
    CHECK(picturesOf(mast(), step("Its length")) == std::vector<NeededPicture>{{"high", 0}});
    CHECK(picturesOf(mast(), step("A lower sun")).empty());
    CHECK(picturesOf(mast(), step("Where it ends")) == std::vector<NeededPicture>{{"high", 0}});
}

TEST_CASE("no picture tells where the sun is in a lesson that asks for it") {
    CHECK_FALSE(besideOf(mast(), step("Its length")).sun);
    CHECK(besideOf(mast(), step("Its length")).north);
    CHECK(besideOf(mast(), step("Its length")).scale);
    CHECK_FALSE(holds(papers().worksheet, "its light comes from"));
}
