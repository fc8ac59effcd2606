// The sun field answers as the exact search does, for every point and every sun.
#include <catch2/catch.hpp>

#include <array>
#include <cmath>

#include "base/threads.h"
#include "ground/sun_field.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

Ground hillsWithObjects(int columns, int rows) {
    std::vector<Object> objects;
    Draws draws(3, 41);
    for (int i = 0; i < 70; ++i) {
        Object o;
        o.shape = static_cast<Shape>(i % 7);
        o.east_m = draws.between(-2.0 * columns + 23.0, 2.0 * columns - 23.0);
        o.north_m = draws.between(-2.0 * rows + 23.0, 2.0 * rows - 23.0);
        o.length_m = draws.between(1.0, 40.0);
        o.width_m = draws.between(0.5, 20.0);
        o.height_m = draws.between(1.0, 60.0);
        o.heading_rad = draws.between(-3.0, 3.0);
        objects.push_back(o);
    }
    return Ground(test::roughTerrain(columns, rows, 4.0, 25.0, 33), {}, std::move(objects), 0);
}

Vec3 sunAt(double azimuth_deg, double elevation_deg) {
    const double a = azimuth_deg * constants::pi / 180.0;
    const double e = elevation_deg * constants::pi / 180.0;
    return glm::normalize(Vec3{std::cos(e) * std::sin(a), std::cos(e) * std::cos(a), std::sin(e)});
}

}  // namespace

TEST_CASE("a sun field calls the same points shaded as the exact search, all around the compass and up to the zenith") {
    const Ground ground = hillsWithObjects(75, 61);
    const int points = test::effort(20000);
    for (const double elevation : {0.5, 3.0, 12.0, 30.0, 60.0, 89.0, 90.0}) {
        for (const double azimuth : {0.0, 17.0, 45.0, 90.0, 133.0, 180.0, 222.5, 270.0, 315.0, 359.0}) {
            const Vec3 sun = sunAt(azimuth, elevation);
            const SunField field(ground, sun);
            CHECK(field.towards() == sun);
            std::atomic<int> wrong{0};
            std::atomic<int> shaded{0};
            parallelFor(points, 0, [&](int i) {
                Draws draws(900, static_cast<std::uint32_t>(i));
                const HeightField& terrain = ground.terrain();
                const double east = draws.between(terrain.west_m(), terrain.east_m());
                const double north = draws.between(terrain.south_m(), terrain.north_m());
                // On the ground, on roofs, and in mid-air, since walls are lit there.
                const bool aloft = draws.uniform() < 0.2;
                const Vec3 point{east, north, ground.surfaceAt(east, north) + (aloft ? draws.between(0.0, 40.0) : 0.0)};
                const Vec3 normal = aloft ? draws.direction() : terrain.normalAt(east, north);
                const bool exact = ground.blocked(point, normal, sun);
                if (exact) ++shaded;
                if (field.blocked(point, normal) != exact) ++wrong;
            });
            INFO("sun at azimuth " << azimuth << ", elevation " << elevation << ": " << shaded << " shaded");
            CHECK(wrong == 0);
            if (elevation < 20.0) CHECK(shaded > points / 10);
        }
    }
}

TEST_CASE("a sun field answers for points on borders, in corners and outside the place") {
    const Ground ground = hillsWithObjects(75, 61);
    const HeightField& terrain = ground.terrain();
    for (const double azimuth : {0.0, 45.0, 90.0, 200.0, 270.0}) {
        const Vec3 sun = sunAt(azimuth, 8.0);
        const SunField field(ground, sun);
        for (int column = -2; column < terrain.columns() + 2; ++column) {
            for (int row = -2; row < terrain.rows() + 2; row += 3) {
                const double east = terrain.west_m() + column * terrain.spacing_m();  // exactly on the posts' lines
                const double north = terrain.south_m() + row * terrain.spacing_m();
                const Vec3 point{east, north, ground.surfaceAt(east, north)};
                INFO("azimuth " << azimuth << " at " << east << ", " << north);
                CHECK(field.blocked(point, {0, 0, 1}) == ground.blocked(point, {0, 0, 1}, sun));
            }
        }
    }
}

TEST_CASE("a sun field answers for many kept points at once as it does for each") {
    const Ground ground = hillsWithObjects(75, 61);
    for (const double elevation : {-5.0, 8.0, 35.0, 90.0}) {
        const Vec3 sun = sunAt(140.0, elevation);
        const SunField field(ground, sun);
        std::array<std::vector<float>, 6> kept;
        std::vector<std::uint8_t> asked;
        for (std::uint32_t i = 0; i < 3001; ++i) {
            Draws draws(902, i);
            const double east = draws.between(-170, 170);  // also outside the place
            const double north = draws.between(-140, 140);
            const Vec3 point{east, north, ground.surfaceAt(east, north) + (i % 5 == 0 ? draws.between(-5.0, 30.0) : 0.0)};
            const Vec3 normal = i % 5 == 0 ? draws.direction() : ground.terrain().normalAt(east, north);
            for (std::size_t k = 0; k < 3; ++k) {
                kept[k].push_back(static_cast<float>(point[static_cast<int>(k)]));
                kept[k + 3].push_back(static_cast<float>(normal[static_cast<int>(k)]));
            }
            asked.push_back(i % 7 == 0 ? 0 : 1);
        }
        std::vector<std::uint8_t> seen = asked;
        field.look({kept[0], kept[1], kept[2], kept[3], kept[4], kept[5]}, seen);
        int wrong = 0;
        for (std::size_t i = 0; i < seen.size(); ++i) {
            const Vec3 point(kept[0][i], kept[1][i], kept[2][i]);
            const Vec3 normal(kept[3][i], kept[4][i], kept[5][i]);
            const int expected = asked[i] != 0 && !ground.blocked(point, normal, sun) ? 1 : 0;
            if (seen[i] != expected) ++wrong;
        }
        INFO("elevation " << elevation);
        CHECK(wrong == 0);
    }
}

TEST_CASE("a sun field is the same for any number of threads, and a sun below the horizon needs none") {
    const Ground ground = hillsWithObjects(75, 61);
    const Vec3 sun = sunAt(140.0, 15.0);
    const SunField one(ground, sun, 1);
    const SunField many(ground, sun, 5);
    const Vec3 set = sunAt(140.0, -5.0);
    const SunField night(ground, set);
    for (std::uint32_t i = 0; i < 3000; ++i) {
        Draws draws(901, i);
        const double east = draws.between(-140, 140);
        const double north = draws.between(-110, 110);
        const Vec3 point{east, north, ground.surfaceAt(east, north)};
        CHECK(one.blocked(point, {0, 0, 1}) == many.blocked(point, {0, 0, 1}));
        CHECK(night.blocked(point, {0, 0, 1}) == ground.blocked(point, {0, 0, 1}, set));
    }
}

TEST_CASE("on level ground nothing is shaded, on one post nothing breaks") {
    const Ground level(test::shapedTerrain(2, 2, 10.0, [](double, double) { return 3.0; }), {}, {}, 0);
    for (const double azimuth : {0.0, 45.0, 270.0}) {
        const SunField field(level, sunAt(azimuth, 1.0));
        for (const double x : {-5.0, 0.0, 5.0}) CHECK_FALSE(field.blocked({x, -x, 3.0}, {0, 0, 1}));
    }
}
