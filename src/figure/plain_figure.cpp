#include "figure/plain_figure.h"

#include <algorithm>
#include <cmath>

#include "figure/captions.h"
#include "figure/page.h"
#include "figure/picture_figure.h"

namespace linefall {

namespace {

/// Numbers of samples along the top and of lines down the left side, each at its pixel's centre.
void rulers(Page& page, int samples, int lines, double cell, bool turned, double x, double y) {
    const auto ruler = [&](int count, bool across) {
        const double step = std::max(1.0, niceStep(count, std::max(2, static_cast<int>(count * cell / 70.0))));
        for (int i = 0; i < count; i += static_cast<int>(step)) {
            const double at = (turned ? count - i - 0.5 : i + 0.5) * cell;
            const Vec2 from = across ? Vec2{x + at, y} : Vec2{x, y + at};
            page.drawing.line(from, from + (across ? Vec2{0.0, -5.0} : Vec2{-5.0, 0.0}), page.hair());
            page.text(from.x + (across ? 0.0 : -8.0), from.y + (across ? -9.0 : 4.0), std::to_string(i), across ? Anchor::middle : Anchor::end);
        }
    };
    ruler(samples, true);
    ruler(lines, false);
    page.quiet(x, y - 28.0, "sample");
    page.drawing.words({{x - 46.0, y}, "line", small_size, page.colours.quiet, Weight::regular, Anchor::end, true});
}

}  // namespace

std::vector<std::vector<int>> brightnessOnGrid(const Pixels& pixels, int cells) {
    const int across = std::min(cells, pixels.columns), down = std::min(cells, pixels.rows);
    std::vector<std::vector<int>> grid(static_cast<std::size_t>(down), std::vector<int>(static_cast<std::size_t>(across)));
    for (int row = 0; row < down; ++row) {
        for (int column = 0; column < across; ++column) {
            double sum = 0.0;
            long count = 0;
            for (int y = row * pixels.rows / down; y < (row + 1) * pixels.rows / down; ++y) {
                for (int x = column * pixels.columns / across; x < (column + 1) * pixels.columns / across; ++x) {
                    for (int c = 0; c < pixels.channels; ++c) sum += pixels.values[pixels.at(x, y) + static_cast<std::size_t>(c)];
                    count += pixels.channels;
                }
            }
            grid[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)] = static_cast<int>(std::lround(sum / static_cast<double>(count) / 2.55));
        }
    }
    return grid;
}

Figure plainFigure(const Scene& scene, Formations& formations, int instrument, const Type& type, bool night) {
    const Formation& formation = *formations.at(static_cast<std::size_t>(instrument));
    const Image& image = formation.image();
    const int lines = formation.lines();
    const ShowSettings show = scene.showSettings();
    const PictureLook look = lookOf(image, show.bands, stretchOf(show));
    const double cell = pictureCell(formation.samples(), lines).size();
    const std::string place = scene.place->title.empty() ? scene.place->name : scene.place->title;
    constexpr double left = 76.0;
    const double width = std::max(420.0, left + std::ceil(formation.samples() * cell) + page_margin);
    Page page(type, night, width, place, {"Shown: " + bandWords(image.bands, look.bands)});
    const double y = std::ceil(page.y) + 34.0;
    const Pixels pixels = displayPixels(image, look, lines, show.turned);
    page.drawing.marks.emplace_back(RasterPicture{left, y, formation.samples() * cell, lines * cell, {std::make_shared<const Pixels>(pixels)}});
    rulers(page, formation.samples(), lines, cell, show.turned, left, y);
    page.y = y + std::ceil(lines * cell);
    page.foot();

    std::string words = std::string(look.bands.grey() ? "A grey picture of " : "A colour picture of ") + std::to_string(formation.samples()) + " samples by " + std::to_string(lines) + " lines over " + place +
                        (show.turned ? ", turned by half a turn: line 0 is at the foot and sample 0 on the right" : ": line 0 is at the top and sample 0 on the left") +
                        ". Brightness from 0, black, to 100, white, in five rows from the top, each from the left:";
    for (const std::vector<int>& row : brightnessOnGrid(pixels, 5)) {
        words += words.back() == ':' ? "" : ";";
        for (const int value : row) words += " " + std::to_string(value);
    }
    page.drawing.description = words + ".";
    return {"picture-" + fileStems(scene).at(static_cast<std::size_t>(instrument)), FigureKind::picture, std::move(page.drawing),
            place + ", shown: " + bandWords(image.bands, look.bands) + ". How it was flown is not said. " + closingWords(scene), ""};
}

}  // namespace linefall
