// The coarse heights looked up where the warp says.

#include <algorithm>
#include <array>

#include "base/dispatch.h"
#include "scene/island_rows.h"

namespace linefall::island {

namespace {

/// Weights of four nodes in a row for a point between the middle two (Catmull and Rom 1974).
struct Taps {
    float a, b, c, d;
    LINEFALL_INLINE explicit Taps(float t)
        : a(0.5f * t * (-1.0f + t * (2.0f - t))), b(1.0f + 0.5f * t * t * (3.0f * t - 5.0f)),
          c(0.5f * t * (1.0f + t * (4.0f - 3.0f * t))), d(0.5f * t * t * (t - 1.0f)) {}
};

/// Points of the guide grid and the 4 x 4 nodes around each, few enough to stay close to the processor.
struct NodeBlock {
    static constexpr int most = 64;
    std::array<int, most> corner;  // index of the south-western node
    std::array<float, most> u, v;  // past the second node
    std::array<std::array<std::array<float, 4>, most>, 4> row;
};

/// The points (east + move_east, north + move_north), kept off the border.
LINEFALL_VECTORISED
void findNodes(const float* move_east, const float* move_north, int column, float north, int count, NodeBlock& block) {
    const auto inside = [](float metres) { return metres < -3990.0f ? -3990.0f : metres > 3990.0f ? 3990.0f : metres; };
    const auto node = [](float at) { return at < 1.0f ? 1 : at >= static_cast<float>(guides - 3) ? guides - 3 : static_cast<int>(at); };
    for (int k = 0; k < count; ++k) {
        const float u = (inside(postAt(column + k) + move_east[k]) + reach) / guide_spacing;
        const float v = (inside(north + move_north[k]) + reach) / guide_spacing;
        const int i = node(u);
        const int j = node(v);
        block.corner[static_cast<std::size_t>(k)] = (j - 1) * guides + i - 1;
        block.u[static_cast<std::size_t>(k)] = u - static_cast<float>(i);
        block.v[static_cast<std::size_t>(k)] = v - static_cast<float>(j);
    }
}

LINEFALL_VECTORISED
void weighNodes(const NodeBlock& block, std::size_t count, float* __restrict out) {
    for (std::size_t k = 0; k < count; ++k) {
        const Taps a(block.u[k]);
        const Taps b(block.v[k]);
        const auto along = [&](const std::array<float, 4>& n) { return n[0] * a.a + n[1] * a.b + n[2] * a.c + n[3] * a.d; };
        out[k] = b.a * along(block.row[0][k]) + b.b * along(block.row[1][k]) + b.c * along(block.row[2][k]) + b.d * along(block.row[3][k]);
    }
}

}  // namespace

void warpedHeights(const Raster<float>& guide_raster, const GuideRow& warp_east_m, const GuideRow& warp_north_m, int first, int last,
                   float north, std::span<float> out) {
    NodeBlock block;
    for (int column = first; column < last; column += NodeBlock::most) {
        const int count = std::min(NodeBlock::most, last - column);
        findNodes(&warp_east_m[column], &warp_north_m[column], column, north, count, block);
        for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) {
            const float* node = guide_raster.values().data() + block.corner[k];
            for (std::size_t r = 0; r < 4; ++r, node += guides) std::copy_n(node, 4, block.row[r][k].begin());
        }
        weighNodes(block, static_cast<std::size_t>(count), out.data() + column);
    }
}

}  // namespace linefall::island
