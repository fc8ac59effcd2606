#include "physics/terrain.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "base/angle.h"
#include "base/vectors.h"

using namespace linefall;

namespace {

/// Cosine between a slope's normal and the sun. Slope and aspect (the direction it faces, clockwise from north), degrees.
double incidenceCosine(double slope, double aspect, double zenith, double azimuth) {
    const auto direction = [](double from_zenith_deg, double azimuth_deg) {
        const double z = radiansFromDegrees(from_zenith_deg);
        const double a = radiansFromDegrees(azimuth_deg);
        return Vec3{std::sin(z) * std::sin(a), std::sin(z) * std::cos(a), std::cos(z)};
    };
    return glm::dot(direction(slope, aspect), direction(zenith, azimuth));
}

struct Lit {
    double beam, sky;
};

Lit tilted(double beam, double sky, double cosine, double sun_share, double sky_share) {
    std::vector<double> b{beam}, s{sky}, c{cosine}, v{sun_share}, k{sky_share}, ob(1), os(1);
    tiltLight({b, s}, {c, v, k}, {ob, os});
    return {ob[0], os[0]};
}

}  // namespace

TEST_CASE("the beam on a slope goes by the cosine of its incidence, never below nothing", "[terrain]") {
    CHECK(tilted(1000.0, 50.0, 0.5, 1.0, 1.0).beam == 500.0);
    CHECK(tilted(1000.0, 50.0, 0.5, 1.0, 1.0).sky == 50.0);
    CHECK(tilted(1000.0, 50.0, -0.5, 1.0, 0.7).beam == 0.0);
}

TEST_CASE("cast shadow takes the beam and leaves the sky", "[terrain]") {
    const Lit shadow = tilted(1000.0, 50.0, 0.8, 0.0, 0.9);
    CHECK(shadow.beam == 0.0);
    CHECK(shadow.sky == Approx(45.0));
    CHECK(tilted(1000.0, 50.0, 0.8, 0.25, 0.9).beam == Approx(200.0));  // half-shadow of a sun that is a disc
}

TEST_CASE("a 30 degree slope that faces 170 meets the sun at 25.18700 degrees", "[terrain]") {
    // Zenith 50.11162, azimuth 194.34024 (Reda and Andreas, NREL/TP-560-34302, table A5.1; optical.md, Sun, A).
    const double cosine = incidenceCosine(30.0, 170.0, 50.11162, 194.34024);
    CHECK(degreesFromRadians(std::acos(cosine)) == Approx(25.18700).epsilon(0.0).margin(5e-6));
    CHECK(tilted(1.0, 0.0, cosine, 1.0, 1.0).beam == Approx(std::cos(radiansFromDegrees(25.18700))).epsilon(1e-7));
}

TEST_CASE("of two 20 degree slopes under a sun of 30 degrees one gets 0.766, the other 0.174: 4.41 times less", "[terrain]") {
    // optical.md, Shadow, slope, shading (C): cos 40 deg and cos 80 deg.
    const double sunlit = tilted(1.0, 0.0, incidenceCosine(20.0, 180.0, 60.0, 180.0), 1.0, 1.0).beam;
    const double shaded = tilted(1.0, 0.0, incidenceCosine(20.0, 0.0, 60.0, 180.0), 1.0, 1.0).beam;
    CHECK(sunlit == Approx(0.766).epsilon(0.0).margin(5e-4));
    CHECK(shaded == Approx(0.174).epsilon(0.0).margin(5e-4));
    CHECK(sunlit / shaded == Approx(4.41).epsilon(0.0).margin(0.005));
}
