#pragma once
// What a cause does to places, as arrows and ghosts: where the picture shows a thing, and where it would show it without
// the cause. The cause is relief unless another one is asked for; then home is the true place.

#include <span>
#include <string>
#include <vector>

#include "flight/cause_table.h"
#include "flight/locate.h"

namespace linefall {

/// The picture as it is, and without one cause.
struct TwoPictures {
    Locator with, without;
};
/// Throws InputError when the scene's instrument or flight cannot be. A cause of light alone gives the same picture twice.
[[nodiscard]] TwoPictures picturesBy(const Scene& scene, std::size_t instrument, Cause cause = Cause::relief);

/// A point of the world and where it is shown.
struct Displacement {
    std::string name;  ///< of the object, else its shape; "high point" or "ground"
    int object = -1;   ///< whose top it is; -1: a point of the terrain
    Vec3 true_m{0.0};
    PicturePlace seen;     ///< in the picture
    PicturePlace home;     ///< in the picture without the cause
    Vec2 map_m{0.0};       ///< where a map at datum shows it, east and north
    Vec2 vector_m{0.0};    ///< map_m less the true place: the relief displacement on the map
    bool visible = true;   ///< false: something hides it in the picture
    [[nodiscard]] double pixels() const;  ///< from home to seen
};

struct DisplacementRequest {
    int most_objects = 40;
    int most_points = 40;       ///< of the terrain
    int squares = 12;           ///< the longer side of what is seen is cut into so many; each gives one point of the terrain
    double least_pixels = 0.5;  ///< shorter displacements are left out
    double apart = 0.03;        ///< of the picture's longer side: points nearer to one already chosen are left out
};

/// Tops of objects that stand still, and one point of each square of the terrain (its summit, where it has one, else its middle), that both
/// pictures show; the largest displacements first. Of more than 4000 objects the highest are taken.
[[nodiscard]] std::vector<Displacement> displacements(const TwoPictures& pictures, const DisplacementRequest& request = {});

/// Outlines of an object; closed rings, the first point once. Empty where a part of it lies outside the field.
struct Ghost {
    int object = -1;
    std::string name;
    std::vector<Vec2> truth_m;         ///< its outline on the ground, east and north
    std::vector<PicturePlace> truth;   ///< its top's outline in the picture without the cause
    std::vector<PicturePlace> foot;    ///< its foot's outline in the picture
    std::vector<PicturePlace> top;     ///< its top's outline in the picture; one point for a spire
    std::vector<Vec2> foot_map_m, top_map_m;  ///< the same where a map at datum shows them, east and north
};
[[nodiscard]] std::vector<Ghost> ghostOutlines(const TwoPictures& pictures, std::span<const int> objects);

}  // namespace linefall
