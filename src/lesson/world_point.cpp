#include "lesson/world_point.h"

#include <algorithm>
#include <cmath>

#include "lesson/names.h"

namespace linefall {

namespace {

[[noreturn]] void refuse(const LessonPoint& point, const std::string& read, const std::string& expected, const std::string& nearest = "") {
    throw InputError(Problem{point.place, "points." + point.name, read, expected, nearest});
}

bool isRound(const Object& object) { return object.shape == Shape::cylinder || object.shape == Shape::cone || object.shape == Shape::dome; }
bool isPointed(const Object& object) { return object.shape == Shape::cone || object.shape == Shape::pyramid || object.shape == Shape::dome; }

/// The outline's farthest point in a level direction (unit), from the centre, m.
Vec2 farthest(const Object& object, const Vec2& direction) {
    if (isRound(object)) return direction * (0.5 * object.length_m);
    const Vec2 along{std::sin(object.heading_rad), std::cos(object.heading_rad)};
    const Vec2 across{along.y, -along.x};
    const double a = direction.x * along.x + direction.y * along.y, b = direction.x * across.x + direction.y * across.y;
    const auto side = [](double share, double size) { return std::abs(share) < 1e-6 ? 0.0 : std::copysign(0.5 * size, share); };
    return along * side(a, object.length_m) + across * side(b, object.width_m);
}

}  // namespace

const Object* findObject(const Ground& ground, const std::string& name) {
    const auto among = [&](std::span<const Object> things, const auto& same) {
        const auto found = std::find_if(things.begin(), things.end(), same);
        return found == things.end() ? nullptr : &*found;
    };
    const auto exactly = [&](const Object& o) { return o.name == name; };
    const auto asWord = [&](const Object& o) { return !o.name.empty() && objectWord(o.name) == objectWord(name); };
    if (const Object* found = among(ground.objects(), exactly)) return found;
    if (const Object* found = among(ground.movers(), exactly)) return found;
    if (const Object* found = among(ground.objects(), asWord)) return found;
    return among(ground.movers(), asWord);
}

Vec3 worldPoint(const LessonPoint& point, const Ground& ground, const Vec3& towards_sun, const std::function<double(const Formula&)>& valueOf, double time_s) {
    const auto offset = [&](const Formula& f) { return f.given() ? valueOf(f) : 0.0; };
    const double east = offset(point.east), north = offset(point.north), up = offset(point.height);
    if (point.part == LessonPoint::Part::ground && point.object.empty()) return {east, north, ground.terrain().heightAt(east, north) + up};
    const Object* object = findObject(ground, point.object);
    if (object == nullptr) {
        std::vector<std::string> names;
        for (const Object& one : ground.objects()) names.push_back(one.name);
        for (const Object& one : ground.movers()) names.push_back(one.name);
        refuse(point, "'" + point.object + "'", "the name of a thing of the place", nearestName(point.object, names));
    }
    // Things that stand still are numbered first.
    const bool moves = object->moves();
    const std::ptrdiff_t index = object - (moves ? ground.movers() : ground.objects()).data();
    const std::ptrdiff_t number = index + (moves ? static_cast<std::ptrdiff_t>(ground.objects().size()) : 0);
    const Object thing = moves ? ground.moverAt(static_cast<std::size_t>(index), time_s) : *object;
    const Vec3 centre{thing.east_m + east, thing.north_m + north, thing.base_m + up};
    const double level = std::hypot(towards_sun.x, towards_sun.y);
    const Vec2 away = level > 1e-9 ? Vec2{-towards_sun.x / level, -towards_sun.y / level} : Vec2{0.0, 0.0};
    switch (point.part) {
        case LessonPoint::Part::foot: return centre;
        case LessonPoint::Part::top: return {centre.x, centre.y, thing.top_m() + up};
        case LessonPoint::Part::shadow_foot: {
            const Vec2 edge = farthest(thing, away);
            return {centre.x + edge.x, centre.y + edge.y, ground.terrain().heightAt(centre.x + edge.x, centre.y + edge.y) + up};
        }
        case LessonPoint::Part::ground: return {centre.x, centre.y, ground.terrain().heightAt(centre.x, centre.y) + up};
        case LessonPoint::Part::shadow_tip: break;
    }
    if (towards_sun.z <= 1e-6 || level < 1e-9) refuse(point, towards_sun.z <= 1e-6 ? "the sun below the horizon" : "the sun straight above", "a sun that casts a shadow");
    const Vec2 edge = isPointed(thing) ? Vec2{0.0, 0.0} : farthest(thing, away);
    constexpr double out = 1e-4;  // m, clear of the thing itself
    const Ray ray{{centre.x + edge.x + out * away.x, centre.y + edge.y + out * away.y, thing.top_m() + out}, -1.0 * towards_sun, time_s};
    const GroundHit hit = ground.intersect(ray);
    if (hit.meets == Meets::sky || hit.object == number)
        refuse(point, "a shadow that ends on the thing itself", "a sun low enough that the tip falls on the ground");
    return hit.point_m;
}

}  // namespace linefall
