#pragma once
// Where everything stands on the page: the flight large on the left over its clock, the pictures on the right over the
// sun and the height, the light path along the bottom. Every plate has a heading of the same height.

#include <vector>

#include "app/ui.h"

namespace linefall {

struct Layout {
    Rect page, legend, flight, drawer, clock, path;
    std::vector<Rect> pictures;  ///< with their headings
};

/// `scale`: pixels of one unit; `picked`: the light path shows numbers; `drawer`: height that the open
/// drawer would like for its contents, in units of layout; 0: it is closed.
[[nodiscard]] Layout layoutOf(float width, float height, float scale, int pictures, bool picked, float drawer, bool pictures_large = false);
/// Large words on a small page (a lecture): controls close ranks so that the pictures keep their room.
[[nodiscard]] inline bool isCompact(float page_width, float scale) { return page_width < 1000.0f * scale; }
/// Height of the heading over a plate.
[[nodiscard]] inline float headingHeight(float scale) { return 30.0f * scale; }

}  // namespace linefall
