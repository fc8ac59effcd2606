#pragma once
// What water and people do to the ground along lines and over patches.

#include <functional>

#include "scene/island_map.h"

namespace linefall::island {

/// Cuts a bed with a flat cross-section at the way's level; never through the sea or the lake. Cells nearer to the
/// middle than the half width become fresh water, posts as far as the corners of those cells lie at its level.
void cutWater(const Way& way, Map& map);

/// Lays a road of the given cover on the ground: its profile is the ground's, smoothed, level across.
void layRoad(const std::vector<Spot>& line, float half_width_m, Cover cover, Map& map);

/// Calls visit(column, row, distance from the middle, level, half width) for every post within half width + margin of
/// the way, once, with the nearest point of the way.
void alongWay(const Way& way, float margin_m, const std::function<void(int, int, float, float, float)>& visit);

/// A level rectangle around a point, blended into the ground around it; nothing grows on it. Streams run under it.
/// `heading_rad` is the direction of the length, clockwise from north.
void levelPatch(Spot at, float length_m, float width_m, float heading_rad, float blend_m, float level_m, Cover cover, Map& map);

/// How much of a dune a place at this distance from the sea is, 0 to 1; and where along the coast dunes lie, 0 to 1.
[[nodiscard]] float duneShare(float inland_m, float beach);
[[nodiscard]] float duneCoast(float east, float north);

/// The height of the ground at a world position, bilinear, m.
[[nodiscard]] float heightOn(const Map& map, float east, float north);

}  // namespace linefall::island
