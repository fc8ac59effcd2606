// Where rays end: the exact search over terrain and objects against plain searches that look everywhere.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "base/threads.h"
#include "ground/ground.h"
#include "plain_search.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::plain;
using test::Draws;

TEST_CASE("a million rays of every kind end on the terrain where a plain search over all cells says, none off by 0.1 m") {
    const HeightField field = test::roughTerrain(75, 61, 4.0, 25.0, 1);
    const Ground ground(field, {}, {}, 3);
    const int rays = test::effort(200000);
    for (const Kind kind : {Kind::from_above, Kind::low, Kind::level, Kind::along_grid, Kind::from_outside}) {
        Tally tally;
        parallelFor(rays, 0, [&](int i) {
            Draws draws(100 + static_cast<std::uint64_t>(kind), static_cast<std::uint32_t>(i));
            const Ray ray = randomRay(kind, field, draws);
            const double terrain = plainTerrainHit(field, ray);
            const double beyond = plainBeyondHit(field, ray);
            const GroundHit hit = ground.intersect(ray);
            const Meets expected = terrain <= beyond && terrain < infinity ? Meets::terrain
                                   : beyond < infinity                     ? Meets::beyond
                                                                           : Meets::sky;
            bool good = hit.meets == expected;
            if (good && expected != Meets::sky) {
                good = std::abs(hit.distance_m - std::min(terrain, beyond)) < 0.1 &&
                       glm::length(hit.point_m - ray.at(hit.distance_m)) < 1e-6 &&
                       std::abs(glm::length(hit.normal) - 1.0) < 1e-9;
            }
            // The walk from cell to cell is another way to the same hit.
            const GroundHit near = ground.intersectNear(ray, 0.0);
            good = good && near.meets == hit.meets && std::abs(near.distance_m - hit.distance_m) < 1e-6 &&
                   glm::dot(near.normal, hit.normal) > 1.0 - 1e-9 && near.material == hit.material;
            if (!good) {
                ++tally.wrong;
                tally.first_wrong = i;
            }
            ++(hit.meets == Meets::terrain ? tally.terrain : hit.meets == Meets::beyond ? tally.beyond : tally.sky);
        });
        INFO("kind " << static_cast<int>(kind) << ": one of the wrong rays is " << tally.first_wrong);
        CHECK(tally.wrong == 0);
        CHECK(tally.terrain > rays / 10);
    }
}

TEST_CASE("no ray gets under the terrain before its hit, seen by steps of five centimetres") {
    const HeightField field = test::roughTerrain(33, 33, 4.0, 15.0, 2);
    const Ground ground(field, {}, {}, 0);
    int hits = 0;
    const int rays = test::effort(4000);
    for (int i = 0; i < rays; ++i) {
        Draws draws(7, static_cast<std::uint32_t>(i));
        const Ray ray = randomRay(Kind::low, field, draws);
        const GroundHit hit = ground.intersect(ray);
        const double end = hit.meets == Meets::terrain ? hit.distance_m : 200.0;
        double under = -1.0;
        for (double t = 0.0; t < end - 1e-6; t += 0.05) {
            const Vec3 p = ray.at(t);
            if (field.contains(p.x, p.y) && field.heightAt(p.x, p.y) > p.z + 1e-9) {
                under = t;
                break;
            }
        }
        INFO("ray " << i << " ends at " << end << ", is under ground at " << under);
        CHECK(under < 0.0);
        if (hit.meets != Meets::terrain) continue;
        ++hits;
        CHECK(field.heightAt(hit.point_m.x, hit.point_m.y) == Approx(hit.point_m.z).margin(1e-9));
        CHECK(hit.normal == field.normalAt(hit.point_m.x, hit.point_m.y));
    }
    CHECK(hits > rays / 4);
}

TEST_CASE("terrain with objects: the search meets what testing every object one by one meets") {
    const HeightField field = test::roughTerrain(75, 61, 4.0, 25.0, 4);
    const Ground bare(field, {}, {}, 0);
    const Ground ground(field, {}, randomObjects(field, 120, 9), 0);
    const int rays = test::effort(100000);
    for (const Kind kind : {Kind::from_above, Kind::low, Kind::level, Kind::along_grid, Kind::from_outside}) {
        Tally tally;
        parallelFor(rays, 0, [&](int i) {
            Draws draws(300 + static_cast<std::uint64_t>(kind), static_cast<std::uint32_t>(i));
            const Ray ray = randomRay(kind, field, draws);
            const GroundHit without = bare.intersect(ray);
            double nearest = without.meets == Meets::sky ? infinity : without.distance_m;
            int object = -1;
            for (int id = 0; id < static_cast<int>(ground.objects().size()); ++id) {
                const auto hit = intersect(ground.objects()[static_cast<std::size_t>(id)], ray);
                if (hit && hit->distance_m < nearest) {
                    nearest = hit->distance_m;
                    object = id;
                }
            }
            const GroundHit hit = ground.intersect(ray);
            bool good = hit.object == object && (hit.meets == Meets::object) == (object >= 0);
            if (object < 0) good = good && hit.meets == without.meets;
            if (good && hit.meets != Meets::sky) good = std::abs(hit.distance_m - nearest) < 1e-9 * (1.0 + nearest);
            if (good && object >= 0) {
                const Object& o = ground.objects()[static_cast<std::size_t>(object)];
                const auto own = intersect(o, ray);
                good = hit.material == (own->side ? o.side_material : o.top_material) && glm::length(hit.normal - own->normal) < 1e-12;
            }
            if (!good) {
                ++tally.wrong;
                tally.first_wrong = i;
            }
            if (object >= 0) ++tally.terrain;
        });
        INFO("kind " << static_cast<int>(kind) << ": one of the wrong rays is " << tally.first_wrong);
        CHECK(tally.wrong == 0);
        CHECK(tally.terrain > rays / 50);
    }
}

TEST_CASE("a light is blocked exactly when a plain search finds something in its way") {
    const HeightField field = test::roughTerrain(61, 61, 4.0, 25.0, 6);
    const Ground bare(field, {}, {}, 0);
    const Ground ground(field, {}, randomObjects(field, 80, 10), 0);
    const int points = test::effort(300000);
    Tally tally;
    std::atomic<int> blocked{0};
    parallelFor(points, 0, [&](int i) {
        Draws draws(500, static_cast<std::uint32_t>(i));
        const double east = draws.between(field.west_m(), field.east_m());
        const double north = draws.between(field.south_m(), field.north_m());
        const Vec3 point{east, north, field.heightAt(east, north)};
        const Vec3 normal = field.normalAt(east, north);
        Vec3 sun = draws.direction();
        sun.z = std::abs(sun.z);
        const Ray ray{point + ground.lift_m() * normal, sun};
        bool expected = plainTerrainHit(field, ray) < infinity;
        for (const Object& o : ground.objects()) expected = expected || intersect(o, ray).has_value();
        const bool got = ground.blocked(point, normal, sun);
        const auto where = ground.blocking(point, normal, sun);
        bool good = got == expected && where.has_value() == got;
        if (good && where) good = glm::length(glm::cross(where->point_m - ray.origin_m, sun)) < 1e-6 && glm::dot(where->point_m - ray.origin_m, sun) >= 0.0;
        if (!good) {
            ++tally.wrong;
            tally.first_wrong = i;
        }
        if (got) ++blocked;
    });
    INFO("one of the wrong points is " << tally.first_wrong);
    CHECK(tally.wrong == 0);
    CHECK(blocked > points / 10);
    CHECK(blocked < points * 9 / 10);
}

TEST_CASE("a ray is blocked within a length exactly when its first hit is nearer") {
    const HeightField field = test::roughTerrain(41, 41, 4.0, 20.0, 51);
    const Ground ground(field, {}, randomObjects(field, 30, 52), 0);
    int blocked = 0;
    for (std::uint32_t i = 0; i < 20000; ++i) {
        Draws draws(53, i);
        const Ray ray = randomRay(Kind::low, field, draws);
        const GroundHit hit = ground.intersect(ray);
        const double length = draws.between(0.1, 150.0);
        const bool expected = (hit.meets == Meets::terrain || hit.meets == Meets::object) && hit.distance_m <= length;
        INFO("ray " << i << " ends at " << hit.distance_m << ", asked up to " << length);
        CHECK(ground.blockedWithin(ray, length) == expected);
        if (expected) ++blocked;
    }
    CHECK(blocked > 4000);
    CHECK(blocked < 16000);
}

TEST_CASE("a search may begin anywhere along the ray") {
    const HeightField field = test::roughTerrain(41, 41, 4.0, 20.0, 11);
    const Ground ground(field, {}, randomObjects(field, 30, 12), 0);
    int checked = 0;
    for (std::uint32_t i = 0; i < 3000; ++i) {
        Draws draws(77, i);
        const Ray ray = randomRay(Kind::from_above, field, draws);
        const GroundHit whole = ground.intersect(ray);
        if (whole.meets == Meets::sky || whole.distance_m < 1.0) continue;
        ++checked;
        for (const double before : {0.5, 1e-3}) {
            const GroundHit near = ground.intersectNear(ray, whole.distance_m - before);
            CHECK(near.meets == whole.meets);
            CHECK(near.distance_m == Approx(whole.distance_m).epsilon(1e-12));
        }
        CHECK(ground.intersect(ray, whole.distance_m + 0.5).distance_m != Approx(whole.distance_m).epsilon(1e-12));
    }
    CHECK(checked > 2000);
}
