// Things that move are met where they stand at the time of the ray: the reference is a ground on which the same things
// stand still at that place.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "ground/ground.h"
#include "ground/sun_field.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

constexpr int posts = 49;
constexpr double spacing_m = 4.0;

HeightField hills() { return test::roughTerrain(posts, posts, spacing_m, 12.0, 77); }

/// Still things and moving ones in turn, all shapes; they stay over the place for 20 s to both sides of time 0.
std::vector<Object> things() {
    std::vector<Object> out;
    Draws draws(12, 5);
    for (int i = 0; i < 28; ++i) {
        Object o;
        o.shape = static_cast<Shape>(i / 2 % 7);
        o.east_m = draws.between(-40.0, 40.0);
        o.north_m = draws.between(-40.0, 40.0);
        o.length_m = draws.between(2.0, 30.0);
        o.width_m = draws.between(1.0, 10.0);
        o.height_m = draws.between(2.0, 20.0);
        o.heading_rad = draws.between(-3.0, 3.0);
        o.top_material = static_cast<std::uint16_t>(100 + 2 * i);
        o.side_material = static_cast<std::uint16_t>(101 + 2 * i);
        if (i % 2 == 1) {
            o.speed_m_s = draws.between(0.1, 2.2);
            o.track_rad = draws.between(-3.0, 3.0);
        }
        out.push_back(o);
    }
    return out;
}

/// The same ground with everything held still where it stands at a time.
Ground frozen(const Ground& ground, double time_s) {
    std::vector<Object> all(ground.objects().begin(), ground.objects().end());
    for (std::size_t i = 0; i < ground.movers().size(); ++i) {
        Object o = ground.movers()[i];
        o.east_m += o.speed_m_s * time_s * std::sin(o.track_rad);
        o.north_m += o.speed_m_s * time_s * std::cos(o.track_rad);
        o.speed_m_s = 0.0;
        all.push_back(o);
    }
    return Ground(hills(), {}, std::move(all), 0);
}

}  // namespace

TEST_CASE("a ray meets moving things where they stand at its time, and the sun is blocked by them there") {
    const Ground ground(hills(), {}, things(), 0);
    REQUIRE(ground.objects().size() == 14);
    REQUIRE(ground.movers().size() == 14);
    const int rays = test::effort(4000);
    int met = 0, moved_shadow = 0, different = 0, wrong_shadow = 0;
    for (const double time : {-20.0, -3.7, 0.0, 1.0, 11.3, 20.0}) {
        const Ground still = frozen(ground, time);
        REQUIRE(still.movers().empty());
        for (int i = 0; i < rays; ++i) {
            Draws draws(31, static_cast<std::uint32_t>(i));
            const Vec3 aim{draws.between(-90.0, 90.0), draws.between(-90.0, 90.0), draws.between(-10.0, 20.0)};
            Vec3 d = draws.direction();
            if (i % 5 == 0) d = {0.0, 0.0, -1.0};
            const bool low = i % 7 == 0;  // nearly level
            if (low) d = glm::normalize(Vec3{d.x, d.y, 0.01 * d.z});
            const Ray ray{aim - draws.between(30.0, 400.0) * d, d, time};
            const GroundHit a = ground.intersect(ray), b = still.intersect(ray);
            const bool mover = a.object >= 14;
            met += mover ? 1 : 0;
            if (a.meets != b.meets || a.object != b.object || a.material != b.material || std::abs(a.distance_m - b.distance_m) > 1e-7 ||
                glm::length(a.normal - b.normal) > 1e-9) {
                ++different;
            }
            const GroundHit near = ground.intersectNear(ray, 0.0);
            if (near.object != a.object || std::abs(near.distance_m - a.distance_m) > 1e-7) ++different;
            if (b.meets == Meets::sky) continue;
            Vec3 sun = draws.direction();
            sun.z = std::abs(sun.z);
            if (glm::dot(sun, b.normal) <= 0.0) continue;
            const bool blocked = still.blocked(b.point_m, b.normal, sun);
            if (ground.blocked(b.point_m, b.normal, sun, time) != blocked) ++wrong_shadow;
            const auto by = ground.blocking(b.point_m, b.normal, sun, time), truth = still.blocking(b.point_m, b.normal, sun);
            if (by.has_value() != blocked || truth.has_value() != blocked) ++wrong_shadow;
            else if (by && (by->object != truth->object || glm::length(by->point_m - truth->point_m) > 1e-6)) ++wrong_shadow;
            moved_shadow += by && by->object >= 14 ? 1 : 0;
        }
    }
    CHECK(met > rays / 8);  // of six times as many
    CHECK(moved_shadow > rays / 20);
    CHECK(different == 0);
    CHECK(wrong_shadow == 0);
}

TEST_CASE("a sun field and the moving things together answer as the exact search does") {
    const Ground ground(hills(), {}, things(), 0);
    const Vec3 sun = glm::normalize(Vec3{0.7, -0.4, 0.5});
    const SunField field(ground, sun, 1);
    int by_mover = 0, wrong = 0;
    for (int i = 0; i < test::effort(20000); ++i) {
        Draws draws(9, static_cast<std::uint32_t>(i));
        const double time = draws.between(-20.0, 20.0);
        const GroundHit hit = ground.intersect({{draws.between(-95.0, 95.0), draws.between(-95.0, 95.0), 200.0}, {0.0, 0.0, -1.0}, time});
        if (glm::dot(hit.normal, sun) <= 0.0) continue;
        const bool moving = ground.blockedByMover(hit.point_m, hit.normal, sun, time);
        by_mover += moving ? 1 : 0;
        if ((moving || field.blocked(hit.point_m, hit.normal)) != ground.blocked(hit.point_m, hit.normal, sun, time)) ++wrong;
    }
    CHECK(by_mover > 0);
    CHECK(wrong == 0);
}

TEST_CASE("a moving thing follows the ground under its centre, and the plane beyond the place") {
    const HeightField slope = test::shapedTerrain(11, 11, 20.0, [](double east, double) { return 0.25 * (east + 100.0); });
    Object car;
    car.length_m = 6.0;
    car.width_m = 2.0;
    car.height_m = 3.0;
    car.speed_m_s = 10.0;
    car.heading_rad = car.track_rad = 0.5 * constants::pi;
    const Ground ground(slope, {}, {car}, 0);
    CHECK(ground.movers()[0].base_m == Approx(25.0));
    for (const double time : {-9.0, 0.0, 4.0, 9.5}) {
        const double east = 10.0 * time;
        const GroundHit hit = ground.intersect({{east, 0.5, 500.0}, {0.0, 0.0, -1.0}, time});
        CHECK(hit.object == 0);
        CHECK(hit.point_m.z == Approx(0.25 * (east + 100.0) + 3.0));
        CHECK(ground.moverAt(0, time).east_m == Approx(east));
        CHECK(ground.moverAt(0, time).top_m() == Approx(hit.point_m.z));
        CHECK(ground.intersect({{east, 0.5, 500.0}, {0.0, 0.0, -1.0}, time + 2.0}).meets != Meets::object);  // it has gone
        // No gap shows between the slope and its lower end.
        const GroundHit side = ground.intersect({{east - 20.0, 0.0, 0.25 * (east + 97.0) + 0.2}, {1.0, 0.0, 0.0}, time}, 0.0);
        CHECK(side.meets == Meets::object);
    }
    CHECK(ground.intersect({{150.0, 0.0, 500.0}, {0.0, 0.0, -1.0}, 15.0}).point_m.z == Approx(3.0));  // beyond, at datum
    CHECK(ground.highest_m() >= 50.0 + 3.0);
    CHECK(ground.thing(0).moves());
}
