#include <algorithm>
#include <catch2/catch.hpp>

#include "view/picture.h"
#include "view/shader.h"
#include "view/tone.h"

namespace linefall {

namespace {

Image twoBands() {
    Image image;
    image.bands = {{"green", 0.52, 0.58, 0.0, 0.5}, {"red", 0.63, 0.69, 0.0, 0.5}};
    image.most_count = 4095;
    for (int b = 0; b < 2; ++b) image.counts.emplace_back(5, 40);
    image.sky = Raster<std::uint8_t>(5, 40);
    for (int l = 0; l < 40; ++l) {
        for (int s = 0; s < 5; ++s) image.counts[1].at(s, l) = static_cast<std::uint16_t>(100 * s + 10 * l);
    }
    return image;
}

}  // namespace

TEST_CASE("The look of a picture comes from the chosen lines alone") {
    Image image = twoBands();
    Stretch stretch;
    const std::vector<int> lines = stretchLines(40);
    const PictureLook some = lookOf(image, "red", stretch);
    const int chosen = lines[5], passed_over = chosen + 1;
    REQUIRE(std::find(lines.begin(), lines.end(), passed_over) == lines.end());
    for (int s = 0; s < 5; ++s) image.counts[1].at(s, passed_over) = 4000;
    CHECK(some == lookOf(image, "red", stretch));
    for (int s = 0; s < 5; ++s) image.counts[1].at(s, chosen) = 4000;
    CHECK_FALSE(some == lookOf(image, "red", stretch));
    CHECK(some.bands.grey());
}

TEST_CASE("A picture's row is the core's own display row, with every n-th sample") {
    const Image image = twoBands();
    const PictureLook look = lookOf(image, "red", Stretch{});
    const std::vector<std::uint8_t> expected = displayRow(image, look.bands, look.limits, look.screen_curve, 12);
    const std::vector<std::uint8_t> row = pictureRow(image, look, 12, 1);
    REQUIRE(row.size() == 20);
    const std::size_t channels = expected.size() / 5;
    for (std::size_t s = 0; s < 5; ++s) {
        CHECK(row[4 * s] == expected[channels * s]);
        CHECK(row[4 * s + 3] == 255);
    }
    const std::vector<std::uint8_t> thin = pictureRow(image, look, 12, 2);
    REQUIRE(thin.size() == 12);
    CHECK(thin[4] == row[8]);
}

TEST_CASE("Colours grow with light, never wrap, and black is black") {
    const RadianceRgb white{100.0, 90.0, 80.0};
    CHECK(colourOf({0.0, 0.0, 0.0}, white) == Colour{0, 0, 0, 255});
    Colour before{0, 0, 0, 255};
    for (double light = 0.01; light < 50.0; light *= 1.5) {
        const Colour now = colourOf({100.0 * light, 90.0 * light, 80.0 * light}, white);
        for (std::size_t i = 0; i < 3; ++i) REQUIRE(now[i] >= before[i]);
        REQUIRE(now[0] == now[2]);  // a grey surface stays grey
        before = now;
    }
    CHECK(before[0] == 255);
}

TEST_CASE("Shaders get their opening from the loader: for the desktop and for a web page") {
    CHECK(shaderOpening(false).rfind("#version 330 core\n", 0) == 0);
    CHECK(shaderOpening(true).rfind("#version 300 es\n", 0) == 0);
    CHECK(shaderOpening(true).find("precision highp float;") != std::string::npos);
}

}  // namespace linefall
