#pragma once
// The island row by row: what is wanted along a row of posts or cells is gathered first and then worked out together.

#include <span>
#include <vector>

#include "scene/island_map.h"

namespace linefall::island {

/// A guide along rows of posts, or of the middles of cells. The same values as guideValue, many times faster.
class GuideRow {
public:
    enum class Of { posts, cells };
    GuideRow(const Raster<float>& guide_raster, Of of);
    /// Makes the values of a row. Rows between the same two rows of nodes share most of the work.
    void moveTo(int row);
    [[nodiscard]] const float& operator[](int column) const { return value_[static_cast<std::size_t>(column)]; }

private:
    const Raster<float>* guide_;
    float offset_;  // of a cell's middle from its corner, in cells
    int below_ = -1;
    std::vector<float> south_, north_, value_;
};

/// The Catmull-Rom surface through a guide's nodes, sharper on ridges than a B-spline, at the posts first .. last - 1 of a
/// row, each looked up where the warp says: island_warp.cpp.
void warpedHeights(const Raster<float>& guide_raster, const GuideRow& warp_east_m, const GuideRow& warp_north_m, int first, int last,
                   float north, std::span<float> out);

/// A sum of octaves of noise: the length of the longest waves, how many octaves, each `gain` as strong as the one before,
/// and where in the noise it lies, in lattice steps.
struct Waves {
    float length_m = 100.0f;
    int octaves = 1;
    float gain = 0.5f;
    float east = 0.0f, north = 0.0f;
};

/// Points of a row at which a field is wanted.
class RowBatch {
public:
    RowBatch() : at_(posts), east_(posts), north_(posts), value_(posts) {}
    /// `at` is the place in the row that gets the value.
    void add(int at, float east, float north) {
        at_[count_] = at;
        east_[count_] = east;
        north_[count_] = north;
        ++count_;
    }
    /// row[at] = the noise at each point. Empties the batch.
    void sum(const Noise& noise, const Waves& waves, std::span<float> row);
    /// row[at] = Plan::beach at each point. Empties the batch.
    void beach(const Plan& plan, std::span<float> row);

private:
    void spread(std::span<float> row);

    std::size_t count_ = 0;
    std::vector<int> at_;
    std::vector<float> east_, north_, value_;
};

}  // namespace linefall::island
