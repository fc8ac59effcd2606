// Sky, glint and the sun's disc in counts.

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// Width of the soft edge of the shadow of a wall, from a tenth to nine tenths of the light, in metres.
double softEdge_m(double height_m, double elevation_deg, bool disc) {
    const double length = height_m / std::tan(radiansFromDegrees(elevation_deg));
    // A wall from south to north with the sun in the west; the camera looks straight down at the shadow's end.
    const std::string wall = "[[object]]\nshape = \"box\"\neast = \"-5 m\"\nnorth = \"0 m\"\nlength = \"400 m\"\nwidth = \"10 m\"\nheight = \"" + metres(height_m) + "\"\nmaterial = \"black\"\n";
    const double pixel_m = 0.02;
    const Scene scene = exposed(sceneOf(written(levelPlace(wall, "1600 m", "20 m")), oneBand("frame-camera", "focal_length = \"10 mm\"\ndetector_pitch = \"" + std::to_string(pixel_m * 10.0) + " um\"\nsamples = 1000\nrows = 1"),
                                        bare() + Sets{"flight.height=1 km", "flight.start_north=0 m", "flight.length=0.01 m", "flight.start_east=" + metres(length), "sun.azimuth=270 deg",
                                                      "sun.elevation=" + std::to_string(elevation_deg) + " deg", disc ? "sun.disc=true" : "sun.disc=false"}));
    const auto counts = lineOf(imageOf(scene), 0);
    const double lit = counts.back();
    REQUIRE(lit > 1000.0);
    REQUIRE(counts.front() == 0.0);
    return (crossing(counts, 0, 1, 0.9 * lit) - crossing(counts, 0, 1, 0.1 * lit)) * pixel_m;
}

}  // namespace

TEST_CASE("the sun's disc of 0.53 degrees makes shadow edges as wide as it is seen from the edge that casts them", "[sun disc]") {
    // The way from the wall's top to the ground is s = h / sin(e); across it the penumbra is s x 0.53 deg, and on level ground
    // that is stretched by 1 / sin(e). Between 10 and 90 % of a round disc's light lie 0.687 of its width: the share of a disc
    // beyond a chord at x radii is (acos x - x sqrt(1 - x^2)) / pi, which is 0.1 at x = 0.687.
    CHECK((std::acos(0.687) - 0.687 * std::sqrt(1.0 - 0.687 * 0.687)) / std::acos(-1.0) == Approx(0.1).margin(2e-4));
    const double elevation = GENERATE(20.0, 35.0, 60.0);
    const double height = GENERATE(30.0, 60.0);
    const double sine = std::sin(radiansFromDegrees(elevation));
    const double width = height * radiansFromDegrees(0.53) / (sine * sine);
    const double measured = softEdge_m(height, elevation, true);
    CHECK(measured == Approx(0.687 * width).epsilon(0.12));  // 24 points stand for the disc: steps of 4 %
    CHECK(softEdge_m(height, elevation, false) < 0.05);      // a point sun: one pixel
    CHECK(softEdge_m(2.0 * height, elevation, true) == Approx(2.0 * measured).epsilon(0.08));
}

TEST_CASE("a look above the horizon is flagged as sky in the image and shown in a colour of its own", "[sky]") {
    // 400 m up, rolled by 45 degrees to starboard, so port looks up; flying south, port is the east, the last columns.
    const Scene scene = sceneOf("slopes", "push-broom", bare() + Sets{"flight.height=400 m", "flight.roll=45 deg", "flight.length=20 m", "instrument.focal_length=4 mm"});
    const Image image = imageOf(scene);
    for (int l = 0; l < image.lines(); ++l) {
        int changes = 0;
        for (int s = 1; s < image.samples(); ++s) changes += image.sky.at(s, l) != image.sky.at(s - 1, l) ? 1 : 0;
        CHECK(changes == 1);  // one horizon
        CHECK(image.sky.at(0, l) == 0);
        CHECK(image.sky.at(image.samples() - 1, l) == 1);
    }
    // The horizon is where the look is level: 45 degrees up from the axis, f tan 45 = 4 mm, 307.7 detectors of 13 um.
    int first_sky = 0;
    while (image.sky.at(first_sky, 0) == 0) ++first_sky;
    CHECK(first_sky == Approx(0.5 * image.samples() + 4000.0 / 13.0).margin(1.5));
    const auto row = displayRow(image, chooseBands(image.bands, "true colour"), {{0, 100}, {0, 100}, {0, 100}}, true, 0);
    const std::size_t sky = 3 * (static_cast<std::size_t>(image.samples()) - 1);
    CHECK((row[sky] != 0 || row[sky + 1] != 0 || row[sky + 2] != 0));  // never a silent black
}

TEST_CASE("the sea glints where it mirrors the sun - and nowhere else - when the switch is on", "[glint]") {
    // All water beyond a small place; the sun in the west at 60 degrees. The mirror point lies 30 degrees off nadir towards it.
    const std::string place = "latitude = \"0 deg\"\nbeyond = \"water\"\n[terrain]\nkind = \"level\"\nsize = \"20 m\"\nspacing = \"10 m\"\nmaterial = \"water\"\n";
    const Scene scene = exposed(sceneOf(written(place), oneBand("whisk-broom", "focal_length = \"10 mm\"\nifov = \"5 mrad\"\nfov = \"110 deg\""),
                                        bare() + Sets{"flight.height=2 km", "flight.length=20 m", "sun.azimuth=270 deg", "sun.elevation=60 deg", "effect.glint=true", "effect.glint_wind=2 m/s"}), 2000.0);
    const Image with_glint = imageOf(scene);
    const Image without = imageOf(with(scene, {"effect.glint=false"}));
    const auto counts = lineOf(with_glint, 0);
    const auto brightest = std::max_element(counts.begin(), counts.end()) - counts.begin();
    const double angle_deg = degreesFromRadians((0.5 * with_glint.samples() - static_cast<double>(brightest) - 0.5) * 5e-3);  // starboard, west, positive
    CHECK(angle_deg == Approx(30.0).margin(3.0));  // slopes of the sea pull the glitter a little towards the horizon
    CHECK(counts[static_cast<std::size_t>(brightest)] > 3.0 * without.counts[0].at(static_cast<int>(brightest), 0));
    CHECK(counts.back() == without.counts[0].at(without.samples() - 1, 0));  // 55 degrees the other way
    // More wind: a wider and fainter glitter.
    const auto rough = lineOf(imageOf(with(scene, {"effect.glint_wind=14 m/s"})), 0);
    CHECK(rough[static_cast<std::size_t>(brightest)] < counts[static_cast<std::size_t>(brightest)]);
    const auto far = static_cast<std::size_t>(0.5 * with_glint.samples() + 100);  // 29 degrees to the other side
    CHECK(rough[far] >= counts[far]);
}
