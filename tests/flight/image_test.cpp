#include "flight/image.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace linefall;

namespace {

Band band(const std::string& name, double from_um, double to_um) { return {name, from_um, to_um, 0.0, 0.5}; }

/// A ramp of counts 0 .. 999 in one band.
Image ramp() {
    Image image;
    image.bands = {band("green", 0.52, 0.60)};
    image.counts.assign(1, Raster<std::uint16_t>(100, 10));
    image.sky = Raster<std::uint8_t>(100, 10);
    for (int i = 0; i < 1000; ++i) image.counts[0].at(i % 100, i / 100) = static_cast<std::uint16_t>(i);
    image.most_count = 4095;
    return image;
}

}  // namespace

TEST_CASE("a stretch by percent leaves the stated shares dark and bright, by value it is what was said, none is the converter's range", "[image]") {
    const Image image = ramp();
    Stretch percent;
    percent.low_percent = 2.0;
    percent.high_percent = 98.0;
    const StretchLimits limits = limitsOf(image, 0, percent, 0, 10);
    CHECK(limits.low == Approx(20.0).margin(2.0));
    CHECK(limits.high == Approx(980.0).margin(2.0));
    const StretchLimits first = limitsOf(image, 0, percent, 0, 1);  // the first line alone
    CHECK(first.high == Approx(98.0).margin(2.0));
    Stretch value{Stretch::Kind::value, 0.5, 98.0, 100.0, 300.0, true};
    CHECK(limitsOf(image, 0, value, 0, 10).low == 100.0);
    CHECK(limitsOf(image, 0, value, 0, 10).high == 300.0);
    Stretch none;
    none.kind = Stretch::Kind::none;
    CHECK(limitsOf(image, 0, none, 0, 10).low == 0.0);
    CHECK(limitsOf(image, 0, none, 0, 10).high == Approx(4095.0).margin(1.0));
    CHECK(percent.text() != value.text());
}

TEST_CASE("bands are chosen by wavelength - true colour and false colour - or by name", "[image]") {
    const std::vector<Band> bands{band("blue", 0.455, 0.515), band("green", 0.525, 0.585), band("red", 0.635, 0.695), band("infrared", 0.78, 0.88)};
    const BandChoice real = chooseBands(bands, "true colour");
    CHECK(real.red == 2);
    CHECK(real.green == 1);
    CHECK(real.blue == 0);
    const BandChoice lie = chooseBands(bands, "false colour");
    CHECK(lie.red == 3);
    CHECK(lie.green == 2);
    CHECK(lie.blue == 1);
    const BandChoice one = chooseBands(bands, "infrared");
    CHECK(one.grey());
    CHECK(one.red == 3);
    CHECK(chooseBands(bands, "ultraviolet").name.empty());
    CHECK(chooseBands({bands[0]}, "true colour").grey());
}

TEST_CASE("the screen's curve is sRGB: half the light is code 188", "[image]") {
    // IEC 61966-2-1: 12.92 x below 0.0031308, else 1.055 x^(1/2.4) - 0.055 (from memory).
    CHECK(screenCode(0.0) == 0);
    CHECK(screenCode(1.0) == 255);
    CHECK(screenCode(0.5) == 188);
    CHECK(screenCode(0.2140) == 127);
    CHECK(screenCode(0.001) == 3);
    CHECK(screenCode(-1.0) == 0);
    CHECK(screenCode(7.0) == 255);
}

TEST_CASE("grey rows have one byte a sample, colour rows three, and brighter is never darker", "[image]") {
    const Image image = ramp();
    const BandChoice grey = chooseBands(image.bands, "green");
    const auto row = displayRow(image, grey, {{100.0, 900.0}, {100.0, 900.0}, {100.0, 900.0}}, true, 5);
    REQUIRE(row.size() == 100);
    CHECK(std::is_sorted(row.begin(), row.end()));
    CHECK(displayRow(image, grey, {{500.0, 600.0}, {500.0, 600.0}, {500.0, 600.0}}, false, 0)[0] == 0);
    CHECK(displayRow(image, grey, {{500.0, 600.0}, {500.0, 600.0}, {500.0, 600.0}}, false, 9)[0] == 255);
}
