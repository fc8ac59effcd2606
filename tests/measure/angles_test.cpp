#include "measure/angles.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/effort.h"
#include "support/picks.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// 1 m pixels from 1000 m; flying south, columns grow east and rows south.
Formation frame(const Sets& sets = {}) {
    return Formation(sceneOf(written(levelPlace("", "4 km")), oneBand("frame-camera", "focal_length = \"100 mm\"\ndetector_pitch = \"100 um\"\nsamples = 600\nrows = 400"),
                             bare() + Sets{"flight.height=1000 m", "flight.heading=180 deg", "flight.start_north=500 m", "flight.length=1000 m"} + sets), 0);
}

double deg(const Reading& r) { return degreesFromRadians(r.value); }

}  // namespace

TEST_CASE("bearings run clockwise from north, whatever way the picture lies", "[angles]") {
    const PicturePlace centre{300.5, 200.5};
    const Formation south = frame();
    CHECK(deg(bearing(south, centre, {300.5, 100.5})) == Approx(0.0).margin(1e-9));
    CHECK(deg(bearing(south, centre, {400.5, 100.5})) == Approx(45.0).margin(1e-6));
    CHECK(deg(bearing(south, centre, {400.5, 200.5})) == Approx(90.0).margin(1e-6));
    CHECK(deg(bearing(south, centre, {200.5, 200.5})) == Approx(270.0).margin(1e-6));
    const Formation east = frame({"flight.heading=90 deg"});
    CHECK(deg(bearing(east, centre, {300.5, 300.5})) == Approx(90.0).margin(1e-6));  // rows grow forward
    CHECK(deg(bearing(east, {400.5, 200.5}, centre)) == Approx(180.0).margin(1e-6));  // column 0 is starboard
    CHECK(bearing(south, centre, centre).missing == "both places show the same ground point");
}

TEST_CASE("a bearing over 100 pixels is sure to a pixel over its length, north no less than elsewhere", "[angles]") {
    // Two ends, 1 m / sqrt 12 each, across a line of 100 m.
    const double expected = std::sqrt(2.0 / 12.0) / 100.0;
    CHECK(bearing(frame(), {300.5, 200.5}, {300.5, 100.5}).sigma == Approx(expected).epsilon(1e-3));
    CHECK(bearing(frame(), {300.5, 200.5}, {371.21, 129.79}).sigma == Approx(expected).epsilon(1e-3));
}

TEST_CASE("the angle between two looks of a frame is that of their places on the focal plane", "[angles]") {
    // From 100 pixels left to 100 pixels right of the axis: 2 atan(100 p / f), p / f = 1e-3.
    const Formation formation = frame();
    const Reading r = lookAngle(formation, {200.5, 200.0}, {400.5, 200.0});
    CHECK(r.value == Approx(std::atan(0.0995) + std::atan(0.1005)).epsilon(1e-7));
    CHECK(lookAngle(formation, {200.5, 200.0}, {200.5, 200.0}).value == Approx(0.0).margin(1e-12));
    // Tilting the camera turns both looks alike.
    CHECK(lookAngle(frame({"flight.roll=10 deg", "flight.pitch=5 deg"}), {200.5, 200.0}, {400.5, 200.0}).value == Approx(r.value).epsilon(1e-9));
}

TEST_CASE("a whole line of a mirror spans its field of view, less a step", "[angles]") {
    const Formation formation(sceneOf(written(levelPlace("", "4 km")), oneBand("whisk-broom", "ifov = \"2 mrad\"\nfov = \"60 deg\""), bare() + Sets{"flight.height=1000 m"}), 0);
    const Derived& d = formation.instrument().derived();
    const Reading r = lookAngle(formation, centreOf(0, 3), centreOf(d.samples - 1, 3));
    CHECK(r.value == Approx((d.samples - 1) * d.sample_step_rad).epsilon(1e-9));
    CHECK(r.sigma == Approx(std::sqrt(2.0 / 12.0) * d.sample_step_rad).epsilon(1e-3));
}

TEST_CASE("angles on the ground close a triangle to 180 degrees", "[angles]") {
    const Formation formation = frame({"flight.roll=6 deg"});
    const PicturePlace a{120.5, 80.5}, b{480.5, 120.5}, c{300.5, 330.5};
    CHECK(angleAt(formation, a, b, c).value + angleAt(formation, b, c, a).value + angleAt(formation, c, a, b).value == Approx(constants::pi).epsilon(1e-12));
    CHECK(angleBetween(formation, {a, b}, {a, c}).value == Approx(angleAt(formation, a, b, c).value).epsilon(1e-12));
    CHECK(deg(angleBetween(frame(), {{10.5, 10.5}, {60.5, 10.5}}, {{400.5, 300.5}, {400.5, 100.5}})) == Approx(90.0).margin(1e-6));
    CHECK(deg(angleBetween(frame(), {{10.5, 10.5}, {60.5, 10.5}}, {{500.5, 10.5}, {400.5, 10.5}})) == Approx(180.0).margin(1e-6));
    CHECK_FALSE(angleAt(formation, a, a, b).ok());
}

TEST_CASE("angles stray over places drawn in their pixels as they say, within 3 percent", "[angles]") {
    const Formation formation = frame({"flight.roll=6 deg"});
    const std::array places{PicturePlace{120.5, 80.5}, PicturePlace{180.5, 120.5}, PicturePlace{150.5, 200.5}};
    const int draws = effort(20000);  // the spread of the spread is then below 0.5 %
    const double allowed = draws == 20000 ? 0.03 : 0.25;
    const std::span<const PicturePlace> two(places.data(), 2);
    CHECK(angleAt(formation, places[0], places[1], places[2]).sigma ==
          Approx(drawnSpread(places, draws, 3, [&](std::span<const PicturePlace> p) -> std::optional<double> { return angleAt(formation, p[0], p[1], p[2]).value; })).epsilon(allowed));
    CHECK(bearing(formation, places[0], places[1]).sigma ==
          Approx(drawnSpread(two, draws, 4, [&](std::span<const PicturePlace> p) -> std::optional<double> { return bearing(formation, p[0], p[1]).value; })).epsilon(allowed));
    CHECK(lookAngle(formation, places[0], places[1]).sigma ==
          Approx(drawnSpread(two, draws, 5, [&](std::span<const PicturePlace> p) -> std::optional<double> { return lookAngle(formation, p[0], p[1]).value; })).epsilon(allowed));
}
