// All variants side by side, and the one that stands out.
#include "paper/contact_sheet.h"

#include <catch2/catch.hpp>

#include "figure/ruled_picture.h"
#include "figure/paint.h"
#include "figure/picture_figure.h"
#include "lesson/difficulty.h"
#include "support/figures.h"
#include "support/folders.h"

using namespace linefall;

namespace {

VariantTruth truthOf(double truth, double tolerance, double nearest = 9.0) {
    VariantTruth one;
    one.part = "height";
    one.truth.value = truth;
    one.tolerance.value = tolerance;
    one.nearest_wrong = "half";
    one.nearest_off = nearest;
    return one;
}

}  // namespace

TEST_CASE("a variant whose readings must be twice as fine stands out as harder") {
    const auto all = difficultiesOf({{truthOf(10, 1)}, {truthOf(10, 1)}, {truthOf(20, 1)}, {truthOf(-5, 1)}, {truthOf(12, 1, 1.5)}}, {1, 2, 3, 4, 5});
    REQUIRE(all.size() == 5);
    CHECK(all[0].difficulty == Approx(1.0));
    CHECK(all[0].remarks.empty());
    CHECK(all[2].difficulty == Approx(2.0));
    REQUIRE(all[2].remarks.size() == 1);
    CHECK(all[2].remarks[0] == "harder than the rest: its readings must be 2.0 times as fine");
    CHECK(all[3].remarks[0] == "easier than the rest: its readings may be 2.0 times as coarse");
    CHECK(all[4].remarks[0] == "the mistake half (height) lies only 1.5 tolerances from the truth");
}

TEST_CASE("the difficulty of several numbers is their geometric mean, and a variant without any is as hard as the rest") {
    const auto all = difficultiesOf({{truthOf(8, 2), truthOf(9, 1)}, {truthOf(6, 1)}}, {1, 2});
    CHECK(all[0].fineness == Approx(6.0));
    CHECK(all[0].difficulty == Approx(1.0));
    CHECK(difficultiesOf({{}}, {1}).front().difficulty == 1.0);
}

TEST_CASE("the contact sheet has a numbered tile of the picture for each variant") {
    const Lesson lesson = readLesson(testsFolder() + "/lesson/tower");
    const std::vector<Tile> tiles = variantTiles(lesson, "", 2);
    REQUIRE(tiles.size() == 4);
    CHECK(tiles[2].dropped);
    CHECK(tiles[1].captions == std::vector<std::string>{"tower 60 m", "high 55 deg"});
    CHECK(tiles[0].picture.columns == 260);
    CHECK(tiles[0].picture.values != tiles[1].picture.values);
    const Type type;
    const Drawing drawing = contactSheet(lesson, "", tiles, type);
    CHECK(drawing.width < 1100.0);
    int pictures = 0;
    for (const Mark& mark : drawing.marks) pictures += std::holds_alternative<RasterPicture>(mark) ? 1 : 0;
    CHECK(pictures == 4);
    const std::string html = contactSheetHtml(lesson, "low", tiles);
    CHECK(test::xmlFaults(test::written(html, ".xml")) == "");
    CHECK(test::occurrences(html, "<img ") == 4);
    CHECK(html.find("3 (dropped)") != std::string::npos);
}

TEST_CASE("rulers have numbers where there is room for them") {
    CHECK(rulerStep(2.0) == RulerStep{20, 5});
    CHECK(rulerStep(1.0) == RulerStep{50, 10});
    CHECK(rulerStep(0.34) == RulerStep{100, 20});
    CHECK(rulerStep(0.2) == RulerStep{200, 50});
}

TEST_CASE("a ruler on paper points at the very pixel that it counts") {
    const Lesson lesson = readLesson(testsFolder() + "/lesson/tower");
    Truths truths(lesson, 0, 2);
    const Formation& formation = truths.formation("high", 0);
    const Type type;
    const Figure figure = ruledPicture(truths.scene("high"), formation, 0, type);
    RasterPicture raster;
    std::map<std::string, double> across;  // where the ruler's numbers stand above the picture
    for (const Mark& mark : figure.drawing.marks) {
        if (const auto* r = std::get_if<RasterPicture>(&mark)) raster = *r;
    }
    for (const Mark& mark : figure.drawing.marks) {
        const auto* w = std::get_if<Words>(&mark);
        if (w != nullptr && w->at.y < raster.y) across[w->text] = w->at.x;
    }
    const Image& image = formation.image();
    const PictureLook look = lookOf(image, truths.scene("high").showSettings().bands, stretchOf(truths.scene("high").showSettings()));
    const Pixels shown = displayPixels(image, look, formation.lines(), false), page = painted(figure.drawing, ruled_paint_scale, type);
    REQUIRE(across.count("120") == 1);
    REQUIRE(across.count("140") == 1);
    const double cell = (across.at("140") - across.at("120")) / 20.0;
    CHECK(cell == Approx(raster.width / formation.samples()));
    int differ = 0;
    for (int s = 120; s < 140; ++s) {
        for (int l = 0; l < formation.lines(); ++l) {
            const int x = static_cast<int>(ruled_paint_scale * (across.at("120") + (s - 120 + 0.5) * cell)), y = static_cast<int>(ruled_paint_scale * (raster.y + (l + 0.5) * cell));
            differ += page.values[page.at(x, y)] != shown.values[shown.at(s, l)] ? 1 : 0;
        }
    }
    CHECK(differ == 0);
}
