#pragma once
// Where everything stands on the page: the flight large on the left over its clock, the pictures on the right over the
// sun and the height, the light path along the bottom. A drawer opens under the flight; where words are so large that this
// would leave the flight a strip, the drawer has the left and the flight moves to the place of the sun and the height. A page too small for that stacks its parts in one column, which
// scrolls over a light path that stays. Every plate has a heading of the same height.

#include <vector>

#include "app/ui.h"

namespace linefall {

struct Layout {
    /// Without a width: not shown, as the legend where large words leave no room for it beside a drawer.
    Rect page, legend, flight, drawer, clock, path;
    std::vector<Rect> pictures;  ///< with their headings
    bool stacked = false;        ///< one column: all parts but the path stand in `body`, which scrolls
    Rect body;                   ///< the part of the page above the path
    float content = 0.0f;        ///< height of what stands in the body, pixels; more than body.h only when stacked

    /// The same with the column rolled by so many pixels.
    [[nodiscard]] Layout rolled(float by) const;
};

/// What the page has to hold.
struct PageWish {
    float width = 1280.0f, height = 720.0f;   ///< pixels
    float scale = 1.0f;                       ///< pixels of one unit of layout
    std::vector<float> shapes = {1.5f, 1.5f}; ///< of each picture: its height over its width, without heading and foot
    bool picked = false;                      ///< the light path shows numbers
    float drawer = 0.0f;                      ///< height that the open drawer would like for its contents, in units; 0: it is closed
    bool pictures_large = false;
};

[[nodiscard]] Layout layoutOf(const PageWish& wish);
/// True when the parts do not fit side by side.
[[nodiscard]] bool stacks(float width, float height, float scale);
/// Height of the heading over a plate.
[[nodiscard]] inline float headingHeight(float scale) { return 30.0f * scale; }
/// Height of the words under a picture.
[[nodiscard]] inline float footHeight(float scale) { return 22.0f * scale; }
/// Controls beside the sun's dome close ranks when their plate is narrower than this, in units.
inline constexpr float roomy_legend = 470.0f;

}  // namespace linefall
