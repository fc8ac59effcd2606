// Where rays end: the exact search over terrain and objects against plain searches that look everywhere.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/threads.h"
#include "ground/ground.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// The first distance at which a ray is at or under the terrain within the place, or infinity. Looks at every cell on the
/// way: there the gap between ground and ray is a parabola, which three heights fix; its first root is then halved in on.
double plainTerrainHit(const HeightField& f, const Ray& ray) {
    double enter = 0.0;
    double leave = infinity;
    std::vector<double> cuts;
    const auto axis = [&](double origin, double direction, double least, int cells) {
        if (direction == 0.0) {
            if (origin < least || origin > least + cells * f.spacing_m()) leave = -infinity;
            return;
        }
        const double a = (least - origin) / direction;
        const double b = (least + cells * f.spacing_m() - origin) / direction;
        enter = std::max(enter, std::min(a, b));
        leave = std::min(leave, std::max(a, b));
        for (int i = 1; i < cells; ++i) cuts.push_back((least + i * f.spacing_m() - origin) / direction);
    };
    axis(ray.origin_m.x, ray.direction.x, f.west_m(), f.cellColumns());
    axis(ray.origin_m.y, ray.direction.y, f.south_m(), f.cellRows());
    // Far away nothing is left: above the highest or below the lowest post.
    if (ray.direction.z > 0.0) leave = std::min(leave, (f.most_m() + 1.0 - ray.origin_m.z) / ray.direction.z);
    if (ray.direction.z < 0.0) {
        leave = std::min(leave, (f.least_m() - 1.0 - ray.origin_m.z) / ray.direction.z);
        enter = std::max(enter, (f.most_m() + 1.0 - ray.origin_m.z) / ray.direction.z);
    }
    if (enter > leave) return infinity;
    if (leave == infinity) leave = enter;  // straight up or down never gets here without a vertical bound
    cuts.push_back(leave);
    cuts.erase(std::remove_if(cuts.begin(), cuts.end(), [&](double t) { return t <= enter || t > leave; }), cuts.end());
    std::sort(cuts.begin(), cuts.end());
    const auto gap = [&](double t) {
        const Vec3 p = ray.at(t);
        return f.heightAt(p.x, p.y) - p.z;
    };
    double a = enter;
    double gap_a = gap(a);
    for (const double b : cuts) {
        if (gap_a >= 0.0) return a;
        const double gap_b = gap(b);
        const double bend = 2.0 * (gap_a + gap_b - 2.0 * gap(0.5 * (a + b)));
        const double slope = gap_b - gap_a - bend;
        const double top = bend < 0.0 ? std::clamp(-slope / (2.0 * bend), 0.0, 1.0) : 1.0;
        double below = a + top * (b - a);
        if (gap(below) < 0.0) below = b;
        if (gap(below) >= 0.0) {
            double above = a;
            for (int k = 0; k < 50; ++k) (gap(0.5 * (above + below)) < 0.0 ? above : below) = 0.5 * (above + below);
            return below;
        }
        a = b;
        gap_a = gap_b;
    }
    return infinity;
}

/// Where a ray leaves the place while below datum on its way out, or meets the level plane beyond; infinity: neither.
double plainBeyondHit(const HeightField& f, const Ray& ray) {
    // The ground beyond fills everything outside the place from datum down. Its first point along the ray lies on the
    // plane or on the rim.
    double first = infinity;
    const auto solid = [&](double t) {  // just past t
        const Vec3 p = ray.at(t + 1e-7);
        return p.z < 0.0 && !f.contains(p.x, p.y);
    };
    std::vector<double> ts;
    if (ray.direction.z != 0.0) ts.push_back(-ray.origin_m.z / ray.direction.z);
    if (ray.direction.x != 0.0) ts.insert(ts.end(), {(f.west_m() - ray.origin_m.x) / ray.direction.x, (f.east_m() - ray.origin_m.x) / ray.direction.x});
    if (ray.direction.y != 0.0) ts.insert(ts.end(), {(f.south_m() - ray.origin_m.y) / ray.direction.y, (f.north_m() - ray.origin_m.y) / ray.direction.y});
    for (const double t : ts) {
        if (t > 0.0 && t < first && solid(t) && !solid(t - 2e-7)) first = t;
    }
    return first;
}

enum class Kind { from_above, low, level, along_grid, from_outside };

/// A ray of a kind over a place; `clear_m` above the ground where it starts within the place.
Ray randomRay(Kind kind, const HeightField& f, Draws& draws) {
    const double east = draws.between(f.west_m(), f.east_m());
    const double north = draws.between(f.south_m(), f.north_m());
    const Vec3 spot{east, north, f.heightAt(east, north)};
    switch (kind) {
        case Kind::from_above: {
            const double tilt = draws.between(0.0, 1.4);
            const double azimuth = draws.between(0.0, 2.0 * constants::pi);
            const Vec3 up{std::sin(tilt) * std::sin(azimuth), std::sin(tilt) * std::cos(azimuth), std::cos(tilt)};
            return {spot + draws.between(300.0, 4000.0) * up, -up};
        }
        case Kind::low: return {spot + Vec3{0, 0, draws.between(1e-3, 40.0)}, draws.direction()};
        case Kind::level: {
            const double azimuth = draws.between(0.0, 2.0 * constants::pi);
            return {spot + Vec3{0, 0, draws.between(1e-3, 10.0)}, {std::sin(azimuth), std::cos(azimuth), 0.0}};
        }
        case Kind::along_grid: {  // exactly over a line of posts, exactly along it, level, climbing or falling
            const int column = static_cast<int>(draws.uniform() * f.columns());
            const double x = f.west_m() + column * f.spacing_m();
            const double climb = draws.uniform() < 0.4 ? 0.0 : draws.between(-0.5, 0.5);
            Vec3 direction = glm::normalize(Vec3{0.0, draws.uniform() < 0.5 ? 1.0 : -1.0, climb});
            if (draws.uniform() < 0.2) direction = {0.0, 0.0, -1.0};
            if (draws.uniform() < 0.5) return {{x, north, f.heightAt(x, north) + draws.between(0.01, 20.0)}, direction};
            const double y = f.south_m() + column * f.spacing_m();
            return {{east, y, f.heightAt(east, y) + draws.between(0.01, 20.0)}, {direction.y, direction.x, direction.z}};
        }
        case Kind::from_outside: {
            const double azimuth = draws.between(0.0, 2.0 * constants::pi);
            const Vec3 origin{1.6 * f.east_m() * std::sin(azimuth), 1.6 * f.east_m() * std::cos(azimuth), draws.between(0.5, 120.0)};
            return {origin, glm::normalize(spot + Vec3{0, 0, draws.between(0.0, 30.0)} - origin)};
        }
    }
    return {};
}

std::vector<Object> randomObjects(const HeightField& f, int count, std::uint64_t seed) {
    std::vector<Object> objects;
    Draws draws(seed, 17);
    for (int i = 0; i < count; ++i) {
        Object o;
        o.shape = static_cast<Shape>(i % 7);
        o.east_m = draws.between(f.west_m() + 23.0, f.east_m() - 23.0);  // nothing stands out over the place's edge
        o.north_m = draws.between(f.south_m() + 23.0, f.north_m() - 23.0);
        o.length_m = draws.between(1.0, 40.0);
        o.width_m = o.shape == Shape::wall ? 0.4 : draws.between(1.0, 20.0);
        o.height_m = draws.between(1.0, 30.0);
        o.heading_rad = draws.between(-3.0, 3.0);
        o.top_material = static_cast<std::uint16_t>(10 + i % 7);
        o.side_material = static_cast<std::uint16_t>(20 + i % 7);
        objects.push_back(o);
    }
    return objects;
}

struct Tally {
    std::atomic<int> wrong{0};
    std::atomic<int> terrain{0}, beyond{0}, sky{0};
    std::atomic<int> first_wrong{-1};
};

}  // namespace

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
