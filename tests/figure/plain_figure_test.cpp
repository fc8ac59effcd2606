// The picture alone: what it must not give away, and what it says in its place.

#include "figure/plain_figure.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>

#include "figure/svg.h"
#include "support/figures.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Figure plainOf(const Sets& more) {
    const Scene scene = sceneOf("slopes", "push-broom", Sets{"flight.length=300 m", "instrument.samples=90", "figure.what=picture", "figure.plain=true"} + more);
    Formations formations;
    formations.push_back(std::make_unique<Formation>(scene, 0));
    const std::vector<Figure> figures = makeFigures(scene, formations, figureRequest(scene, formations), Type{});
    REQUIRE(figures.size() == 1);
    return figures[0];
}

}  // namespace

TEST_CASE("a plain picture tells neither sun nor flight") {
    const Figure figure = plainOf({"sun.azimuth=217 deg", "sun.elevation=41 deg", "flight.height=2345 m", "flight.speed=83 m/s"});
    for (const std::string& words : {svgText(figure.drawing), figure.caption, figure.drawing.description}) {
        for (const char* told : {"217", "41\xC2\xB0", "2345", "2.34", "2.35", "83 m/s", "sunlight", "north", "from below"}) {
            INFO(told);
            CHECK(words.find(told) == std::string::npos);
        }
    }
    CHECK(figure.drawing.description.find("90 samples") != std::string::npos);
}

TEST_CASE("brightness on a grid is the mean of each part, from the top") {
    const Pixels pixels{4, 2, 1, {0, 0, 255, 255, 51, 51, 0, 102}};
    CHECK(brightnessOnGrid(pixels, 2) == std::vector<std::vector<int>>{{0, 100}, {20, 20}});
    CHECK(brightnessOnGrid(pixels, 9).size() == 2);
}

TEST_CASE("a turned plain picture gives its brightness turned") {
    const std::string up = plainOf({"show.turned=false"}).drawing.description, turned = plainOf({"show.turned=true"}).drawing.description;
    const auto numbers = [](const std::string& words) {
        std::vector<std::string> all;
        std::string one;
        for (const char c : words.substr(words.rfind(':') + 1)) {
            if (c >= '0' && c <= '9') one += c;
            else if (!one.empty()) all.push_back(one), one.clear();
        }
        return all;
    };
    std::vector<std::string> back = numbers(turned);
    REQUIRE(back.size() == 25);
    std::reverse(back.begin(), back.end());
    // Cells have sizes that differ by one pixel at most, and not the same ones when turned.
    const std::vector<std::string> front = numbers(up);
    for (std::size_t i = 0; i < front.size(); ++i) CHECK(std::abs(std::stoi(front[i]) - std::stoi(back[i])) <= 3);
}
