#pragma once
// Plain searches that look everywhere, and rays and things at random: what the exact search over the ground is compared with.

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <vector>

#include "ground/ground.h"
#include "support/terrain.h"

namespace linefall::plain {

inline constexpr double infinity = std::numeric_limits<double>::infinity();

/// The first distance at which a ray is at or under the terrain within the place, or infinity. Looks at every cell on the
/// way: there the gap between ground and ray is a parabola, which three heights fix; its first root is then halved in on.
inline double plainTerrainHit(const HeightField& f, const Ray& ray) {
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
inline double plainBeyondHit(const HeightField& f, const Ray& ray) {
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
inline Ray randomRay(Kind kind, const HeightField& f, test::Draws& draws) {
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

inline std::vector<Object> randomObjects(const HeightField& f, int count, std::uint64_t seed) {
    std::vector<Object> objects;
    test::Draws draws(seed, 17);
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

}  // namespace linefall::plain
