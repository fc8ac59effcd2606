// Things that move: where they stand at a time, and what rays of that time meet of them.

#include <algorithm>
#include <cassert>
#include <cmath>

#include "ground/ground.h"

namespace linefall {

namespace {

/// How far a thing has gone by a time, east and north, m.
Vec2 wayOf(const Object& mover, double time_s) {
    return mover.speed_m_s * time_s * Vec2{std::sin(mover.track_rad), std::cos(mover.track_rad)};
}

double baseAt(const HeightField& terrain, double east, double north) {
    return terrain.contains(east, north) ? terrain.heightAt(east, north) : 0.0;
}

}  // namespace

void Ground::placeMovers() {
    const auto moving = std::stable_partition(objects_.begin(), objects_.end(), [](const Object& o) { return !o.moves(); });
    movers_.assign(std::make_move_iterator(moving), std::make_move_iterator(objects_.end()));
    objects_.erase(moving, objects_.end());
    assert(movers_.size() <= most_movers);
    const double lowest = std::min(0.0, terrain_.least_m()), highest = std::max(0.0, terrain_.most_m());
    movers_least_m_ = movers_most_m_ = lowest;
    for (Object& o : movers_) {
        o.base_m = baseAt(terrain_, o.east_m, o.north_m);
        o.foundation_m = highest - lowest;
        movers_most_m_ = std::max(movers_most_m_, highest + o.height_m);
    }
}

const Object& Ground::thing(int number) const {
    const auto i = static_cast<std::size_t>(number);
    return i < objects_.size() ? objects_[i] : movers_[i - objects_.size()];
}

Object Ground::moverAt(std::size_t mover, double time_s) const {
    Object o = movers_[mover];
    const Vec2 way = wayOf(o, time_s);
    o.east_m += way.x;
    o.north_m += way.y;
    o.base_m = baseAt(terrain_, o.east_m, o.north_m);
    return o;
}

std::optional<Ground::MetMover> Ground::meetMover(const Ray& ray, double from_m) const {
    // Between the lowest and the highest that a mover is met, the ray lies over one piece of the plane.
    Vec3 from = ray.origin_m, to = ray.origin_m;
    if (std::abs(ray.direction.z) > 1e-9) {
        from = ray.at((movers_least_m_ - ray.origin_m.z) / ray.direction.z);
        to = ray.at((movers_most_m_ - ray.origin_m.z) / ray.direction.z);
    } else {
        to = ray.at(1e9);
    }
    std::optional<MetMover> nearest;
    for (std::size_t i = 0; i < movers_.size(); ++i) {
        const Object& o = movers_[i];
        const Vec2 way = wayOf(o, ray.time_s);
        const double east = o.east_m + way.x, north = o.north_m + way.y;
        const double reach = o.radius_m() + 0.01;
        if ((from.x < east - reach && to.x < east - reach) || (from.x > east + reach && to.x > east + reach) ||
            (from.y < north - reach && to.y < north - reach) || (from.y > north + reach && to.y > north + reach)) {
            continue;
        }
        // The ray goes back instead of the thing going on.
        const Vec3 back{way.x, way.y, baseAt(terrain_, east, north) - o.base_m};
        const auto hit = linefall::intersect(o, {ray.origin_m - back, ray.direction}, from_m);
        if (hit && (!nearest || hit->distance_m < nearest->hit.distance_m)) nearest = MetMover{i, *hit};
    }
    return nearest;
}

GroundHit Ground::orMover(const Ray& ray, double from_m, GroundHit still) const {
    const auto met = meetMover(ray, from_m);
    if (!met || (still.meets != Meets::sky && still.distance_m <= met->hit.distance_m)) return still;
    const Object& o = movers_[met->mover];
    GroundHit hit;
    hit.meets = Meets::object;
    hit.distance_m = met->hit.distance_m;
    hit.point_m = ray.at(met->hit.distance_m);
    hit.normal = met->hit.normal;
    hit.material = met->hit.side ? o.side_material : o.top_material;
    hit.object = static_cast<int>(objects_.size() + met->mover);
    return hit;
}

bool Ground::blockedByMover(const Vec3& point_m, const Vec3& normal, const Vec3& towards, double time_s) const {
    return !movers_.empty() && meetMover({point_m + lift_ * normal, towards, time_s}, 0.0).has_value();
}

}  // namespace linefall
