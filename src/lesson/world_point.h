#pragma once
// Inside the lesson module: where the named points of a lesson lie in the world.

#include <functional>

#include "flight/formation.h"
#include "lesson/lesson.h"

namespace linefall {

/// World position of a point, m. `valueOf` evaluates its formulas (east, north, height: lengths, m).
///
///   foot, top      the centre of a thing's base, of its top; moved by east and north when they are given
///   shadow foot    where the shadow leaves the thing: the point of its outline on the ground that is farthest from the sun
///                  (the middle of a side that faces away squarely)
///   shadow tip     where the beam that grazes the top's farthest point ends on the ground
///   ground         on the terrain, or `height` above it
///
/// A thing that moves is taken where it stands at `time_s`, seconds since the flight began.
/// `towards_sun`: unit vector, world frame. Throws InputError when there is no such thing, or no shadow on the ground.
[[nodiscard]] Vec3 worldPoint(const LessonPoint& point, const Ground& ground, const Vec3& towards_sun, const std::function<double(const Formula&)>& valueOf, double time_s = 0.0);

/// The thing of that name, one that moves as it stands at time 0; names are compared as they are, then as words. Null when there is none.
[[nodiscard]] const Object* findObject(const Ground& ground, const std::string& name);

}  // namespace linefall
