// Figures with data: histogram, profile, light path. Their numbers are those of the image and of the trace.

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <sstream>

#include "figure/histogram_figure.h"
#include "figure/path_figure.h"
#include "figure/profile_figure.h"
#include "figure/svg.h"
#include "flight/light_stops.h"
#include "support/figures.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// Comma-separated text as rows of cells (RFC 4180), read without the program's own code.
std::vector<std::vector<std::string>> tableOf(const std::string& csv) {
    std::vector<std::vector<std::string>> rows;
    std::vector<std::string> row(1);
    bool quoted = false;
    for (std::size_t i = 0; i < csv.size(); ++i) {
        const char c = csv[i];
        if (quoted && c == '"' && i + 1 < csv.size() && csv[i + 1] == '"') row.back() += csv[++i];
        else if (c == '"') quoted = !quoted;
        else if (c == ',' && !quoted) row.emplace_back();
        else if (c == '\n' && !quoted) {
            rows.push_back(row);
            row.assign(1, "");
        } else row.back() += c;
    }
    CHECK_FALSE(quoted);
    CHECK(row == std::vector<std::string>{""});  // the last line has its end
    return rows;
}

std::size_t columnOf(const std::vector<std::string>& header, const std::string& name) {
    const auto found = std::find(header.begin(), header.end(), name);
    if (found == header.end()) throw std::logic_error("no column " + name);
    return static_cast<std::size_t>(found - header.begin());
}

Figure only(const Scene& scene, Formations& formations, const FigureRequest& request) {
    const Type type;
    const std::vector<Figure> figures = makeFigures(scene, formations, request, type);
    REQUIRE(figures.size() == 1);
    CHECK(xmlFaults(written(svgText(figures[0].drawing), ".svg")) == "");
    for (const char* words : {"Simulated", "invented", "sun at azimuth", "above datum"}) CHECK(figures[0].caption.find(words) != std::string::npos);
    CHECK(figures[0].drawing.description.size() > 80);
    return figures[0];
}

}  // namespace

TEST_CASE("a histogram's data is how often each count stands in the image") {
    const Scene scene = sceneOf("slopes", "push-broom", {"flight.length=400 m", "instrument.samples=120", "instrument.bits=8"});
    Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::histogram};
    const Figure figure = only(scene, formations, request);
    const Image& image = formations[0]->image();
    const std::vector<std::vector<std::string>> rows = tableOf(figure.csv);
    REQUIRE(rows.size() == 257);
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        const std::size_t column = columnOf(rows[0], image.bands[b].name);
        std::vector<int> often(256, 0);
        for (const std::uint16_t count : image.counts[b].values()) ++often[count];
        int wrong = 0;
        for (std::size_t count = 0; count < 256; ++count) {
            CHECK(rows[count + 1][0] == std::to_string(count));
            wrong += rows[count + 1][column] != std::to_string(often[count]) ? 1 : 0;
        }
        CHECK(wrong == 0);
    }
    const std::string svg = svgText(figure.drawing);
    for (const char* words : {"counts (DN)", "code on the screen", "not shown in the picture", "infrared: median"}) CHECK(svg.find(words) != std::string::npos);
}

TEST_CASE("a profile's data is the image along the line") {
    const Scene scene = sceneOf("hill-and-hollow", "push-broom", {"flight.length=800 m", "instrument.samples=150"});
    Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::profile};
    request.from = ShownPixel{0, 3, 140};
    request.to = ShownPixel{0, 40, 10};
    const Figure figure = only(scene, formations, request);
    const Image& image = formations[0]->image();
    const std::vector<std::vector<std::string>> rows = tableOf(figure.csv);
    REQUIRE(rows.size() > 130);
    const std::size_t line = columnOf(rows[0], "line"), sample = columnOf(rows[0], "sample");
    CHECK(rows[1][line] == "3");
    CHECK(rows[1][sample] == "140");
    CHECK(rows.back()[line] == "40");
    CHECK(rows.back()[sample] == "10");
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        std::size_t column = 0;
        while (column < rows[0].size() && rows[0][column].find(image.bands[b].name) == std::string::npos) ++column;
        REQUIRE(column < rows[0].size());
        int wrong = 0;
        for (std::size_t i = 1; i < rows.size(); ++i) {
            const int s = std::atoi(rows[i][sample].c_str()), l = std::atoi(rows[i][line].c_str());
            wrong += std::atof(rows[i][column].c_str()) != image.counts[b].at(s, l) ? 1 : 0;
            // On the straight line between the two pixels, to half a pixel.
            CHECK(std::abs((l - 3) * (10 - 140) - (s - 140) * (40 - 3)) <= 0.75 * std::hypot(130.0, 37.0));
        }
        CHECK(wrong == 0);
    }
    request.quantity = Scale::reflectance;
    const Figure share = only(scene, formations, request);
    CHECK(share.csv != figure.csv);
    CHECK(share.caption.find("reflectance at the top of the air") != std::string::npos);
}

TEST_CASE("the light path's data is the whole trace, and its strip the telling numbers") {
    const Scene scene = sceneOf("slopes", "whisk-broom", {"flight.length=300 m", "instrument.ifov=10 mrad", "quality.contributions=3"});
    Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::path};
    request.pixel = ShownPixel{0, 4, 33};
    const Figure figure = only(scene, formations, request);
    const Why why = formations[0]->why(4, 33);
    const std::vector<std::vector<std::string>> rows = tableOf(figure.csv);
    REQUIRE(rows.size() == why.trace.rows().size() + 1);
    int wrong = 0;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        const TraceRow& row = why.trace.rows()[i - 1];
        REQUIRE(rows[i].size() == 7);
        wrong += rows[i][0] != row.stage || rows[i][1] != row.symbol || rows[i][2] != row.meaning || std::strtod(rows[i][3].c_str(), nullptr) != row.value || rows[i][4] != row.unit ? 1 : 0;
        if (row.band >= 0) wrong += rows[i][5] != formations[0]->instrument().bands()[static_cast<std::size_t>(row.band)].name ? 1 : 0;
    }
    CHECK(wrong == 0);
    const std::string svg = svgText(figure.drawing);
    const BandChoice choice = chooseBands(formations[0]->instrument().bands(), "true colour");
    for (int stop = 0; stop < stop_count; ++stop) {
        const std::string number = tellingOf(stop, why, formations[0]->instrument().bands(), choice).number;
        INFO(number);
        CHECK(svg.find(">" + xmlText(number) + "</text>") != std::string::npos);
        CHECK(svg.find(">" + std::string(lightStops()[static_cast<std::size_t>(stop)].name) + "</text>") != std::string::npos);
        CHECK(figure.drawing.description.find(number) != std::string::npos);
    }
}

TEST_CASE("a pixel of the sky has a light path that says so") {
    const Scene scene = sceneOf("slopes", "whisk-broom", {"flight.length=300 m", "instrument.ifov=20 mrad", "instrument.fov=100 deg", "flight.roll=45 deg", "flight.height=2 km"});
    Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::path};
    request.pixel = ShownPixel{0, 2, 30};
    bool sky = false;
    for (int s = 0; s < formations[0]->samples() && !sky; ++s) {
        request.pixel->sample = s;
        sky = formations[0]->why(2, s).hit.meets == Meets::sky;
    }
    REQUIRE(sky);
    CHECK(svgText(only(scene, formations, request).drawing).find("past the ground into the sky") != std::string::npos);
}

TEST_CASE("cells with commas and quotes are quoted") {
    CHECK(csvField("plain") == "plain");
    CHECK(csvField("air, down") == "\"air, down\"");
    CHECK(csvField("a \"b\"") == "\"a \"\"b\"\"\"");
}
