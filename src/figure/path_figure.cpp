#include "figure/path_figure.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "figure/captions.h"
#include "figure/page.h"
#include "flight/light_stops.h"
#include "flight/picture_look.h"
#include "flight/walk_text.h"

namespace linefall {

std::string csvField(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string traceCsv(const Trace& trace, const std::vector<Band>& bands) {
    std::string out = "stage,symbol,meaning,value,unit,band,contribution\n";
    for (const TraceRow& row : trace.rows()) {
        out += csvField(row.stage) + "," + csvField(row.symbol) + "," + csvField(row.meaning) + "," + fmt::format("{}", row.value) + "," + csvField(row.unit) + "," +
               (row.band < 0 ? "" : csvField(bands.at(static_cast<std::size_t>(row.band)).name)) + "," + (row.contribution < 0 ? "" : std::to_string(row.contribution)) + "\n";
    }
    return out;
}

namespace {

constexpr double path_width = 1000.0, row_height = 17.5;

/// A value as it is printed: "53°", "99 µm", "−399.9 m".
std::string asPrinted(std::string text) {
    const auto ends = [&](const std::string& end) { return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0; };
    if (const std::size_t at = text.find(" deg"); at != std::string::npos) text.replace(at, 4, "°");
    if (ends(" um")) text.replace(text.size() - 2, 2, "µm");
    if (ends(" us")) text.replace(text.size() - 2, 2, "µs");
    if (text[0] == '-' && text.size() > 1) text.replace(0, 1, "−");
    return text;
}

/// The strip of stops: light from the sun's yellow to the ink of a written number.
void strip(Page& page, const std::array<Telling, stop_count>& tellings) {
    page.y += 10.0;
    const double left = page_margin, step = (path_width - 2.0 * page_margin) / stop_count;
    const double y = page.y + 26.0;
    const PagePalette& c = page.colours;
    page.drawing.line({left + 0.5 * step, y}, {left + 7.5 * step, y}, {c.ink, 4.0});
    page.drawing.line({left + 0.5 * step, y}, {left + 2.0 * step, y}, {c.sun, 2.0});
    double deepest = 0.0;
    for (int i = 0; i < stop_count; ++i) {
        const double x = left + (i + 0.5) * step;
        page.text(x, page.y + 6.0, lightStops()[static_cast<std::size_t>(i)].name, Anchor::middle, text_size, Weight::strong);
        page.drawing.marks.emplace_back(Disc{{x, y}, 7.0, Stroke{c.ink, 2.0, {}, c.paper, 2.5}, i == 0 ? c.sun : c.paper});
        const Telling& telling = tellings[static_cast<std::size_t>(i)];
        const double size = std::min(16.0, 16.0 * (step - 8.0) / std::max(1.0, page.type.width(telling.number, 16.0, Weight::strong)));
        page.text(x, y + 30.0, telling.number, Anchor::middle, size, Weight::strong);
        double below = y + 32.0;
        for (const std::string& line : page.type.wrapped(telling.what, small_size, Weight::regular, step - 8.0)) page.quiet(x, below += 16.0, line, Anchor::middle);
        deepest = std::max(deepest, below);
    }
    page.y = deepest + 22.0;
}

/// A stop's part of the trace; returns its height.
double part(Page& page, int stop, const std::vector<WalkRow>& rows, double x, double y, double width) {
    constexpr double indent = 62.0;
    const double begin = y;
    page.text(x, y += 14.0, std::to_string(stop + 1), Anchor::start, text_size, Weight::strong);
    page.text(x + 18.0, y, lightStops()[static_cast<std::size_t>(stop)].name, Anchor::start, text_size, Weight::strong);
    page.drawing.line({x, y + 5.0}, {x + width, y + 5.0}, {page.colours.hairline, 1.0});
    y += 6.0;
    for (const WalkRow& row : rows) {
        y += row_height;
        page.symbol(x, y, row.symbol);
        page.text(x + width, y, row.result, Anchor::end);
        const std::string words = row.meaning + (row.mean.empty() ? "" : " (mean of all looks: " + row.mean + ")");
        const std::vector<std::string> meaning = page.type.wrapped(words, small_size, Weight::regular, width - indent - page.type.width(row.result, small_size) - 10.0);
        for (std::size_t i = 0; i < meaning.size(); ++i) {
            if (i > 0) y += row_height - 1.0;
            page.quiet(x + indent, y, meaning[i]);
        }
    }
    return y - begin + 14.0;
}

}  // namespace

Figure pathFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type) {
    const ShownPixel pixel = request.pixel.value();
    Formation& formation = *formations.at(static_cast<std::size_t>(pixel.instrument));
    const Why why = formation.why(pixel.line, pixel.sample);
    const std::vector<Band>& bands = formation.instrument().bands();
    const BandChoice choice = lookOf(formation.image(), scene.showSettings().bands, Stretch{}).bands;
    const int band = choice.green;
    const std::string band_name = bands.at(static_cast<std::size_t>(band)).name;
    const std::string name = instrumentName(scene, pixel.instrument), place = scene.place->title.empty() ? scene.place->name : scene.place->title;

    std::string where = "line " + std::to_string(pixel.line) + ", sample " + std::to_string(pixel.sample) + ", " + shortText(why.time_s, Kind::time, 4) + " after the flight began";
    std::string met = "it looks past the ground into the sky";
    if (why.hit.meets != Meets::sky) {
        const Material& material = scene.place->materials.at(why.hit.material);
        std::string title = material.title.empty() ? material.name : material.title;
        if (title[0] >= 'A' && title[0] <= 'Z') title[0] = static_cast<char>(title[0] - 'A' + 'a');
        met = "it meets " + title + (why.object.empty() ? "" : " of " + why.object) + (why.moving ? ", moving at " + shortText(why.moving->speed_m_s, Kind::speed, 3) : "") + ", " + shortText(why.hit.point_m.z, Kind::length, 4) + " above datum" +
              (why.sun.up() && why.sun_share <= 0.0 ? ", in shadow" : "");
    }
    Page page(type, request.night, path_width, "The light of one pixel: " + name + ", " + place, {where + "; " + met + ". Numbers of each band are those of " + band_name + "."});
    std::array<Telling, stop_count> tellings;
    for (int i = 0; i < stop_count; ++i) {
        Telling& telling = tellings[static_cast<std::size_t>(i)] = tellingOf(i, why, bands, choice);
        telling = {asPrinted(telling.number), asPrinted(telling.what), asPrinted(telling.brief)};
    }
    strip(page, tellings);

    // Two columns, filled in travel order; the second begins where half of all rows are set.
    std::array<std::vector<WalkRow>, stop_count> lines;
    for (WalkRow& row : walkRows(why, formation, band)) lines.at(static_cast<std::size_t>(row.stop)).push_back(std::move(row));
    double rows = 0.0;
    for (const std::vector<WalkRow>& some : lines) rows += static_cast<double>(some.size()) + 2.1;
    const double gap = 32.0, width = 0.5 * (path_width - 2.0 * page_margin - gap), top = page.y;
    double y = top, lowest = top, set = 0.0;
    bool second = false;
    for (int i = 0; i < stop_count; ++i) {
        const std::vector<WalkRow>& some = lines[static_cast<std::size_t>(i)];
        const double more = static_cast<double>(some.size()) + 2.1;
        if (!second && set > 0.0 && set + 0.5 * more > 0.5 * rows) {
            second = true;
            y = top;
        }
        y += part(page, i, some, second ? page_margin + width + gap : page_margin, y, width);
        set += more;
        lowest = std::max(lowest, y);
    }
    page.y = lowest;
    page.foot();

    std::string walk;
    for (int i = 0; i < stop_count; ++i) {
        const Telling& t = tellings[static_cast<std::size_t>(i)];
        walk += (i == 0 ? "" : "; ") + std::string(lightStops()[static_cast<std::size_t>(i)].name) + ": " + t.number + (t.what.empty() ? "" : " " + t.what);
    }
    page.drawing.description = "The eight stops of the light path of one pixel of " + name + " (" + where + "; " + met + "), from the sun to the count. " + walk +
                               ". Below them the numbers of each stop in a table, which the CSV file holds in full.";
    const std::string caption = "The light path of line " + std::to_string(pixel.line) + ", sample " + std::to_string(pixel.sample) + " in the picture of " + name + " over " + place + ", from " +
                                flightWords(scene, formation) + "; " + sunWords(why.sun) + "; " + met + ". Each stop shows its most telling number, in the band " + band_name +
                                " where there is one a band; the rows below are the walk that made the pixel. " + closingWords(scene);
    return {"path-" + fileStems(scene).at(static_cast<std::size_t>(pixel.instrument)), FigureKind::path, std::move(page.drawing), caption, traceCsv(why.trace, bands)};
}

}  // namespace linefall
