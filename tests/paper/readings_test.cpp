// What a sheet of paper gives in place of the program's reading of counts, and whose bands a figure may name.
#include "paper/readings.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figure/ruled_picture.h"
#include "paper/paper.h"
#include "support/folders.h"

using namespace linefall;

namespace {

const Lesson& fieldLesson() {
    static const Lesson lesson = readLesson(testsFolder() + "/paper/field");
    return lesson;
}

Truths& fieldTruths() {
    static Truths all(fieldLesson(), 0, 2);
    return all;
}

const Papers& fieldPapers() {
    static const Papers made = printLesson(fieldTruths(), "", 2);
    return made;
}

std::size_t times(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++n;
    return n;
}

}  // namespace

TEST_CASE("a lesson shows bands of its second instrument that the first does not have") {
    const std::string& sheet = fieldPapers().worksheet;
    CHECK(sheet.find("What only the second camera sees. Second camera (B), A mast on a plain: 120 samples across, 120 lines down; band infrared.") != std::string::npos);
    CHECK(sheet.find("Its counts.") != std::string::npos);
    CHECK(sheet.find("One histogram a band of the picture of Second camera (B)") != std::string::npos);
}

TEST_CASE("a table stands for reading counts, with the square that is asked for among others") {
    const NeededPicture picture{"day", 1};
    const std::vector<Square> squares = squaresOf(fieldTruths(), picture);
    REQUIRE(squares.size() >= 4);
    const PicturePlace sand = fieldTruths().place("open_sand", "day", 1);
    const Square wanted{static_cast<int>(sand.sample), static_cast<int>(sand.line), 7};
    CHECK(std::count(squares.begin(), squares.end(), wanted) == 1);
    for (const Square& a : squares) {
        for (const Square& b : squares) CHECK((a == b || std::max(std::abs(a.sample - b.sample), std::abs(a.line - b.line)) >= 7));
    }
    Formula level;
    level.expression = Expression("level");
    const std::string value = fmt::format("{:.1f}", fieldTruths().evaluate(level, "day").value);
    const std::string row = fmt::format("<tr><td class=\"figure\">{}.5</td><td class=\"figure\">{}.5</td>", wanted.sample, wanted.line);
    const std::string& sheet = fieldPapers().worksheet;
    const std::size_t at = sheet.find(row);
    REQUIRE(at != std::string::npos);
    CHECK(sheet.substr(at, sheet.find("</tr>", at) - at).find(">" + value + "</td>") != std::string::npos);
    CHECK(times(sheet, "<table class=\"readings\">") == 1);
    CHECK(times(sheet, "<tbody>\n<tr>") == 1);
    CHECK(sheet.find("Readings in figure 1, in counts.") != std::string::npos);
}

TEST_CASE("no figure tells how large a pixel is where a question asks for it") {
    CHECK(fieldPapers().worksheet.find("A pixel is") == std::string::npos);
    CHECK(fieldPapers().worksheet.find("a pixel is") == std::string::npos);
}

TEST_CASE("a place of the lesson is named in words in the alternative text") {
    CHECK(fieldPapers().worksheet.find("open sand: ") != std::string::npos);
    CHECK(fieldPapers().worksheet.find("open_sand") == std::string::npos);
}

TEST_CASE("a key begins with all right answers") {
    const std::string& key = fieldPapers().key;
    const std::size_t glance = key.find("Right answers at a glance");
    REQUIRE(glance != std::string::npos);
    // 1200 m x 50 um / 40 mm = 1.5 m
    CHECK(key.find("<tr><td>2</td><td>1.500 m, within 0.030 m</td>") > glance);
    CHECK(key.find("<tr><td>2</td><td>1.500 m, within 0.030 m</td>") < key.find("The sand</h2>"));
}

TEST_CASE("a detail shows the pixels of its window, and its rulers count on") {
    const Scene& scene = fieldTruths().scene("day");
    const Formation& formation = fieldTruths().formation("day", 0);
    const Figure whole = ruledPicture(scene, formation, 0, Type{}), detail = ruledDetail(scene, formation, 0, Type{}, {30, 50, 40, 20});
    const auto raster = [](const Figure& figure) -> const Pixels& {
        for (const auto& mark : figure.drawing.marks) {
            if (const auto* picture = std::get_if<RasterPicture>(&mark)) return *picture->versions.at(0);
        }
        throw std::runtime_error("no raster");
    };
    const Pixels &all = raster(whole), &part = raster(detail);
    REQUIRE(part.columns == 40);
    REQUIRE(part.rows == 20);
    for (int row = 0; row < 20; ++row) {
        for (int column = 0; column < 40; ++column) REQUIRE(part.values[part.at(column, row)] == all.values[all.at(column + 30, row + 50)]);
    }
    std::vector<std::string> numbers;
    for (const auto& mark : detail.drawing.marks) {
        if (const auto* words = std::get_if<Words>(&mark)) numbers.push_back(words->text);
    }
    CHECK(std::count(numbers.begin(), numbers.end(), "40") == 2);
    CHECK(std::count(numbers.begin(), numbers.end(), "60") == 4);  // of samples and of lines
    CHECK(std::count(numbers.begin(), numbers.end(), "0") == 0);
}
