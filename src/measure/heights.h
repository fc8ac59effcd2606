#pragma once
// Heights that a picture implies: by shadow, by relief displacement, by parallax.
//
// Teaching models: the readings hold for upright things on level ground; they are no survey.

#include "measure/picture_place.h"
#include "measure/reading.h"

namespace linefall {

/// h = L tan e. L: length of the shadow on level ground, e: elevation of the sun. Exact for a sun that is a point.
[[nodiscard]] double heightFromShadow_m(double shadow_m, double sun_elevation_rad);
/// h = d H / r. d: relief displacement of the top from the base, r: distance of the top's image from the nadir point (both in
/// the picture, or both on the level of the base), H: flying height above the base. Exact for an untilted picture. The same
/// with ground distances is h = H (x' - x) / x': x = r - d the base, x' = r where the top appears. Source: any textbook of
/// photogrammetry, d = r h / H.
[[nodiscard]] double heightFromRelief_m(double displacement, double radial, double flying_height_m);
/// h = H dp / (b + dp). b: air base, dp: parallax of the top less that of the base, in the unit of b (on the level of the
/// base, or both in the picture); H: flying height above the base. Exact for untilted pictures from one height.
[[nodiscard]] double heightFromParallax_m(double air_base, double parallax_difference, double flying_height_m);

/// Height of an upright thing from the foot of it and the tip of its shadow. Both looks are carried to the level of the
/// terrain under the base; L is the part of the line along the sun's azimuth; the sun is that of the tip's line.
[[nodiscard]] Reading shadowHeight(const Formation& formation, const PicturePlace& base, const PicturePlace& tip);

/// Height of an upright thing from the displacement of its top. Both looks are carried to the level of the terrain under
/// the base; r runs from the point under the platform, at the time of the top's look, to where the top appears; d is the
/// part of the line along r. A frame's displacement is radial; that of a push broom or whisk broom lies in the plane of the
/// line's looks, so across the track alone while the platform is level. The angular steps of a mirror need no other formula,
/// since the distances are those of the looks themselves. Where relief displacement is exaggerated (lean k) H is flying height
/// / k, less the height of the base: from there the looks seem to come.
[[nodiscard]] Reading reliefHeight(const Formation& formation, const PicturePlace& base, const PicturePlace& top);

/// Both, for a line from base to top or to shadow tip; where only one can be meant the other says why not.
struct ImpliedHeights {
    Reading shadow, relief;
};
[[nodiscard]] ImpliedHeights impliedHeights(const Formation& formation, const PicturePlace& base, const PicturePlace& end);

/// One picture of an overlapping pair, with the places of base and top in it.
struct StereoView {
    const Formation& formation;
    PicturePlace base, top;
};
/// Height of an upright thing from the parallax of two frames of one flight, taken from two stations. b is the distance
/// between the stations, from the flight; parallaxes are taken along it, on the level of the terrain under the base.
[[nodiscard]] Reading parallaxHeight(const StereoView& one, const StereoView& other);

}  // namespace linefall
