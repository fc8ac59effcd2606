// Landforms against their closed forms.

#include "scene/landform.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "base/constants.h"

using namespace linefall;

TEST_CASE("a cone has straight sides from its foot to its top") {
    const Landform f{Landform::Kind::cone, 100.0, -50.0, 60.0, 200.0, 0.0, 0.0};
    CHECK(f.at(100, -50) == 60.0);
    CHECK(f.at(200, -50) == Approx(30.0));
    CHECK(f.at(100, 100) == Approx(15.0));
    CHECK(f.at(300, -50) == 0.0);
    CHECK(f.at(301, -50) == 0.0);
}

TEST_CASE("a dome is a cap of a sphere") {
    const Landform f{Landform::Kind::dome, 0.0, 0.0, 50.0, 100.0, 0.0, 0.0};
    CHECK(f.at(0, 0) == Approx(50.0));
    CHECK(f.at(100, 0) == Approx(0.0).margin(1e-9));
    // Radius of the sphere (a^2 + h^2) / 2h = 125 m; its centre lies 75 m under the ground around.
    for (const double x : {10.0, 35.0, 60.0, 99.0}) CHECK(std::hypot(x, f.at(0, x) + 75.0) == Approx(125.0));
    // A hemisphere is the highest dome.
    const Landform half{Landform::Kind::dome, 0.0, 0.0, 100.0, 100.0, 0.0, 0.0};
    CHECK(half.at(60, 0) == Approx(80.0));
    // A hollow is the dome turned over; no height at all is level ground.
    const Landform hollow{Landform::Kind::dome, 0.0, 0.0, -50.0, 100.0, 0.0, 0.0};
    CHECK(hollow.at(35, 0) == -f.at(35, 0));
    const Landform level{Landform::Kind::dome, 0.0, 0.0, 0.0, 100.0, 0.0, 0.0};
    CHECK(level.at(35, 0) == 0.0);
}

TEST_CASE("a bump is half a cosine, level at the top and at the foot") {
    const Landform f{Landform::Kind::bump, 0.0, 0.0, 40.0, 80.0, 0.0, 0.0};
    CHECK(f.at(0, 0) == Approx(40.0));
    CHECK(f.at(40, 0) == Approx(20.0));
    CHECK(f.at(0, 20) == Approx(40.0 * 0.5 * (1.0 + std::sqrt(0.5))));
    CHECK(f.at(80, 0) == 0.0);
    CHECK((f.at(0, 0) - f.at(0.01, 0)) / 0.01 < 1e-3);
    CHECK((f.at(79.99, 0) - f.at(80, 0)) / 0.01 < 1e-3);
}

TEST_CASE("a ridge has the stated slope on both sides and plane ends") {
    const double slope = std::tan(radiansFromDegrees(20.0));
    // Crest 400 m long, heading east.
    const Landform f{Landform::Kind::ridge, 0.0, 0.0, 50.0, 50.0 / slope, 400.0, radiansFromDegrees(90.0)};
    CHECK(f.at(0, 0) == Approx(50.0));
    CHECK(f.at(199, 0) == Approx(50.0));
    CHECK(f.at(0, 30) == Approx(50.0 - 30.0 * slope));
    CHECK(f.at(150, -30) == Approx(50.0 - 30.0 * slope));
    CHECK(f.at(240, 0) == Approx(50.0 - 40.0 * slope));   // past the end
    CHECK(f.at(240, 20) == Approx(50.0 - 40.0 * slope));  // the end is one plane
    CHECK(f.at(0, 138) == 0.0);
    // Heading north-east: the crest runs along x = y.
    const Landform turned{Landform::Kind::ridge, 0.0, 0.0, 50.0, 100.0, 400.0, radiansFromDegrees(45.0)};
    CHECK(turned.at(100, 100) == Approx(50.0));
    CHECK(turned.at(30, -30) == Approx(50.0 * (1.0 - std::sqrt(1800.0) / 100.0)));
}
