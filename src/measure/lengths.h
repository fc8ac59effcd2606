#pragma once
// Lengths, areas and times between places of one picture.

#include <span>

#include "measure/picture_place.h"
#include "measure/reading.h"

namespace linefall {

/// Distance on the map between the ground points that two places show: D = sqrt((E2 - E1)^2 + (N2 - N1)^2), E and N the
/// eastings and northings of the points where the looks end, m. Heights are left out.
[[nodiscard]] Reading groundDistance(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// The straight distance between the same points, heights included.
[[nodiscard]] Reading straightDistance(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// Height of the second ground point above the first.
[[nodiscard]] Reading heightDifference(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// Distance as the picture alone says it, by counting pixels: D = sqrt((n_a a)^2 + (n_l l)^2), n_a and n_l the pixels across
/// and along, a and l the spacing of pixels at nadir on level ground at datum. It knows no relief, no squeezed edge of a
/// field and no attitude: the difference to groundDistance is what the geometry of the picture did.
[[nodiscard]] Reading pictureDistance(const Formation& formation, const PicturePlace& from, const PicturePlace& to);

/// How far the look of `to` meets the level of datum from that of `from`: the displacement in the picture, laid on a map that
/// knows no relief. From the base to the top of a tower it is relief displacement.
[[nodiscard]] Reading displacement(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// How far the height of what a place shows moved it in the picture: from the ground point itself to where the same look
/// meets datum, on the map.
[[nodiscard]] Reading reliefShift(const Formation& formation, const PicturePlace& place);

/// Area on the map of the polygon of the ground points that at least three places show, by Gauss's formula
/// A = |sum (E_i N_i+1 - E_i+1 N_i)| / 2, m2. Edges may not cross.
[[nodiscard]] Reading polygonArea(const Formation& formation, std::span<const PicturePlace> corners);

/// Time between the looks of two places, s.
[[nodiscard]] Reading timeBetween(const Formation& formation, const PicturePlace& from, const PicturePlace& to);
/// Speed of a thing that is at one place's ground point at that place's time, and at the other's at the other's.
[[nodiscard]] Reading speedBetween(const Formation& formation, const PicturePlace& from, const PicturePlace& to);

/// Spacing of pixels at nadir on level ground at datum, m.
struct NadirSpacing {
    double across_m = 0.0, along_m = 0.0;
};
[[nodiscard]] NadirSpacing nadirSpacing(const Formation& formation);

}  // namespace linefall
