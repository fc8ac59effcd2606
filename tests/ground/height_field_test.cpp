// The terrain's heights, normals, and the exact meeting of a ray with one patch.
#include <catch2/catch.hpp>

#include <cmath>

#include "ground/height_field.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

/// One 10 m cell with corner heights south-west, south-east, north-west, north-east.
HeightField cell(float sw, float se, float nw, float ne) {
    Raster<float> posts(2, 2);
    posts.at(0, 0) = sw;
    posts.at(1, 0) = se;
    posts.at(0, 1) = nw;
    posts.at(1, 1) = ne;
    return HeightField(std::move(posts), 10.0);
}

}  // namespace

TEST_CASE("a height field is centred on the origin with its first post in the south-west") {
    const HeightField f = test::shapedTerrain(5, 3, 10.0, [](double east, double north) { return 2.0 * east + north; });
    CHECK(f.columns() == 5);
    CHECK(f.rows() == 3);
    CHECK(f.cellColumns() == 4);
    CHECK(f.cellRows() == 2);
    CHECK(f.west_m() == -20.0);
    CHECK(f.east_m() == 20.0);
    CHECK(f.south_m() == -10.0);
    CHECK(f.north_m() == 10.0);
    CHECK(f.post_m(0, 0) == -50.0);
    CHECK(f.post_m(4, 0) == 30.0);
    CHECK(f.post_m(0, 2) == -30.0);
    CHECK(f.least_m() == -50.0);
    CHECK(f.most_m() == 50.0);
    CHECK(f.contains(20.0, 10.0));
    CHECK(f.contains(-20.0, -10.0));
    CHECK_FALSE(f.contains(20.001, 0.0));
    CHECK_FALSE(f.contains(0.0, -10.001));
}

TEST_CASE("the lowest and the highest post are found wherever they stand") {
    for (const int columns : {2, 5, 16, 33}) {
        for (const int at : {0, 1, columns, 2 * columns - 1}) {
            CAPTURE(columns, at);
            Raster<float> posts(columns, 2, 3.0f);
            posts.values()[static_cast<std::size_t>(at)] = 9.0f;
            CHECK(HeightField(posts, 1.0).most_m() == 9.0);
            CHECK(HeightField(posts, 1.0).least_m() == 3.0);
            posts.values()[static_cast<std::size_t>(at)] = -4.0f;
            CHECK(HeightField(posts, 1.0).most_m() == 3.0);
            CHECK(HeightField(posts, 1.0).least_m() == -4.0);
        }
    }
}

TEST_CASE("heights are bilinear between posts, and outside those of the nearest edge") {
    const HeightField f = cell(0, 10, 20, 50);
    CHECK(f.heightAt(-5, -5) == 0.0);
    CHECK(f.heightAt(5, -5) == 10.0);
    CHECK(f.heightAt(-5, 5) == 20.0);
    CHECK(f.heightAt(5, 5) == 50.0);
    CHECK(f.heightAt(0, 0) == 20.0);
    CHECK(f.heightAt(0, -5) == 5.0);
    CHECK(f.heightAt(2.5, 2.5) == Approx(0.75 * 0.25 * 10 + 0.25 * 0.75 * 20 + 0.75 * 0.75 * 50));
    CHECK(f.heightAt(100, -5) == 10.0);
    CHECK(f.heightAt(-100, 100) == 20.0);
    CHECK(f.cellMost(0, 0) == 50.0f);
}

TEST_CASE("the normal of a plane is the plane's everywhere, and of rough ground that of small differences") {
    const HeightField plane = test::shapedTerrain(6, 6, 4.0, [](double east, double north) { return 0.5 * east - 0.25 * north; });
    const Vec3 expected = glm::normalize(Vec3{-0.5, 0.25, 1.0});
    for (const double x : {-9.9, 0.0, 3.3, 10.0}) CHECK(glm::length(plane.normalAt(x, -x) - expected) < 1e-12);

    const HeightField rough = test::roughTerrain(17, 17, 5.0, 20.0, 3);
    Draws draws(1, 1);
    for (int i = 0; i < 2000; ++i) {
        // Keep off the borders of cells, where the slope jumps.
        const double x = 5.0 * (std::floor(draws.between(-8, 8)) + draws.between(0.01, 0.99));
        const double y = 5.0 * (std::floor(draws.between(-8, 8)) + draws.between(0.01, 0.99));
        const double d = 1e-4;
        const Vec3 n{-(rough.heightAt(x + d, y) - rough.heightAt(x - d, y)) / (2 * d),
                     -(rough.heightAt(x, y + d) - rough.heightAt(x, y - d)) / (2 * d), 1.0};
        CHECK(glm::length(rough.normalAt(x, y) - glm::normalize(n)) < 1e-8);
    }
}

TEST_CASE("a ray straight down meets a patch at the bilinear height") {
    const HeightField f = cell(0, 10, 20, 50);
    Draws draws(2, 1);
    for (int i = 0; i < 1000; ++i) {
        const double x = draws.between(-5, 5);
        const double y = draws.between(-5, 5);
        const auto t = f.intersectCell(0, 0, {{x, y, 100}, {0, 0, -1}}, 0.0, 200.0);
        REQUIRE(t);
        CHECK(100.0 - *t == Approx(f.heightAt(x, y)).margin(1e-12));
    }
}

TEST_CASE("a saddle is met where the quadratic says") {
    // h = 10 (u + v - 2 u v): along the diagonal u = v = s it is 20 s (1 - s), highest 5 m in the middle.
    const HeightField saddle = cell(0, 10, 10, 0);
    const double diagonal = std::sqrt(200.0);
    const Vec3 along{std::sqrt(0.5), std::sqrt(0.5), 0.0};
    // Level at 3.2 m: 20 s (1 - s) = 3.2 at s = 0.2.
    const auto first = saddle.intersectCell(0, 0, {{-5, -5, 3.2}, along}, 0.0, diagonal);
    REQUIRE(first);
    CHECK(*first == Approx(0.2 * diagonal).epsilon(1e-12));
    // A ray over the top touches nothing; one just under it is met just before the middle.
    CHECK_FALSE(saddle.intersectCell(0, 0, {{-5, -5, 5.0001}, along}, 0.0, diagonal));
    const auto graze = saddle.intersectCell(0, 0, {{-5, -5, 4.9999}, along}, 0.0, diagonal);
    REQUIRE(graze);
    CHECK(*graze == Approx((0.5 - std::sqrt(0.0001 / 20.0)) * diagonal).epsilon(1e-9));
    // Across the other diagonal the saddle is a valley, 10 - 20 s (1 - s): a level ray at 7 m begins under ground.
    const Vec3 across{std::sqrt(0.5), -std::sqrt(0.5), 0.0};
    CHECK(saddle.intersectCell(0, 0, {{-5, 5, 7.0}, across}, 0.0, diagonal) == 0.0);
    // From above the valley's middle it goes on to the far wall: 10 - 20 s (1 - s) = 7 at s = (1 + sqrt 0.4) / 2.
    const auto wall = saddle.intersectCell(0, 0, {{-5, 5, 7.0}, across}, 0.5 * diagonal, diagonal);
    REQUIRE(wall);
    CHECK(*wall == Approx(0.5 * (1.0 + std::sqrt(0.4)) * diagonal).epsilon(1e-12));
}

TEST_CASE("only hits within the asked distances count") {
    const HeightField f = cell(0, 0, 0, 0);
    const Ray down{{1, 1, 50}, {0, 0, -1}};
    CHECK(f.intersectCell(0, 0, down, 0.0, 60.0) == 50.0);
    CHECK_FALSE(f.intersectCell(0, 0, down, 0.0, 49.9));
    CHECK(f.intersectCell(0, 0, down, 49.0, 51.0) == 50.0);
    CHECK(f.intersectCell(0, 0, down, 55.0, 60.0) == 55.0);  // already below the ground
    CHECK_FALSE(f.intersectCell(0, 0, {{1, 1, 50}, {0, 0, 1}}, 0.0, 60.0));
    CHECK_FALSE(f.intersectCell(0, 0, {{-5, 0, 1}, {1, 0, 0}}, 0.0, 10.0));
}

TEST_CASE("the first of two meetings is found on patches bent either way") {
    Draws draws(3, 3);
    int two = 0;
    for (int i = 0; i < test::effort(200000); ++i) {
        const HeightField f = cell(static_cast<float>(draws.between(-5, 5)), static_cast<float>(draws.between(-5, 5)),
                                   static_cast<float>(draws.between(-5, 5)), static_cast<float>(draws.between(-5, 5)));
        const Vec3 from{draws.between(-5, 5), draws.between(-5, 5), draws.between(-5, 5)};
        const Vec3 to{draws.between(-5, 5), draws.between(-5, 5), draws.between(-5, 5)};
        const double length = glm::length(to - from);
        if (length < 0.1) continue;
        const Ray ray{from, (to - from) / length};
        const auto gap = [&](double t) {
            const Vec3 p = ray.at(t);
            return f.heightAt(p.x, p.y) - p.z;
        };
        // Within a patch the gap is a parabola: three values fix it.
        const double g0 = gap(0.0);
        const double g1 = gap(length);
        const double bend = 2.0 * (g0 + g1 - 2.0 * gap(0.5 * length));
        const double slope = g1 - g0 - bend;
        const double top = bend < 0.0 ? -slope / (2.0 * bend) : -1.0;  // where it is highest, as a share of the length
        const bool bump = top > 0.0 && top < 1.0 && gap(top * length) > 1e-9;
        const auto hit = f.intersectCell(0, 0, ray, 0.0, length);
        INFO("patch " << i << ": gap " << g0 << " to " << g1 << ", bump " << bump);
        if (g0 >= 0.0) {
            CHECK(hit == 0.0);
        } else if (bump || g1 > 1e-9) {
            double above = 0.0;
            double below = bump ? top * length : length;
            for (int k = 0; k < 60; ++k) (gap(0.5 * (above + below)) < 0.0 ? above : below) = 0.5 * (above + below);
            REQUIRE(hit);
            CHECK(*hit == Approx(below).margin(1e-6));
            if (g1 < 0.0) ++two;
        } else if (g1 < -1e-9 && !(top > 0.0 && top < 1.0 && gap(top * length) > -1e-9)) {
            CHECK_FALSE(hit);
        }
    }
    CHECK(two > test::effort(200000) / 2000);
}
