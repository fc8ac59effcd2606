// The highest surface over each cell, over blocks of cells, and about each post: what searches and bands lean on.

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/dispatch.h"
#include "ground/ground.h"

namespace linefall {

namespace {

/// most[i] = the highest of low[i], low[i + 1], high[i] and high[i + 1], but at least `least`.
LINEFALL_VECTORISED
void highestOfFour(const float* low, const float* high, float least, int count, float* __restrict most) {
    for (int i = 0; i < count; ++i) {
        const float a = low[i] > low[i + 1] ? low[i] : low[i + 1];
        const float b = high[i] > high[i + 1] ? high[i] : high[i + 1];
        const float c = a > b ? a : b;
        most[i] = c > least ? c : least;
    }
}

/// most[i] = the highest of low[2 i], low[2 i + 1], high[2 i] and high[2 i + 1].
LINEFALL_VECTORISED
void highestOfBlocks(const float* low, const float* high, int count, float* __restrict most) {
    for (int i = 0; i < count; ++i) {
        const float a = low[2 * i] > low[2 * i + 1] ? low[2 * i] : low[2 * i + 1];
        const float b = high[2 * i] > high[2 * i + 1] ? high[2 * i] : high[2 * i + 1];
        most[i] = a > b ? a : b;
    }
}

/// Half as many columns and rows, rounded up.
Raster<float> coarser(const Raster<float>& fine) {
    Raster<float> coarse((fine.columns() + 1) / 2, (fine.rows() + 1) / 2);
    const int whole = fine.columns() / 2;
    for (int row = 0; row < coarse.rows(); ++row) {
        const float* low = fine.row(2 * row).data();
        const float* high = fine.row(std::min(2 * row + 1, fine.rows() - 1)).data();
        highestOfBlocks(low, high, whole, coarse.row(row).data());
        if (whole < coarse.columns()) coarse.at(whole, row) = std::max(low[2 * whole], high[2 * whole]);
    }
    return coarse;
}

/// Rows and columns exchanged, tile by tile: a whole column at a time would touch another line of memory at every step.
Raster<float> transposedOf(const Raster<float>& from) {
    constexpr int tile = 32;
    Raster<float> to(from.rows(), from.columns());
    for (int row = 0; row < from.rows(); row += tile) {
        for (int column = 0; column < from.columns(); column += tile) {
            for (int c = column; c < std::min(column + tile, from.columns()); ++c) {
                for (int r = row; r < std::min(row + tile, from.rows()); ++r) to.at(r, c) = from.at(c, r);
            }
        }
    }
    return to;
}

}  // namespace

void Ground::buildPyramid() {
    const Raster<float>& posts = terrain_.posts();
    Raster<float> level(terrain_.cellColumns(), terrain_.cellRows());
    for (int row = 0; row < level.rows(); ++row) {
        highestOfFour(posts.row(row).data(), posts.row(row + 1).data(), -std::numeric_limits<float>::infinity(), level.columns(),
                      level.row(row).data());
    }
    // Objects raise the cells that their bounding circle touches.
    for (const Object& o : objects_) {
        const double wide = o.radius_m();
        const auto cell = [&](double offset, int count) {
            return std::clamp(static_cast<int>(std::floor(offset / terrain_.spacing_m())), 0, count - 1);
        };
        const float top = std::nextafter(static_cast<float>(o.top_m()), std::numeric_limits<float>::max());
        for (int row = cell(o.north_m - wide - terrain_.south_m(), level.rows());
             row <= cell(o.north_m + wide - terrain_.south_m(), level.rows()); ++row) {
            for (int column = cell(o.east_m - wide - terrain_.west_m(), level.columns());
                 column <= cell(o.east_m + wide - terrain_.west_m(), level.columns()); ++column) {
                // Higher than the terrain alone, however little: so a cell tells that something stands in it.
                level.at(column, row) = std::max(std::nextafter(level.at(column, row), std::numeric_limits<float>::max()), top);
            }
        }
    }
    transposed_ = transposedOf(level);
    posts_transposed_ = transposedOf(posts);
    pyramid_.push_back(std::move(level));
    while (pyramid_.back().columns() > 1 || pyramid_.back().rows() > 1) pyramid_.push_back(coarser(pyramid_.back()));
}

void Ground::buildAbout() {
    const Raster<float>& cells = pyramid_.front();
    about_ = Raster<float>(cells.columns() + 1, cells.rows() + 1);
    for (int row = 0; row < about_.rows(); ++row) {
        const float* below = cells.row(std::max(0, row - 1)).data();
        const float* above = cells.row(std::min(cells.rows() - 1, row)).data();
        float* out = about_.row(row).data();
        const int last = cells.columns() - 1;
        // Nothing is lower than the plane beyond, which a band may reach at the edge.
        out[0] = std::max(0.0f, std::max(below[0], above[0]));
        highestOfFour(below, above, 0.0f, last, out + 1);
        out[last + 1] = std::max(0.0f, std::max(below[last], above[last]));
    }
}

}  // namespace linefall
