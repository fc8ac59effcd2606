// The surface itself: its borders, its heights, its materials and what stands on it, by hand and at many places.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "ground/ground.h"
#include "plain_search.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::plain;
using test::Draws;

TEST_CASE("the shadow of a tower on level ground ends at height over the tangent of the elevation") {
    Object tower;
    tower.shape = Shape::cylinder;
    tower.length_m = 6.0;
    tower.height_m = 60.0;
    const Ground ground(test::shapedTerrain(101, 101, 5.0, [](double, double) { return 0.0; }), {}, {tower}, 0);
    const double elevation = constants::pi / 6.0;
    const Vec3 sun{0.0, std::cos(elevation), std::sin(elevation)};  // in the north: the shadow falls south
    const Vec3 up{0, 0, 1};
    // The far rim of the top, 3 m south of the axis, throws the shadow's end; the ray starts lift_m() higher up.
    const double end = -3.0 - 60.0 / std::tan(elevation);
    const double lift = ground.lift_m() / std::tan(elevation);
    CHECK(ground.blocked({0, -4, 0}, up, sun));
    CHECK(ground.blocked({0, end + lift + 6.0 + 0.01, 0}, up, sun));
    CHECK_FALSE(ground.blocked({0, end - 0.01, 0}, up, sun));
    CHECK(ground.blocked({2.9, -30, 0}, up, sun));
    CHECK_FALSE(ground.blocked({3.1, -30, 0}, up, sun));
    CHECK_FALSE(ground.blocked({0, 4, 0}, up, sun));
    const auto where = ground.blocking({0, -4, 0}, up, sun);
    REQUIRE(where);
    CHECK(where->point_m.y == Approx(-3.0));
    CHECK(where->meets == Meets::object);
    CHECK(where->object == 0);
}

TEST_CASE("outside the place lies a level plane at datum, above it the sky") {
    const Ground ground(test::shapedTerrain(11, 11, 10.0, [](double, double) { return 5.0; }), {}, {}, 4);
    const GroundHit beyond = ground.intersect({{500, 0, 1000}, {0, 0, -1}});
    CHECK(beyond.meets == Meets::beyond);
    CHECK(beyond.distance_m == 1000.0);
    CHECK(beyond.point_m == Vec3{500, 0, 0});
    CHECK(beyond.normal == Vec3{0, 0, 1});
    CHECK(beyond.material == 4);
    CHECK(ground.intersect({{500, 0, 1000}, {0, 0, 1}}).meets == Meets::sky);
    CHECK(ground.intersect({{500, 0, 1000}, {1, 0, 0}}).meets == Meets::sky);
    CHECK(ground.intersect({{0, 0, 1000}, {0, 0, 1}}).meets == Meets::sky);
    CHECK(ground.intersect({{0, 0, 5.001}, {1, 0, 0}}).meets == Meets::sky);
    const GroundHit inside = ground.intersect({{0, 0, 1000}, {0, 0, -1}});
    CHECK(inside.meets == Meets::terrain);
    CHECK(inside.distance_m == 995.0);
    CHECK(inside.up == Vec3{0, 0, 1});
    CHECK(inside.north == Vec3{0, 1, 0});
    // A ray that would meet the plane behind the place is stopped by the place's raised edge.
    const Vec3 direction = glm::normalize(Vec3{-1.0, 0.0, -0.02});
    const GroundHit edge = ground.intersect({{100, 0, 3.0}, direction});
    CHECK(edge.meets == Meets::terrain);
    CHECK(edge.point_m.x == Approx(50.0));
    // And one that meets the plane before the place ends there.
    CHECK(ground.intersect({{300, 0, 3.0}, direction}).meets == Meets::beyond);
}

TEST_CASE("corners and borders of the place belong to it") {
    const HeightField field = test::roughTerrain(11, 9, 10.0, 5.0, 8);
    const Ground ground(field, {}, {}, 0);
    for (const double east : {field.west_m(), 0.0, field.east_m()}) {
        for (const double north : {field.south_m(), 0.0, field.north_m()}) {
            const GroundHit hit = ground.intersect({{east, north, 100}, {0, 0, -1}});
            INFO("at " << east << ", " << north);
            CHECK(hit.meets == Meets::terrain);
            CHECK(hit.point_m.z == Approx(field.heightAt(east, north)).margin(1e-9));
        }
    }
    CHECK(ground.intersect({{field.east_m() + 1e-6, 0, 100}, {0, 0, -1}}).meets == Meets::beyond);
}

TEST_CASE("a rim below datum is met from within the place") {
    const Ground pit(test::shapedTerrain(11, 11, 10.0, [](double, double) { return -20.0; }), {}, {}, 6);
    // From 10 m above datum over the pit, falling 1 in 3: out over the edge 50 m away at 20 / 3 m below datum.
    const Vec3 direction = glm::normalize(Vec3{3.0, 0.0, -1.0});
    const GroundHit rim = pit.intersect({{0, 0, 10}, direction});
    CHECK(rim.meets == Meets::beyond);
    CHECK(rim.point_m.x == Approx(50.0));
    CHECK(rim.point_m.z == Approx(10.0 - 50.0 / 3.0));
    CHECK(rim.normal == Vec3{-1, 0, 0});
    CHECK(rim.material == 6);
    CHECK(pit.intersect({{0, 0, -10}, {0, 1, 0}}).meets == Meets::beyond);
    CHECK(pit.intersect({{0, 0, -10}, glm::normalize(Vec3{0, 1, 0.5})}).meets == Meets::sky);
    CHECK(pit.intersect({{0, 0, 10}, {0, 0, -1}}).meets == Meets::terrain);
}

TEST_CASE("the topmost surface is the terrain's or an object's, and datum outside") {
    const HeightField field = test::roughTerrain(61, 61, 4.0, 20.0, 13);
    const Ground ground(field, {}, randomObjects(field, 60, 14), 0);
    Draws draws(1, 5);
    int on_objects = 0;
    double highest = 0.0;
    for (int i = 0; i < 20000; ++i) {
        const double east = draws.between(1.1 * field.west_m(), 1.1 * field.east_m());
        const double north = draws.between(1.1 * field.south_m(), 1.1 * field.north_m());
        double expected = 0.0;
        if (field.contains(east, north)) {
            expected = field.heightAt(east, north);
            const double terrain = expected;
            for (const Object& o : ground.objects()) expected = std::max(expected, o.surfaceOver(east, north).value_or(expected));
            if (expected > terrain) ++on_objects;
        }
        CHECK(ground.surfaceAt(east, north) == Approx(expected).margin(1e-9));
        highest = std::max(highest, expected);
    }
    CHECK(on_objects > 200);
    CHECK(ground.highest_m() >= highest);
    for (const Object& o : ground.objects()) CHECK(ground.surfaceAt(o.east_m, o.north_m) >= Approx(o.top_m()).margin(1e-6));
}

TEST_CASE("the highest surface over each cell is that of its highest post, the other way round too") {
    const HeightField field = test::roughTerrain(75, 38, 4.0, 20.0, 21);
    const Ground ground(field, {}, {}, 0);
    for (int row = 0; row < field.cellRows(); ++row) {
        for (int column = 0; column < field.cellColumns(); ++column) {
            CHECK(ground.highestCells().at(column, row) == field.cellMost(column, row));
            CHECK(ground.highestCellsTransposed().at(row, column) == field.cellMost(column, row));
        }
    }
}

TEST_CASE("nothing within half a cell of a point is higher than the bound kept for it, and the bound is near") {
    const HeightField field = test::roughTerrain(61, 61, 4.0, 20.0, 16);
    const Ground ground(field, {}, randomObjects(field, 40, 17), 0);
    Draws draws(1, 9);
    int close = 0;
    for (int i = 0; i < 4000; ++i) {
        const double east = draws.between(1.1 * field.west_m(), 1.1 * field.east_m());
        const double north = draws.between(1.1 * field.south_m(), 1.1 * field.north_m());
        const double bound = static_cast<double>(ground.highestAbout(east, north));
        double highest = 0.0;
        double wider = 0.0;  // within one and a half cells: what a bound over whole cells may see
        for (int k = 0; k < 60; ++k) {
            const double x = draws.between(-2.0, 2.0);
            const double y = draws.between(-2.0, 2.0);
            highest = std::max(highest, ground.surfaceAt(east + x, north + y));
            wider = std::max(wider, ground.surfaceAt(east + 3.0 * x, north + 3.0 * y));
        }
        INFO("at " << east << ", " << north);
        CHECK(bound >= highest - 1e-4);
        if (bound <= wider + 6.0) ++close;
    }
    CHECK(close > 3000);
}

TEST_CASE("objects stand on the terrain at their centre and no gap opens under them on a slope") {
    const HeightField slope = test::shapedTerrain(81, 81, 2.0, [](double east, double north) { return 0.5 * east + 0.2 * north; });
    for (int shape = 0; shape < 7; ++shape) {
        Object o;
        o.shape = static_cast<Shape>(shape);
        o.east_m = 5.0;
        o.north_m = -3.0;
        o.length_m = 20.0;
        o.width_m = 12.0;
        o.height_m = 10.0;
        o.heading_rad = 0.6;
        const Ground ground(slope, {}, {o}, 0);
        const Object& placed = ground.objects()[0];
        INFO(nameOf(placed.shape));
        CHECK(placed.base_m == Approx(0.5 * 5.0 - 0.2 * 3.0).margin(1e-5));
        // Level rays a hand's breadth over the ground, up the slope towards the middle of the object, meet it.
        const Vec3 downhill = glm::normalize(Vec3{-0.5, -0.2, 0.0});
        for (double turn = -1.2; turn <= 1.2; turn += 0.1) {
            const Vec3 away{downhill.x * std::cos(turn) - downhill.y * std::sin(turn), downhill.x * std::sin(turn) + downhill.y * std::cos(turn), 0.0};
            Vec3 start = Vec3{5.0, -3.0, 0.0} + 25.0 * away;
            start.z = slope.heightAt(start.x, start.y) + 0.1;
            // Along the ground: to a point 0.1 m over the terrain under the centre.
            const Vec3 aim{5.0, -3.0, placed.base_m + 0.1};
            CHECK(ground.intersect({start, glm::normalize(aim - start)}).meets == Meets::object);
        }
    }
}

TEST_CASE("every hit on the terrain carries the material of its cell") {
    const HeightField field = test::roughTerrain(9, 7, 10.0, 3.0, 15);
    Raster<std::uint8_t> materials(8, 6);
    for (int row = 0; row < 6; ++row) {
        for (int column = 0; column < 8; ++column) materials.at(column, row) = static_cast<std::uint8_t>(row * 8 + column);
    }
    const Ground ground(field, materials, {}, 99);
    Draws draws(6, 6);
    for (int i = 0; i < 2000; ++i) {
        const double east = draws.between(-40, 40);
        const double north = draws.between(-30, 30);
        const int expected = static_cast<int>(std::floor((north + 30) / 10)) * 8 + static_cast<int>(std::floor((east + 40) / 10));
        CHECK(ground.materialAt(east, north) == expected);
        CHECK(ground.intersect({{east, north, 50}, {0, 0, -1}}).material == expected);
    }
    CHECK(ground.materialAt(41, 0) == 99);
    CHECK(ground.materialAt(40, 30) == 47);  // the far corner belongs to the last cell
    CHECK(ground.beyondMaterial() == 99);
}

TEST_CASE("the lift off a surface covers what single precision loses over the whole place") {
    for (const double spacing : {1.0, 100.0, 4000.0}) {
        const Ground ground(test::shapedTerrain(11, 11, spacing, [](double, double) { return 0.0; }), {}, {}, 0);
        const double far = ground.terrain().east_m() * 0.9999999;
        CHECK(ground.lift_m() > std::abs(far - static_cast<double>(static_cast<float>(far))));
        CHECK(ground.lift_m() >= 0.01);
    }
}
