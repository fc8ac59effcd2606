// The share of the sky that a surface sees: known cases, and the hemisphere counted ray by ray.
#include <catch2/catch.hpp>

#include <cmath>

#include "base/angle.h"
#include "base/threads.h"
#include "ground/ground.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

/// Share of unblocked directions, spread over the hemisphere of the surface with the cosine's density; only those over
/// the level horizon are sky. Stratified in `n` x `n` cells.
double countedShare(const Ground& ground, const Vec3& point, const Vec3& normal, int n) {
    const Vec3 side = glm::normalize(glm::cross(std::abs(normal.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, normal));
    const Vec3 other = glm::cross(normal, side);
    int seen = 0;
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) {
            const double r = std::sqrt((i + 0.5) / n);
            const double a = 2.0 * constants::pi * (j + 0.5) / n;
            const Vec3 d = r * std::cos(a) * side + r * std::sin(a) * other + std::sqrt(1.0 - r * r) * normal;
            if (d.z > 0.0 && !ground.blocked(point, normal, glm::normalize(d))) ++seen;
        }
    }
    return static_cast<double>(seen) / (n * n);
}

Ground shaped(int posts, double spacing, const std::function<double(double, double)>& height) {
    return Ground(test::shapedTerrain(posts, posts, spacing, height), {}, {}, 0);
}

}  // namespace

TEST_CASE("level open ground sees the whole sky") {
    const Ground level = shaped(17, 10.0, [](double, double) { return 7.0; });
    CHECK(level.skyShare({0, 0, 7}, {0, 0, 1}) == Approx(1.0).margin(1e-6));
    CHECK(level.skyShare({-80, 80, 7}, {0, 0, 1}) == Approx(1.0).margin(1e-6));
    CHECK(level.skyShare({500, 0, 0}, {0, 0, 1}) == Approx(1.0).margin(1e-6));
}

TEST_CASE("a tilted surface on open ground sees (1 + cos slope) / 2, and a wall half") {
    // The sum over sixteen azimuths is off by a few thousandths on faces steeper than any terrain.
    const Ground level = shaped(17, 10.0, [](double, double) { return 0.0; });
    for (int slope = 0; slope <= 90; slope += 5) {
        const double s = radiansFromDegrees(slope);
        for (int azimuth = 0; azimuth < 360; azimuth += 15) {
            const double a = radiansFromDegrees(azimuth);
            INFO("slope " << slope << ", facing " << azimuth);
            CHECK(level.skyShare({0, 0, 0}, {std::sin(s) * std::sin(a), std::sin(s) * std::cos(a), std::cos(s)}) ==
                  Approx(0.5 * (1.0 + std::cos(s))).margin(slope <= 80 ? 1e-3 : 4e-3));
        }
    }
}

TEST_CASE("a uniform slope sees (1 + cos slope) / 2, whichever way it faces") {
    for (const double slope_deg : {10.0, 20.0, 35.0}) {
        for (const double azimuth_deg : {0.0, 45.0, 200.0}) {
            const double slope = radiansFromDegrees(slope_deg);
            const Vec2 uphill{std::sin(radiansFromDegrees(azimuth_deg)), std::cos(radiansFromDegrees(azimuth_deg))};
            const Ground ground = shaped(65, 10.0, [&](double x, double y) { return std::tan(slope) * (x * uphill.x + y * uphill.y); });
            const Vec3 normal = ground.terrain().normalAt(0, 0);
            CHECK(normal.z == Approx(std::cos(slope)).epsilon(1e-6));
            INFO("slope " << slope_deg << ", uphill " << azimuth_deg);
            CHECK(ground.skyShare({0, 0, 0}, normal) == Approx(0.5 * (1.0 + std::cos(slope))).margin(1e-3));
        }
    }
}

TEST_CASE("the floor of a long canyon sees the cosine of its walls' elevation") {
    // Walls 50 m high, tops 60 m from the middle. For an endless canyon the share is cos(atan(50 / 60)); this one is
    // 1280 m long, which leaves a few thousandths out. The horizon is looked for at distances that grow by a quarter, so a
    // sharp edge is seen up to a fifth too far away; the margin is that loss.
    const Ground canyon = shaped(129, 10.0, [](double x, double) { return std::abs(x) < 55.0 ? 0.0 : 50.0; });
    const double endless = std::cos(std::atan2(50.0, 60.0));
    CHECK(countedShare(canyon, {0, 0, 0}, {0, 0, 1}, 400) == Approx(endless).margin(0.004));
    CHECK(canyon.skyShare({0, 0, 0}, {0, 0, 1}) == Approx(endless).margin(0.03));
    // Deeper is darker, and outside the canyon nothing is hidden.
    const Ground deeper = shaped(129, 10.0, [](double x, double) { return std::abs(x) < 55.0 ? 0.0 : 100.0; });
    CHECK(deeper.skyShare({0, 0, 0}, {0, 0, 1}) < canyon.skyShare({0, 0, 0}, {0, 0, 1}) - 0.1);
    CHECK(canyon.skyShare({300, 0, 50}, {0, 0, 1}) == Approx(1.0).margin(1e-3));
}

TEST_CASE("the bottom of a round bowl sees the sine squared of its rim's zenith angle") {
    // A bowl whose rim stands 100 m high at 200 m all around: zenith angle H with tan H = 200 / 100.
    const Ground bowl = shaped(129, 10.0, [](double x, double y) { return std::min(100.0, 100.0 * std::pow(std::hypot(x, y) / 200.0, 4)); });
    const double sine = std::sin(std::atan2(200.0, 100.0));
    CHECK(countedShare(bowl, {0, 0, 0}, {0, 0, 1}, 400) == Approx(sine * sine).margin(0.01));  // posts round the rim off
    CHECK(bowl.skyShare({0, 0, 0}, {0, 0, 1}) == Approx(sine * sine).margin(0.05));           // the sharp rim again
}

TEST_CASE("on hills the share agrees with the hemisphere counted ray by ray") {
    // Hills of 250 m, 40 m high and smooth on the scale of the posts.
    const Ground hills = shaped(129, 5.0, [](double x, double y) {
        return 40.0 * std::sin(x / 40.0) * std::cos(y / 45.0) + 10.0 * std::sin(0.05 * (x + y));
    });
    const int points = test::effort(400);
    std::vector<double> errors(static_cast<std::size_t>(points));
    std::vector<double> shares(static_cast<std::size_t>(points));
    parallelFor(points, 0, [&](int i) {
        Draws draws(21, static_cast<std::uint32_t>(i));
        const double x = draws.between(-280, 280);
        const double y = draws.between(-280, 280);
        const Vec3 point{x, y, hills.terrain().heightAt(x, y)};
        const Vec3 normal = hills.terrain().normalAt(x, y);
        const double counted = countedShare(hills, point, normal, 80);
        errors[static_cast<std::size_t>(i)] = hills.skyShare(point, normal) - counted;
        shares[static_cast<std::size_t>(i)] = counted;
    });
    double square = 0.0, worst = 0.0, least = 1.0;
    for (std::size_t i = 0; i < errors.size(); ++i) {
        square += errors[i] * errors[i];
        worst = std::max(worst, std::abs(errors[i]));
        least = std::min(least, shares[i]);
    }
    CAPTURE(worst, least, std::sqrt(square / points));
    CHECK(least < 0.85);  // the hills do hide sky
    CHECK(std::sqrt(square / points) < 0.01);
    CHECK(worst < 0.03);
}
