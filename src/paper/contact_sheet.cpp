#include "paper/contact_sheet.h"

#include <algorithm>
#include <cmath>

#include "figure/palette.h"
#include "figure/picture_figure.h"
#include "figure/svg.h"
#include "lesson/difficulty.h"
#include "lesson/truth.h"
#include "lesson/variant.h"
#include "paper/sheet.h"
#include "scene/png_file.h"

namespace linefall {

namespace {

/// Enough to recognise what is shown; averaged down from larger pictures when it is painted.
constexpr double tile_width = 230.0, tile_gap = 20.0, tile_line = 17.0;
constexpr int tiles_a_row = 4;

std::string numberWords(const Tile& tile) { return std::to_string(tile.variant) + (tile.dropped ? " (dropped)" : ""); }

double pictureHeight(const Tile& tile) { return std::min(300.0, std::round(tile_width * tile.picture.rows / std::max(1, tile.picture.columns))); }

}  // namespace

std::vector<Tile> variantTiles(const Lesson& lesson, const std::string& scene, int threads, const std::function<void(int)>& progress) {
    std::vector<Tile> tiles;
    std::vector<std::vector<VariantTruth>> truths;
    std::vector<int> numbers;
    for (int variant = 0; variant < std::max(1, lesson.variants.count()); ++variant) {
        Truths one(lesson, variant, threads);
        Tile tile;
        tile.variant = variant + 1;
        tile.dropped = lesson.variants.dropped(variant);
        const Formation& formation = one.formation(scene, 0);
        const ShowSettings show = one.scene(scene).showSettings();
        tile.picture = displayPixels(formation.image(), lookOf(formation.image(), show.bands, stretchOf(show)), formation.lines(), show.turned);
        for (const std::string& name : lesson.variants.given) tile.captions.push_back(name + " " + *givenText(lesson, variant, name));
        truths.push_back(variantTruths(one));
        numbers.push_back(variant + 1);
        tiles.push_back(std::move(tile));
        if (progress) progress(variant + 1);
    }
    for (const VariantDifficulty& one : difficultiesOf(truths, numbers)) {
        Tile& tile = tiles[static_cast<std::size_t>(one.variant - 1)];
        tile.flagged = !one.remarks.empty();
        for (const std::string& remark : one.remarks) tile.remark += (tile.remark.empty() ? "" : "; ") + remark;
    }
    return tiles;
}

Drawing contactSheet(const Lesson& lesson, const std::string& scene, const std::vector<Tile>& tiles, const Type& type) {
    const PagePalette c = pagePalette(false);
    const int columns = std::max(1, std::min<int>(tiles_a_row, static_cast<int>(tiles.size())));
    Drawing drawing;
    drawing.ground = Ink::hex(0xFFFFFF);
    drawing.width = tile_gap + columns * (tile_width + tile_gap);
    drawing.title = "Variants of " + lesson.title;
    drawing.description = "A contact sheet: the picture of scene " + lesson.findScene(scene)->name + " in " + std::to_string(tiles.size()) + " variants, each with its number and its given values.";
    double y = 40.0;
    drawing.words({{tile_gap, y}, type.fitted(drawing.title + ", scene " + lesson.findScene(scene)->name, 22.0, Weight::strong, drawing.width - 2.0 * tile_gap), 22.0, c.ink, Weight::strong});
    y += 22.0;
    for (std::size_t first = 0; first < tiles.size(); first += static_cast<std::size_t>(columns)) {
        double tall = 0.0;
        for (std::size_t i = first; i < std::min(tiles.size(), first + static_cast<std::size_t>(columns)); ++i) {
            const Tile& tile = tiles[i];
            const double x = tile_gap + static_cast<double>(i - first) * (tile_width + tile_gap), height = pictureHeight(tile);
            const double width = std::min(tile_width, std::round(height * tile.picture.columns / std::max(1, tile.picture.rows)));
            drawing.marks.emplace_back(RasterPicture{x, y, width, height, {std::make_shared<const Pixels>(tile.picture)}});
            drawing.frame(x, y, width, height, {tile.flagged ? c.wrong : c.control, tile.flagged ? 3.0 : 1.0});
            double below = y + height + tile_line;
            drawing.words({{x, below}, numberWords(tile), 15.0, c.ink, Weight::strong});
            std::string captions;
            for (const std::string& caption : tile.captions) captions += (captions.empty() ? "" : ", ") + caption;
            for (const std::string& line : type.wrapped(captions, 12.0, Weight::regular, tile_width)) drawing.words({{x, below += 15.0}, line, 12.0, c.quiet});
            if (tile.flagged) {
                for (const std::string& line : type.wrapped("stands out: " + tile.remark, 12.0, Weight::regular, tile_width)) drawing.words({{x, below += 15.0}, line, 12.0, c.wrong});
            }
            tall = std::max(tall, below - y);
        }
        y += tall + tile_gap;
    }
    for (const std::string& line : type.wrapped(difficultyWords(), 12.0, Weight::regular, drawing.width - 2.0 * tile_gap)) drawing.words({{tile_gap, y += 16.0}, line, 12.0, c.quiet});
    drawing.height = std::ceil(y + tile_gap);
    return drawing;
}

std::string contactSheetHtml(const Lesson& lesson, const std::string& scene, const std::vector<Tile>& tiles) {
    const std::string name = lesson.findScene(scene)->name;
    std::string out = "<h1>Variants of " + escapedHtml(lesson.title) + "</h1>\n<p class=\"small\">Scene " + escapedHtml(name) + "; lesson " + escapedHtml(lesson.id) + ", version " + std::to_string(lesson.version) + ", " + lesson.fingerprint + ". " +
                      escapedHtml(difficultyWords()) + "</p>\n<div class=\"tiles\">\n";
    for (const Tile& tile : tiles) {
        std::string captions;
        for (const std::string& caption : tile.captions) captions += (captions.empty() ? "" : ", ") + caption;
        out += "<figure class=\"tile\"><img src=\"data:image/png;base64," + base64(pngBytes(tile.picture.columns, tile.picture.rows, tile.picture.channels, tile.picture.values)) + "\" alt=\"" +
               escapedHtml("Picture of variant " + numberWords(tile) + ": " + captions) + "\"/><figcaption><b>" + numberWords(tile) + "</b> " + escapedHtml(captions) +
               (tile.flagged ? " <span class=\"flag\">Stands out: " + escapedHtml(tile.remark) + ".</span>" : "") + "</figcaption></figure>\n";
    }
    return sheetDocument("Variants of " + lesson.title, "Variants of " + lesson.title, out + "</div>\n" + cautionHtml());
}

}  // namespace linefall
