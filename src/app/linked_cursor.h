#pragma once
// One cursor for all: what lies under the pointer in a picture, on the land or in a profile, shown by its ground point in
// every other picture, in the flight and in the profile. Keys move the picked pixel, which is linked the same way.

#include <optional>
#include <utility>
#include <vector>

#include "app/picture_frame.h"

namespace linefall {

struct Desk;

struct LinkedCursor {
    bool on = false;                            ///< the pointer is over ground
    std::optional<std::pair<int, Pixel>> from;  ///< the picture and pixel under the pointer; nothing: over the land itself
    Vec3 point_m{0.0};
    std::vector<std::optional<Pixel>> pixels;   ///< the pixel that sees the point, one a picture; nothing: none that has fallen
    std::vector<int> shown;                     ///< lines that had fallen when it was searched
    bool touched = false;                       ///< the pointer was there in this frame
};

/// The pointer is over a gathered pixel of a picture.
void pointAtPixel(Desk& desk, int craft, Pixel pixel);
/// The pointer is over a point of the land.
void pointAtGround(Desk& desk, const Vec3& point_m);
/// Once a frame, after all parts of the page: a cursor that nobody touched goes.
void endCursor(Desk& desk);
/// A ring that shows on any grey.
void drawCursorRing(Ui& ui, ImVec2 at);
/// The cursor in one picture, unless the pointer itself is there.
void drawCursor(Desk& desk, const PictureFrame& frame, int craft);

}  // namespace linefall
