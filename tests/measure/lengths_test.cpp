#include "measure/lengths.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "measure/pixel_error.h"
#include "support/effort.h"
#include "support/picks.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// Level ground under a camera of 1 m pixels, flying south: columns grow east, rows south.
Formation level(const std::string& kind, const Sets& sets = {}, const std::string& height = "0 m") {
    const std::string keys = kind == "whisk-broom" ? "ifov = \"1 mrad\"\nfov = \"60 deg\""
                                                   : "focal_length = \"100 mm\"\ndetector_pitch = \"100 um\"\nsamples = 600" + std::string(kind == "frame-camera" ? "\nrows = 400" : "");
    return Formation(sceneOf(written(levelPlace("", "4 km", "10 m", height)), oneBand(kind, keys),
                             bare() + Sets{"flight.height=1000 m", "flight.heading=180 deg", "flight.start_north=500 m", "flight.length=1000 m"} + sets), 0);
}

}  // namespace

TEST_CASE("distances of a frame over level ground are pixels times pitch times height over focal length", "[measure]") {
    const Formation formation = level("frame-camera");
    const Reading r = groundDistance(formation, {100.5, 100.5}, {400.5, 300.5});
    CHECK(r.ok());
    CHECK(r.value == Approx(std::hypot(300.0, 200.0)).epsilon(1e-9));
    // Each end: 1 m / sqrt 12 in every direction.
    CHECK(r.sigma == Approx(std::sqrt(2.0 / 12.0)).epsilon(1e-6));
    CHECK(textOf(r) == "360.6 ± 0.4 m");
    CHECK(pictureDistance(formation, {100.5, 100.5}, {400.5, 300.5}).value == Approx(r.value).epsilon(1e-9));
    CHECK(straightDistance(formation, {100.5, 100.5}, {400.5, 300.5}).value == Approx(r.value).epsilon(1e-9));
    CHECK(heightDifference(formation, {100.5, 100.5}, {400.5, 300.5}).value == Approx(0.0).margin(1e-9));
}

TEST_CASE("a mirror squeezes the edge of its field, and the picture alone does not know it", "[measure]") {
    // Flat ground, angular steps: from angle t1 to t2 the ground has H (tan t2 - tan t1), the picture says H (t2 - t1).
    const Formation formation = level("whisk-broom");
    const double step = formation.instrument().derived().sample_step_rad;
    const int n = formation.samples();
    const double t1 = (0.5 * n - 50.0) * step;
    const double t2 = (0.5 * n - 10.0) * step;
    const PicturePlace a{10.0, 20.5}, b{50.0, 20.5};
    CHECK(pictureDistance(formation, a, b).value == Approx(1000.0 * (t2 - t1)).epsilon(1e-6));
    const double ground = groundDistance(formation, a, b).value;
    const double across = 1000.0 * (std::tan(t2) - std::tan(t1));
    // During 40 of the steps the platform moves on a little.
    const double along = 40.0 * formation.instrument().derived().dwell_s * formation.motion().speed_m_s();
    CHECK(ground == Approx(std::hypot(across, along)).epsilon(1e-5));
}

TEST_CASE("higher ground is farther across in fact than the picture says", "[measure]") {
    const Formation formation = level("frame-camera", {}, "200 m");
    const PicturePlace a{100.5, 100.5}, b{400.5, 100.5};
    CHECK(pictureDistance(formation, a, b).value == Approx(300.0).epsilon(1e-9));
    CHECK(groundDistance(formation, a, b).value == Approx(240.0).epsilon(1e-6));
}

TEST_CASE("lines of a push broom lie speed times line period apart", "[measure]") {
    const Formation formation = level("push-broom", {"instrument.line_rate=35 Hz", "flight.speed=70 m/s"});
    CHECK(nadirSpacing(formation).along_m == Approx(2.0));
    CHECK(nadirSpacing(formation).across_m == Approx(1.0));
    CHECK(pictureDistance(formation, {10.5, 10.5}, {10.5, 60.5}).value == Approx(100.0));
    CHECK(groundDistance(formation, {10.5, 10.5}, {10.5, 60.5}).value == Approx(100.0).epsilon(1e-6));
    CHECK(timeBetween(formation, {10.5, 10.5}, {10.5, 60.5}).value == Approx(50.0 / 35.0));
    CHECK(speedBetween(formation, {10.5, 10.5}, {10.5, 60.5}).value == Approx(70.0).epsilon(1e-6));
    CHECK_FALSE(speedBetween(formation, {10.5, 10.5}, {60.5, 10.5}).ok());
}

TEST_CASE("the area of a polygon is that of its corners on the ground, either way round", "[measure]") {
    const Formation formation = level("frame-camera");
    const std::vector<PicturePlace> triangle{{100, 100}, {200, 100}, {100, 160}};
    const Reading r = polygonArea(formation, triangle);
    CHECK(r.value == Approx(3000.0).epsilon(1e-6));
    CHECK(polygonArea(formation, std::vector<PicturePlace>{triangle[2], triangle[1], triangle[0]}).value == Approx(3000.0).epsilon(1e-6));
    // dA = |opposite side| / 2 times the corner's movement across it, 1 m / sqrt 12 in each axis.
    const double sides = 100.0 * 100.0 + 60.0 * 60.0 + (100.0 * 100.0 + 60.0 * 60.0);
    CHECK(r.sigma == Approx(std::sqrt(0.25 * sides / 12.0)).epsilon(1e-6));
    CHECK_FALSE(polygonArea(formation, std::vector<PicturePlace>{{1, 1}, {2, 2}}).ok());
}

TEST_CASE("the top of a tower is displaced by r h / H, on the map of datum", "[measure]") {
    // A mesa 200 m high under a camera at 1000 m: what is r away on its top appears r 1000 / 800 away.
    const Formation formation = level("frame-camera", {}, "200 m");
    const PicturePlace place{400.5, 200.5};
    const Vec3 ground = *groundAt(formation, place);
    const Vec3 nadir = sensorAt(formation, place);
    const double r = std::hypot(ground.x - nadir.x, ground.y - nadir.y);
    CHECK(reliefShift(formation, place).value == Approx(r * 200.0 / 800.0).epsilon(1e-6));
    const PicturePlace base{390.5, 200.5};
    CHECK(displacement(formation, base, place).value == Approx(10.0).epsilon(1e-9));
}

TEST_CASE("the stated uncertainty is the spread of readings over places drawn in their pixels, within 3 percent", "[measure]") {
    // 20 000 draws: the spread of the spread is below 0.5 %, so 3 % is six standard deviations and leaves 2 % to curvature.
    const std::string kind = GENERATE("frame-camera", "push-broom", "whisk-broom");
    const Scene scene = sceneOf("slopes", kind, {"flight.length=600 m", "flight.roll_swing=2 deg", "flight.roll_period=7 s"});
    const Formation formation(scene, 0);
    const double n = formation.samples();
    const double l = formation.lines();
    const std::array places{PicturePlace{std::floor(0.12 * n) + 0.5, std::floor(0.2 * l) + 0.5}, PicturePlace{std::floor(0.7 * n) + 0.5, std::floor(0.6 * l) + 0.5}};
    const int draws = effort(20000);
    const double allowed = draws == 20000 ? 0.03 : 0.25;
    INFO(kind);
    using Two = Reading (*)(const Formation&, const PicturePlace&, const PicturePlace&);
    for (const Two reading : {Two{groundDistance}, Two{straightDistance}, Two{pictureDistance}, Two{displacement}, Two{heightDifference}}) {
        const Reading r = reading(formation, places[0], places[1]);
        INFO(r.name);
        REQUIRE(r.ok());
        const double drawn = drawnSpread(places, draws, 11, [&](std::span<const PicturePlace> p) -> std::optional<double> {
            return reading(formation, p[0], p[1]).value;
        });
        CHECK(drawn > 0.001);
        CHECK(r.sigma == Approx(drawn).epsilon(allowed));
    }
}

TEST_CASE("the stated uncertainty of an area is the spread over corners drawn in their pixels, within 3 percent", "[measure]") {
    const Formation formation = level("push-broom", {"flight.roll=5 deg"});
    const std::vector<PicturePlace> corners{{100.5, 100.5}, {200.5, 120.5}, {180.5, 260.5}, {90.5, 210.5}};
    const int draws = effort(20000);
    CHECK(polygonArea(formation, corners).sigma ==
          Approx(drawnSpread(corners, draws, 13, [&](std::span<const PicturePlace> p) -> std::optional<double> { return polygonArea(formation, p).value; })).epsilon(draws == 20000 ? 0.03 : 0.25));
}

TEST_CASE("a look into the sky gives no distance, and says so", "[measure]") {
    const Formation formation = level("frame-camera", {"flight.roll=45 deg", "instrument.focal_length=20 mm"});
    const Reading r = groundDistance(formation, {5.5, 200.5}, {590.5, 200.5});
    CHECK_FALSE(r.ok());
    CHECK(textOf(r) == "a place looks into the sky");
}
