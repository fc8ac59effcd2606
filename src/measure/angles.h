#pragma once
// Angles between places of one picture.

#include "measure/picture_place.h"
#include "measure/reading.h"

namespace linefall {

/// Angle between the lines of sight of two places: cos a = u1 . u2, u the unit vectors of the looks, world frame.
[[nodiscard]] Reading lookAngle(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// Direction on the map from the first ground point to the second, clockwise from north: tan B = (E2 - E1) / (N2 - N1).
[[nodiscard]] Reading bearing(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// Angle on the map at the ground point of `vertex` between the lines to the two others, 0 to 180 deg.
[[nodiscard]] Reading angleAt(const Formation& formation, const PicturePlace& vertex, const PicturePlace& one, const PicturePlace& other);
/// Angle on the map between two lines that need not meet, by their directions, 0 to 180 deg.
struct PictureLine {
    PicturePlace from, to;
};
[[nodiscard]] Reading angleBetween(const Formation& formation, const PictureLine& one, const PictureLine& other);

}  // namespace linefall
