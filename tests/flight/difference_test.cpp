#include "flight/difference.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "flight/cause_table.h"
#include "support/effort.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Image small(const std::vector<std::uint16_t>& counts, int samples, double step_e = 1.0) {
    Image image;
    image.bands = {Band{}};
    const int lines = static_cast<int>(counts.size()) / samples;
    image.counts.assign(1, Raster<std::uint16_t>(samples, lines));
    std::copy(counts.begin(), counts.end(), image.counts[0].values().begin());
    image.sky = Raster<std::uint8_t>(samples, lines);
    image.most_count = 4095;
    image.step_e = step_e;
    return image;
}

const BandChoice first_band{0, 0, 0, "band"};

/// CIELAB of an sRGB colour, white D65: the way back, by the definitions of IEC 61966-2-1 and CIE 15.
struct Lab {
    double lightness, a, b;
};
Lab labOf(const std::array<std::uint8_t, 3>& colour) {
    double linear[3];
    for (std::size_t i = 0; i < 3; ++i) {
        const double code = colour[i] / 255.0;
        linear[i] = code <= 0.04045 ? code / 12.92 : std::pow((code + 0.055) / 1.055, 2.4);
    }
    const auto f = [](double t) { return t > std::pow(6.0 / 29.0, 3) ? std::cbrt(t) : t / (3.0 * std::pow(6.0 / 29.0, 2)) + 4.0 / 29.0; };
    const double x = f((0.4124 * linear[0] + 0.3576 * linear[1] + 0.1805 * linear[2]) / 0.95047);
    const double y = f(0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]);
    const double z = f((0.0193 * linear[0] + 0.1192 * linear[1] + 0.9505 * linear[2]) / 1.08883);
    return {116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)};
}

}  // namespace

TEST_CASE("a difference is with minus without, and its numbers are those of a small table worked by hand", "[difference]") {
    const Difference d = differenceOf(small({10, 20, 30, 40, 50, 60}, 3), small({10, 25, 30, 37, 50, 60}, 3));
    CHECK(lineOf(small({1, 2, 3}, 3), 0) == std::vector<double>{1, 2, 3});
    const std::vector<float> wanted{0, -5, 0, 3, 0, 0};
    CHECK(std::equal(wanted.begin(), wanted.end(), d.counts[0].values().begin()));
    const DifferenceStatistics s = statisticsOf(d, 0, 0, 2);
    CHECK(s.samples == 6);
    CHECK(s.mean == Approx(-2.0 / 6.0));
    CHECK(s.rms == Approx(std::sqrt(34.0 / 6.0)));
    CHECK(s.spread == Approx(std::sqrt(34.0 / 6.0 - 4.0 / 36.0)));
    CHECK(s.least == -5.0);
    CHECK(s.most == 3.0);
    CHECK(s.changed == Approx(2.0 / 6.0));
    CHECK(statisticsOf(d, 0, 1, 2).mean == Approx(1.0));
    CHECK(statisticsOf(d, 0, 2, 2).samples == 0);
    CHECK(differenceLimit(d, first_band, 0, 2) == 3.0);  // of two changed samples, the 98 % point is the lower
    CHECK_THROWS_AS(differenceOf(small({1, 2}, 2), small({1, 2, 3}, 3)), std::invalid_argument);
}

TEST_CASE("samples of the sky are left out of a difference, and lines that do not stand yet are 0", "[difference]") {
    Image with_cause = small({10, 20, 30, 40}, 2), without = small({0, 0, 0, 0}, 2);
    without.sky.at(1, 0) = 1;
    Difference d = differenceOf(with_cause, without, 0, 1);
    CHECK(d.counts[0].at(0, 0) == 10.0f);
    CHECK(d.counts[0].at(1, 0) == 0.0f);
    CHECK(d.counts[0].at(0, 1) == 0.0f);
    CHECK(statisticsOf(d, 0, 0, 1).samples == 1);
    takeDifference(d, with_cause, without, 1, 2);
    CHECK(d.counts[0].at(1, 1) == 40.0f);
}

TEST_CASE("images of other steps are compared by the middle of their steps, in counts of the image with the cause", "[difference]") {
    // 16 electrons a count against 1: count 5 stands for 88 electrons, count 87 of the fine image for 87.5.
    const Difference d = differenceOf(small({5}, 1, 16.0), small({87}, 1, 1.0));
    CHECK(d.counts[0].at(0, 0) == Approx(5.5 - 87.5 / 16.0));
}

TEST_CASE("the difference of a shadow shows the shadow alone: the noise is the same in both images and cancels", "[difference]") {
    // A tower of 100 m under a sun at 45 degrees in the west: its shadow is 100 m long and lies to the east.
    const Scene scene = exposed(sceneOf(written(levelPlace(tower(0, 0, 40, 100), "1 km")), oneBand("push-broom", "focal_length = \"10 mm\"\ndetector_pitch = \"20 um\"\nsamples = 300"),
                                {"flight.height=1 km", "flight.start_north=300 m", "flight.length=600 m", "sun.azimuth=270 deg", "sun.elevation=45 deg", "effect.relief=false", "effect.saturation=false", "instrument.bits=16"}), 8000.0);
    REQUIRE(acts(scene, 0, Cause::cast_shadow));
    const Scene without = switched(scene, Cause::cast_shadow, false);
    const Image image = imageOf(scene);
    const Difference d = differenceOf(image, imageOf(without));
    const DifferenceStatistics s = statisticsOf(d, 0, 0, d.lines());
    CHECK(s.most == 0.0);  // a shadow only takes
    // Of a cylinder of radius r and height h the shadow on level ground is a strip 2 r wide and h long: its area is that of
    // the strip, less the half disc where it begins, plus the half disc where it ends.
    CHECK(s.changed * d.lines() * d.samples() * 4.0 == Approx(2.0 * 20.0 * 100.0).epsilon(0.03));
    const int middle = d.lines() / 2;
    CHECK(d.counts[0].at(150 + 40, middle) < 0.0f);
    CHECK(d.counts[0].at(150 - 40, middle) == 0.0f);
    CHECK(differenceLimit(d, first_band, 0, d.lines()) > 20.0);
}

TEST_CASE("the difference of noise has the variance of shot and read noise", "[difference]") {
    // 2000 electrons a sample and 30 of read noise, one electron a count; 3.9 standard deviations: one in ten thousand.
    const int side = effort(100) == 100 ? 400 : 60;
    const Scene flat = sceneOf(written(levelPlace()), oneBand("frame-camera", "focal_length = \"100 mm\"\ndetector_pitch = \"5 um\"\nf_number = 16\nexposure = \"1 ms\"\nsamples = " + std::to_string(side) + "\nrows = " + std::to_string(side)),
                               bare() + Sets{"flight.height=1 km", "sun.elevation=60 deg", "effect.shot_noise=true", "effect.read_noise=true", "instrument.read_noise=30 e"});
    char exposure[64];
    std::snprintf(exposure, sizeof exposure, "instrument.exposure=%.12g ms", 2000.0 / factsOfScene(flat, 0).bands[0].signal_e);
    const Scene scene = with(flat, {exposure, "instrument.full_well=1000000 e", "instrument.gain=1 e"});
    const Difference d = differenceOf(imageOf(scene), imageOf(switched(scene, Cause::noise, false)));
    const DifferenceStatistics s = statisticsOf(d, 0, 0, d.lines());
    const double n = static_cast<double>(s.samples), variance = 2000.0 + 900.0 + 1.0 / 12.0;
    REQUIRE(s.samples == static_cast<std::size_t>(side) * static_cast<std::size_t>(side));
    CHECK(s.spread * s.spread == Approx(variance).epsilon(3.9 * std::sqrt(2.0 / n) + 3e-4));
    // The image without noise stands on one count, up to half a count from its light.
    CHECK(std::abs(s.mean) < 3.9 * std::sqrt(variance / n) + 0.51);
}

TEST_CASE("the difference of quantisation lies within half a count and has its variance, 1/12", "[difference]") {
    // Noise of three counts spreads the light of a hill evenly over the steps of 8 bits.
    const Scene still = exposed(sceneOf("slopes", oneBand("push-broom", "focal_length = \"10 mm\"\ndetector_pitch = \"20 um\"\nsamples = 400"),
                                bare() + Sets{"flight.height=2 km", "flight.length=1500 m", "flight.start_north=750 m", "instrument.bits=8"}), 60.0);
    char read[64];
    std::snprintf(read, sizeof read, "instrument.read_noise=%.9g e", 3.0 * Formation(still, 0).image().step_e);
    const Scene scene = with(still, {read, "effect.read_noise=true"});
    const Difference d = differenceOf(imageOf(scene), imageOf(switched(scene, Cause::quantisation, false)));
    const DifferenceStatistics s = statisticsOf(d, 0, 0, d.lines());
    REQUIRE(s.samples > 100000);
    CHECK(s.least >= -0.5);
    CHECK(s.most <= 0.5);
    CHECK(std::abs(s.mean) < 0.01);
    CHECK(s.spread * s.spread == Approx(1.0 / 12.0).epsilon(0.02));
    CHECK(differenceLimit(d, first_band, 0, d.lines()) == 1.0);
}

TEST_CASE("the palette of a difference is even on both sides, neutral in the middle, and tells its sign to red-green blind eyes", "[difference]") {
    const Neutral neutral = GENERATE(Neutral::light, Neutral::dark);
    const Lab middle = labOf(differenceColour(0.0, neutral));
    CHECK(std::hypot(middle.a, middle.b) < 1.0);
    CHECK((neutral == Neutral::light ? middle.lightness > 90.0 : middle.lightness < 20.0));
    double before = middle.lightness;
    for (int i = 1; i <= 10; ++i) {
        const Lab less = labOf(differenceColour(-0.1 * i, neutral)), more = labOf(differenceColour(0.1 * i, neutral));
        // Equal amounts are equally light: no colour is clipped.
        CHECK(less.lightness == Approx(more.lightness).margin(0.7));
        CHECK(std::abs(more.lightness - before) == Approx(5.75).margin(0.8));
        before = more.lightness;
        // The axis b of CIELAB runs from blue to yellow: the signs part along it, evenly with the amount.
        CHECK(more.b > 3.2 * i);
        CHECK(less.b < -3.5 * i);
    }
    CHECK(differenceColour(-7.0, neutral) == differenceColour(-1.0, neutral));
}

TEST_CASE("a row of a difference is its colours: full at the limit, neutral where nothing changed, grey in the sky", "[difference]") {
    Image with_cause = small({100, 50, 0, 75, 9}, 5), without = small({50, 50, 50, 50, 9}, 5);
    with_cause.sky.at(4, 0) = 1;
    const Difference d = differenceOf(with_cause, without);
    const auto row = differenceRow(d, first_band, 50.0, Neutral::dark, 0);
    REQUIRE(row.size() == 15);
    const auto at = [&](std::size_t s) { return std::array<std::uint8_t, 3>{row[3 * s], row[3 * s + 1], row[3 * s + 2]}; };
    CHECK(at(0) == differenceColour(1.0, Neutral::dark));
    CHECK(at(1) == differenceColour(0.0, Neutral::dark));
    CHECK(at(2) == differenceColour(-1.0, Neutral::dark));
    CHECK(at(3) == differenceColour(128.0 / 255.0, Neutral::dark));
    CHECK(at(4) == std::array<std::uint8_t, 3>{90, 90, 90});
    CHECK(differenceText(1.0).find("from 1 count on") != std::string::npos);
}
