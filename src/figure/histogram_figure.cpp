#include "figure/histogram_figure.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figure/captions.h"
#include "figure/page.h"
#include "figure/path_figure.h"
#include "flight/picture_look.h"
#include "measure/histogram.h"
#include "measure/stretch_curve.h"

namespace linefall {

namespace {

constexpr double histogram_width = 840.0, band_height = 128.0;

/// The channels of the screen that a band drives: "red", "red, green and blue".
std::string drives(const BandChoice& choice, int band) {
    if (choice.grey()) return choice.red == band ? "grey" : "";
    std::string out;
    const std::pair<int, const char*> channels[] = {{choice.red, "red"}, {choice.green, "green"}, {choice.blue, "blue"}};
    for (const auto& channel : channels) {
        if (channel.first == band) out += (out.empty() ? "" : " and ") + std::string(channel.second);
    }
    return out;
}

void bars(Page& page, const Plot& plot, const Bins& bins, const Stroke& stroke) {
    std::vector<Vec2> outline{plot.at(bins.low, 0.0)};
    for (std::size_t i = 0; i < bins.values.size(); ++i) {
        const double count = bins.low + bins.width * static_cast<double>(i), height = static_cast<double>(bins.values[i]);
        outline.push_back(plot.at(count, height));
        outline.push_back(plot.at(count + bins.width, height));
    }
    outline.push_back(plot.at(bins.low + bins.width * static_cast<double>(bins.values.size()), 0.0));
    page.drawing.area(outline, stroke.ink.faded(0.35));
    outline.erase(outline.begin());
    outline.pop_back();
    page.drawing.lines(outline, {stroke.ink, 1.2});
}

}  // namespace

Figure histogramFigure(const Scene& scene, Formations& formations, int instrument, const FigureRequest& request, const Type& type) {
    Formation& formation = *formations.at(static_cast<std::size_t>(instrument));
    const Image& image = formation.image();
    const int shown = fallenLines(scene, formation);
    const ShowSettings show = scene.showSettings();
    const Stretch stretch = stretchOf(show);
    const PictureLook look = lookOf(image, show.bands, stretch);
    const std::string name = instrumentName(scene, instrument), place = scene.place->title.empty() ? scene.place->name : scene.place->title;
    const std::vector<Stroke> strokes = bandStrokes(image.bands, request.night);
    Page page(type, request.night, histogram_width, "How often each count occurs: " + name + ", " + place, {bandWords(image.bands, look.bands) + " · " + flightWords(scene, formation), "Stretch: " + stretch.text()});

    std::string alt, statistics, csv = "count";
    std::vector<Bins> fine;
    const double most = image.most_count + 1.0;
    double high = 1.0;
    std::vector<Histogram> histograms;
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        histograms.emplace_back(image, static_cast<int>(b), 0, shown);
        high = std::max(high, histograms.back().percentile(99.0));
    }
    // Room to the right of nearly all pixels; how many lie beyond is said.
    high = std::min(most, std::ceil(high * 1.15 + 1.0));
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        const int band = static_cast<int>(b);
        const Histogram& histogram = histograms[b];
        const Bins bins = histogram.bins(160, 0.0, high);
        Plot plot{page_margin + 76.0, page.y + 20.0, histogram_width - 2.0 * page_margin - 76.0 - 76.0, band_height, 0.0, high, 0.0,
                  1.06 * static_cast<double>(std::max<std::uint64_t>(1, bins.highest()))};
        const bool last = b + 1 == image.bands.size();
        drawAxes(page, plot, last ? "counts (DN)" : "", "pixels a bar");
        page.drawing.marks.emplace_back(ClipBegin{plot.x, plot.y - 2.0, plot.width, plot.height + 4.0});
        bars(page, plot, bins, strokes[b]);
        page.drawing.marks.emplace_back(ClipEnd{});
        const std::string channel = drives(look.bands, band);
        std::string words = image.bands[b].name + ": median " + fmt::format("{:.0f}", histogram.percentile(50.0));
        if (histogram.atMost() > 0) words += ", " + shortText(static_cast<double>(histogram.atMost()) / static_cast<double>(std::max<std::uint64_t>(1, histogram.total())), Kind::ratio, 2) + " at the largest count";
        const double all = static_cast<double>(std::max<std::uint64_t>(1, histogram.total()));
        if (bins.above > 0) words += ", " + shortText(static_cast<double>(bins.above) / all, Kind::ratio, 2) + " further right";
        page.text(plot.x, plot.y - 7.0, words, Anchor::start, small_size, Weight::strong);
        if (!channel.empty()) {
            const std::size_t of = look.bands.red == band ? 0 : look.bands.green == band ? 1 : 2;
            std::vector<Vec2> curve;
            Plot codes = plot;
            codes.least_y = 0.0;
            codes.most_y = 255.0 * 1.06;
            for (const CurvePoint& point : stretchCurve(look.limits[of], look.screen_curve, image.most_count)) {
                if (point.count <= high) curve.push_back(codes.at(point.count, point.code));
            }
            if (!curve.empty()) curve.push_back({plot.x + plot.width, curve.back().y});
            page.drawing.marks.emplace_back(ClipBegin{plot.x, plot.y - 2.0, plot.width, plot.height + 4.0});
            page.drawing.lines(curve, {page.colours.ink, 1.6, {5.0, 3.0}, page.colours.paper.faded(0.8), 1.2});
            page.drawing.marks.emplace_back(ClipEnd{});
            drawAxes(page, codes, "", "code on the screen", true);
            page.quiet(plot.x + plot.width, plot.y - 7.0, "dashed: counts " + axisNumber(look.limits[of].low, 1.0) + " to " + axisNumber(look.limits[of].high, 1.0) + " as " + channel + " 0 to 255", Anchor::end);
        } else {
            page.quiet(plot.x + plot.width, plot.y - 7.0, "not shown in the picture", Anchor::end);
        }
        page.y = plot.y + band_height + (last ? 44.0 : 32.0);
        csv += "," + csvField(image.bands[b].name);
        fine.push_back(histogram.bins(image.most_count + 1, 0.0, most));
        statistics += (b == 0 ? "" : "; ") + image.bands[b].name + " from " + fmt::format("{:.0f}", histogram.least()) + " to " + fmt::format("{:.0f}", histogram.most()) + " with median " + fmt::format("{:.0f}", histogram.percentile(50.0));
    }
    page.foot();
    csv += "\n";
    for (int count = 0; count <= image.most_count; ++count) {
        csv += std::to_string(count);
        for (const Bins& bins : fine) csv += "," + std::to_string(bins.values.at(static_cast<std::size_t>(count)));
        csv += "\n";
    }
    page.drawing.description = "One histogram a band of the picture of " + name + " over " + place + ", counts from 0 on the left. Counts run: " + statistics +
                               ". A dashed curve over each band that is shown gives the code that each count is shown with.";
    const std::string caption = "Histograms of the " + std::to_string(shown) + " lines by " + std::to_string(image.samples()) + " samples of " + name + " over " + place + ", from " + flightWords(scene, formation) +
                                "; " + sunWords(formation.weather(0).sun) + ". The dashed curve is the stretch: " + stretch.text() + "; shown: " + bandWords(image.bands, look.bands) +
                                ". The CSV file holds the number of pixels at every count. " + closingWords(scene);
    return {"histogram-" + fileStems(scene).at(static_cast<std::size_t>(instrument)), FigureKind::histogram, std::move(page.drawing), caption, csv};
}

}  // namespace linefall
