#pragma once
// Things that move, and their shadows on the ground, as the flight view shows them at a time.

#include "flight/lit_ground.h"
#include "view/mesh.h"

namespace linefall {

/// Made once for a scene; asked as often as the clock moves. The light is the core's own under the sun of the flight's start,
/// as on the drape, on which nothing moves. Of a scene without such things every mesh is empty.
class MovingThings {
public:
    explicit MovingThings(const Scene& scene);
    /// Things where they stand at a time, and over the ground those squares of a grid whose middle they shade: the core decides
    /// about each middle, so an edge of a shadow is shown to within half a square (2 m or more for long shadows of many things).
    [[nodiscard]] Mesh at(double time_s);

private:
    [[nodiscard]] Colour colourOf(const GroundHit& hit) const;
    void appendShadow(Mesh& mesh, const Object& thing) const;

    std::shared_ptr<const PlaceData> place_;
    LitGround light_;
    RadianceRgb white_;
    bool shadows_ = true;
};

}  // namespace linefall
