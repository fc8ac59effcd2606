// Shadows measured in the counts of formed frames. The sun stands in the west, so the shadow of a tower lies east of
// its foot; from the foot to the tip it is h / tan(elevation) long.

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "flight/lit_ground.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

struct Shadow {
    double length_m, pixel_m;
};

/// One row of a frame straight above the tower; `reach_m` on the ground to the east.
Shadow shadowOf(double height_m, double elevation_deg, double flying_height_m, double reach_m, bool box = true) {
    const double radius = 0.02 * height_m;
    std::string thing = tower(0.0, 0.0, 2.0 * radius, height_m, "white", "white");
    if (box) {
        thing = "[[object]]\nshape = \"box\"\neast = \"0 m\"\nnorth = \"0 m\"\nlength = \"" + metres(2.0 * radius) + "\"\nheight = \"" +
                metres(height_m) + "\"\nmaterial = \"white\"\n";
    }
    const int half = 1500;
    const double pixel_m = reach_m / half;
    const std::string keys = "focal_length = \"200 mm\"\ndetector_pitch = \"" + std::to_string(0.2 * pixel_m / flying_height_m * 1e6) +
                             " um\"\nsamples = " + std::to_string(2 * half) + "\nrows = 1\n";
    const Image image = imageOf(exposed(sceneOf(written(levelPlace(thing, metres(4.0 * reach_m), metres(reach_m / 20.0))), oneBand("frame-camera", keys),
                                        bare() + Sets{"flight.height=" + metres(flying_height_m), "flight.start_north=1000 m", "flight.length=2000 m",
                                                      "sun.azimuth=270 deg", "sun.elevation=" + std::to_string(elevation_deg) + " deg"})));
    const auto counts = lineOf(image, 0);
    const double ground = counts[100];
    REQUIRE(ground > 20.0);
    REQUIRE(counts[static_cast<std::size_t>(half)] > ground);  // the white top
    // Straight below the camera the top hides the foot: it stands where the tower's plan says, the tip is measured.
    const int from = half + static_cast<int>(1.02 * radius * flying_height_m / (flying_height_m - height_m) / pixel_m) + 2;
    REQUIRE(counts[static_cast<std::size_t>(from)] < 0.1 * ground);
    const double tip = edgeBetween(counts, from, 1, 0.5 * ground);
    return {(tip - half) * pixel_m - radius, pixel_m};
}

}  // namespace

TEST_CASE("the shadow of a tower is h / tan(elevation) long, within two pixels, for every height of the sun", "[shadow]") {
    const double elevation = GENERATE(8.0, 15.0, 28.0, 45.0, 63.0, 80.0);
    const double height = GENERATE(25.0, 80.0);
    const double expected = height / std::tan(radiansFromDegrees(elevation));
    const Shadow s = shadowOf(height, elevation, 1500.0, 1.3 * expected + 0.1 * height, height < 50.0);  // box or cylinder
    CHECK(s.length_m == Approx(expected).epsilon(0.0).margin(2.0 * s.pixel_m));
    CHECK(s.pixel_m < 0.004 * expected);
}

TEST_CASE("a shadow of 102 ft under a sun of 28 degrees: 54 ft", "[shadow]") {
    // Bemidji State University, "Using shadows to measure height" (optical.md, Shadow, A); tolerance 0.5 ft.
    const double foot_m = 0.3048;
    const Shadow s = shadowOf(54.0 * foot_m, 28.0, 300.0, 45.0);
    CHECK(s.length_m / foot_m == Approx(102.0).margin(0.6));
    CHECK(s.length_m * std::tan(radiansFromDegrees(28.0)) / foot_m == Approx(54.0).margin(0.5));
}

TEST_CASE("a pole of 10 m under a sun of 30 degrees: 17.32 m", "[shadow]") {
    // Worked example, solid arithmetic (optical.md, A); tolerance 0.005 m. Formed ten times as large, since the way to the
    // sun begins a centimetre above the ground (Ground::lift_m), which takes 17 mm from this shadow.
    const Shadow s = shadowOf(100.0, 30.0, 2000.0, 200.0);
    CHECK(s.length_m / 10.0 == Approx(17.32).epsilon(0.0).margin(0.005 + 0.1 * s.pixel_m));
}

TEST_CASE("8000 m high and 2000 m long: the sun stands at 76 degrees", "[shadow]") {
    // Haby, forecasting hint 522 (optical.md, A); tolerance 0.5 degrees.
    const Shadow s = shadowOf(8000.0, 76.0, 30000.0, 3000.0);
    CHECK(s.length_m == Approx(2000.0).margin(10.0));
    CHECK(degreesFromRadians(std::atan2(8000.0, s.length_m)) == Approx(76.0).margin(0.5));
}

TEST_CASE("shadows of the proving ground's towers fall north-west of a sun in the south-east", "[shadow]") {
    // Each tower's tip of shadow is dark, and the ground a little beyond is lit, on the map of lit ground.
    const Scene scene = sceneOf("proving-ground", "frame-camera", bare() + Sets{"effect.skylight=false"});
    const double azimuth = radiansFromDegrees(140.0);
    const double elevation = radiansFromDegrees(40.0);
    MapRequest request;
    request.cell_m = 2.0;
    request.columns = request.rows = 500;
    const auto map = litGround(scene, {scene.instruments[0].bands[0]}, request);
    for (const Object& o : scene.place->ground->objects()) {
        const double length = o.height_m / std::tan(elevation);
        INFO(o.name);
        for (const auto& [away, lit] : {std::pair{length - 3.0, false}, std::pair{length + 0.5 * o.length_m + 5.0, true}}) {
            const int column = static_cast<int>(250.0 + 0.5 * (o.east_m - away * std::sin(azimuth)));
            const int row = static_cast<int>(250.0 - 0.5 * (o.north_m - away * std::cos(azimuth)));
            CHECK((map[0].at(column, row) > 0.0f) == lit);
        }
    }
}

TEST_CASE("without cast shadow the ground behind a tower is lit like any other", "[shadow]") {
    const std::string place = levelPlace(tower(0, 0, 20, 60), "600 m");
    const Scene scene = exposed(sceneOf(written(place), oneBand("frame-camera", "focal_length = \"100 mm\"\ndetector_pitch = \"100 um\"\nsamples = 300\nrows = 1"),
                                bare() + Sets{"flight.height=1000 m", "flight.start_north=1000 m", "flight.length=2000 m", "sun.azimuth=270 deg", "sun.elevation=40 deg"}));
    const Image shadowed = imageOf(scene);
    const Image without = imageOf(with(scene, {"effect.cast_shadow=false"}));
    CHECK(shadowed.counts[0].at(200, 0) == 0);
    CHECK(without.counts[0].at(200, 0) == without.counts[0].at(20, 0));
    CHECK(without.counts[0].at(20, 0) == shadowed.counts[0].at(20, 0));
}
