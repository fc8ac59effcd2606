#include "measure/region.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/raster.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

int pixelsOf(const std::vector<PixelRun>& runs) {
    int n = 0;
    for (const PixelRun& run : runs) n += run.last - run.first;
    return n;
}

}  // namespace

TEST_CASE("a rectangle holds both picked pixels and all between", "[region]") {
    const auto runs = pixelsIn(rectangleOf({7.5, 4.5}, {3.2, 2.9}), 100, 50);
    CHECK(runs == std::vector<PixelRun>{{2, 3, 8}, {3, 3, 8}, {4, 3, 8}});
    CHECK(pixelsIn(rectangleOf({5.5, 5.5}, {5.5, 5.5}), 100, 50) == std::vector<PixelRun>{{5, 5, 6}});
    // Outside the picture there are no pixels.
    CHECK(pixelsOf(pixelsIn(rectangleOf({-10.0, -10.0}, {1000.0, 1000.0}), 100, 50)) == 5000);
    CHECK(pixelsIn(rectangleOf({200.0, 5.0}, {300.0, 9.0}), 100, 50).empty());
}

TEST_CASE("a region needs three corners, and finite ones", "[region]") {
    CHECK(pixelsIn({{{1, 1}, {5, 5}}}, 10, 10).empty());
    CHECK(pixelsIn({{{1, 1}, {5, 5}, {std::nan(""), 3}}}, 10, 10).empty());
}

TEST_CASE("the pixels of a polygon are those whose centres the even-odd rule puts inside", "[region]") {
    // Each centre on its own, by counting the edges to its right: a plainer route to the same answer.
    Draws draws(3, 1);
    for (int trial = 0; trial < 60; ++trial) {
        Region region;
        const int corners = 3 + trial % 6;
        for (int i = 0; i < corners; ++i) region.corners.push_back({draws.between(-5.0, 45.0), draws.between(-5.0, 35.0)});
        Raster<std::uint8_t> inside(40, 30);
        for (const PixelRun& run : pixelsIn(region, 40, 30)) {
            for (int s = run.first; s < run.last; ++s) ++inside.at(s, run.line);
        }
        for (int line = 0; line < 30; ++line) {
            for (int sample = 0; sample < 40; ++sample) {
                int crossed = 0;
                for (int i = 0; i < corners; ++i) {
                    const PicturePlace& a = region.corners[static_cast<std::size_t>(i)];
                    const PicturePlace& b = region.corners[static_cast<std::size_t>((i + 1) % corners)];
                    const double y = line + 0.5;
                    if ((a.line > y) != (b.line > y) && sample + 0.5 < a.sample + (y - a.line) * (b.sample - a.sample) / (b.line - a.line)) ++crossed;
                }
                REQUIRE(int{inside.at(sample, line)} == crossed % 2);
            }
        }
    }
}

TEST_CASE("polygons side by side share no pixel and leave none out", "[region]") {
    // A square cut along a line through pixel centres.
    const Region left{{{0, 0}, {12.5, 0}, {6.5, 20}, {0, 20}}};
    const Region right{{{12.5, 0}, {20, 0}, {20, 20}, {6.5, 20}}};
    const int both = pixelsOf(pixelsIn(left, 20, 20)) + pixelsOf(pixelsIn(right, 20, 20));
    CHECK(both == 400);
}
