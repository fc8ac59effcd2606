#pragma once
// What is drawn over a picture. Everything over imagery is cased: a dark and a light line show on any grey.

#include <string>
#include <vector>

#include "app/picture_frame.h"
#include "physics/sun.h"

namespace linefall {

struct Desk;

inline constexpr ImU32 over_dark = IM_COL32(20, 22, 25, 255);
inline constexpr ImU32 over_light = IM_COL32(255, 253, 248, 255);

void drawArrow(Ui& ui, ImVec2 from, ImVec2 to, ImU32 colour, ImU32 casing);
/// The way that is down on the page, as an azimuth: along the track in a picture, south in a map.
[[nodiscard]] double downOf(const Formation& formation);
/// North and sun in the corners of a picture or a map, unless it is turned.
void drawArrows(Desk& desk, double down_rad, const Rect& seen, bool turned);
/// Light that comes from the lower half of a picture, as it lies on the page, lets hills look like hollows. Relief is shaded by
/// the level part of the direction to the sun, so a sun near the zenith, or one from the side, does not count.
[[nodiscard]] bool litFromBelow(const Sunlight& sun, double down_rad, bool turned);
/// Words on the picture that warn: what is exaggerated, and light that comes from below. Returns them. `key`: what turns it; empty: nothing does.
std::vector<std::string> drawWarnings(Desk& desk, double down_rad, const Rect& seen, bool turned, const std::string& key);
/// The picked pixel, or (not `own`) the same ground in another picture.
void drawMark(Desk& desk, const PictureFrame& frame, int craft, Pixel pixel, bool own);
void drawNewestLine(Desk& desk, const PictureFrame& frame, int craft, int shown);

}  // namespace linefall
