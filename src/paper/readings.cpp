#include "paper/readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "lesson/prose.h"
#include "measure/area_statistics.h"
#include "measure/picture_place.h"
#include "measure/plane_fit.h"

namespace linefall {

namespace {

/// Pixels to a side of what a measure reads.
int sizeOf(const LessonMeasure& measure, const std::string& scene, Truths& truths) {
    if (measure.of == "count") return 1;
    return std::max(1, static_cast<int>(std::lround(truths.evaluate(measure.size, scene).value)));
}

bool inside(const Square& square, const Formation& formation) {
    const int half = (square.size - 1) / 2;
    return square.sample >= half && square.line >= half && square.sample + half < formation.samples() && square.line + half < formation.lines();
}

bool apart(const Square& a, const Square& b) { return std::max(std::abs(a.sample - b.sample), std::abs(a.line - b.line)) >= (a.size + b.size) / 2; }

std::string valueText(double value, Scale scale, bool is_mean) {
    if (scale == Scale::reflectance) return fmt::format("{:.2f}", 100.0 * value);
    if (scale == Scale::radiance) return fmt::format("{:.4g}", value);
    return is_mean ? fmt::format("{:.1f}", value) : fmt::format("{:.{}f}", value, value < 10.0 ? 3 : 1);
}

std::string unitText(Scale scale, const AreaStatistics& statistics) { return scale == Scale::reflectance ? "%" : scale == Scale::counts ? "counts" : statistics.unit; }

std::string table(Truths& truths, const ReadingColumns& columns, const std::string& figure, std::size_t number) {
    Formation& formation = truths.formation(columns.picture.scene, columns.picture.instrument);
    const std::vector<Square> squares = squaresOf(truths, columns.picture);
    const std::vector<Band>& bands = formation.image().bands;
    const bool one_size = std::all_of(squares.begin(), squares.end(), [&](const Square& s) { return s.size == squares.front().size; });
    const bool single = one_size && squares.front().size == 1;
    std::string rows, unit;
    for (const Square& square : squares) {
        if (square.size < 3 && (columns.spread || columns.residual)) continue;
        const Region region = squareRound({square.sample, square.line}, square.size);
        const AreaStatistics read = areaStatistics(formation, region, columns.scale);
        if (read.pixels == 0) continue;
        unit = unitText(columns.scale, read);
        rows += fmt::format("<tr><td class=\"figure\">{}.5</td><td class=\"figure\">{}.5</td>", square.sample, square.line);
        if (!one_size) rows += fmt::format("<td class=\"figure\">{0} x {0}</td>", square.size);
        const auto cell = [&](double value, bool is_mean) { rows += "<td class=\"figure\">" + valueText(value, columns.scale, is_mean) + "</td>"; };
        if (columns.mean) for (const BandStatistics& band : read.bands) cell(band.mean, true);
        if (columns.spread) for (const BandStatistics& band : read.bands) cell(band.standard_deviation, false);
        if (columns.residual) for (std::size_t b = 0; b < bands.size(); ++b) cell(planeFit(formation, region, static_cast<int>(b), columns.scale).residual, false);
        rows += "</tr>\n";
    }
    std::string head = "<th class=\"figure\">sample</th><th class=\"figure\">line</th>";
    const auto each = [&](const std::string& name) {
        for (const Band& band : bands) head += "<th class=\"figure\">" + name + escapedHtml(band.name) + "</th>";
    };
    if (!one_size) head += "<th class=\"figure\">pixels</th>";
    if (columns.mean) each(single ? "" : "mean<br/>");
    if (columns.spread) each("spread<br/>");
    if (columns.residual) each("spread about<br/>an even slope<br/>");
    const std::string what = single ? "Single pixels by their place" : one_size ? fmt::format("Squares of {0} by {0} pixels by the place of their middle", squares.front().size) : std::string("Squares of pixels by the place of their middle");
    return "<table class=\"readings\">\n<caption><b>Table " + std::to_string(number) + ". Readings in " + figure + ", in " + unit + ".</b> " + what +
           " on the rulers, as the program reads them. Some lie on what you want to measure, some do not: find out which.</caption>\n<thead><tr>" + head + "</tr></thead>\n<tbody>\n" + rows + "</tbody>\n</table>\n";
}

}  // namespace

std::vector<Square> squaresOf(Truths& truths, const NeededPicture& picture) {
    const Formation& formation = truths.formation(picture.scene, picture.instrument);
    std::vector<Square> squares;
    const auto add = [&](const Square& square) {
        if (inside(square, formation) && std::find(squares.begin(), squares.end(), square) == squares.end()) squares.push_back(square);
    };
    std::map<int, int> sizes;  // how many measures read squares of a size
    for (const LessonMeasure& measure : truths.lesson().measures) {
        if (!readsAreas(measure) || measure.instrument != picture.instrument) continue;
        if (!measure.scene.empty() && truths.lesson().findScene(measure.scene)->name != picture.scene) continue;
        try {
            const PixelIndex middle = pixelAt(formation, truths.place(measure.points.at(0), picture.scene, picture.instrument));
            const int size = sizeOf(measure, picture.scene, truths);
            add({middle.sample, middle.line, size});
            ++sizes[size];
        } catch (const InputError&) {
            if (!measure.scene.empty()) throw;
            continue;  // a measure without a scene of its own, whose place this picture does not show
        }
    }
    if (squares.empty()) return squares;
    const std::size_t wanted = squares.size();
    const int usual = std::max_element(sizes.begin(), sizes.end(), [](const auto& a, const auto& b) { return a.second < b.second; })->first;
    // Others: four towards the corners and the middle, none where it touches a wanted one.
    for (const auto& [across, down] : {std::pair{0.2, 0.2}, {0.8, 0.2}, {0.5, 0.5}, {0.2, 0.8}, {0.8, 0.8}}) {
        const Square other{static_cast<int>(across * formation.samples()), static_cast<int>(down * formation.lines()), usual};
        if (std::all_of(squares.begin(), squares.begin() + static_cast<std::ptrdiff_t>(wanted), [&](const Square& square) { return apart(square, other); })) add(other);
    }
    std::sort(squares.begin(), squares.end(), [](const Square& a, const Square& b) { return a.line != b.line ? a.line < b.line : a.sample < b.sample; });
    return squares;
}

bool ReadingColumns::covers(const ReadingColumns& other) const {
    return picture == other.picture && scale == other.scale && (mean || !other.mean) && (spread || !other.spread) && (residual || !other.residual);
}

std::string Readings::html(const Step& step, const std::function<std::string(const NeededPicture&)>& figure_of) {
    std::vector<ReadingColumns> wanted;
    for (const NeededMeasure& reading : measuresOf(truths_.lesson(), step)) {
        if (!readsAreas(*reading.measure)) continue;
        const NeededPicture picture{reading.scene, reading.measure->instrument};
        const Scale scale = scaleOf(*reading.measure);
        auto found = std::find_if(wanted.begin(), wanted.end(), [&](const ReadingColumns& c) { return c.picture == picture && c.scale == scale; });
        if (found == wanted.end()) found = wanted.insert(wanted.end(), ReadingColumns{picture, scale});
        (reading.measure->of == "spread" ? found->spread : reading.measure->of == "residual" ? found->residual : found->mean) = true;
    }
    std::string out, before;
    for (const ReadingColumns& columns : wanted) {
        const auto stands = std::find_if(printed_.begin(), printed_.end(), [&](const ReadingColumns& p) { return p.covers(columns); });
        if (stands != printed_.end()) {
            before += (before.empty() ? "" : ", ") + std::to_string(stands - printed_.begin() + 1);
            continue;
        }
        printed_.push_back(columns);
        out += table(truths_, columns, figure_of(columns.picture), printed_.size());
    }
    if (!before.empty()) out = "<p class=\"small\">Readings for this step stand in table " + before + ".</p>\n" + out;
    return out;
}

}  // namespace linefall
