#pragma once
// The farmland: parishes with a direction of their own, divided again and again into fields.

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "scene/island_map.h"

namespace linefall::island {

/// A field seen from a point: what grows, and how far the nearest edge is.
struct FieldView {
    Cover cover = Cover::open;  ///< open: no farmland here
    float edge_m = 1e9f;
    bool hedge = false;  ///< the nearest edge carries a hedge
};

class Fields {
public:
    Fields(const Plan& plan, const Guides& guides);
    /// What lies at points of a row; `east` rises, views gets one for each.
    void row(std::span<const float> east, float north, std::vector<FieldView>& views) const;

private:
    static constexpr float parish_m = 640.0f;
    static constexpr int parishes = 13;  // along each side; covers the place

    struct Node {
        float across_u = 0.0f, across_v = 0.0f, offset = 0.0f;  // the dividing line
        int below = -1, above = -1;                             // children; none: a field
        Cover cover = Cover::open;
        bool hedge = false;
    };
    struct Parish {
        Spot site;
        float cos_turn = 1.0f, sin_turn = 0.0f;
        int root = -1;
    };

    /// The two parishes nearest to each of some points, and the squares of the distances, m2.
    struct Nearest {
        std::vector<int> own, other;
        std::vector<float> own_m2, other_m2;
    };
    void findNearest(std::span<const float> east, float north, Nearest& nearest) const;
    [[nodiscard]] FieldView view(const Parish& own, float edge_m, float east, float north) const;

    int divide(const Plan& plan, const Guides& guides, const Parish& parish, std::array<float, 4> box, int depth, int key);

    std::vector<Parish> parish_;
    std::vector<Node> node_;
};

}  // namespace linefall::island
