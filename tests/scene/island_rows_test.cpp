// Rows of the island: whatever is worked out together is, bit for bit, what it is one by one.

#include "scene/island_rows.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "base/random.h"
#include "scene/island_plan.h"

using namespace linefall;

namespace {

float anywhere(int i, int what) { return 9000.0f * (island::chance(3, RandomUse::test, i, 0, what) - 0.5f); }

}  // namespace

TEST_CASE("noise of many points together is the noise of each", "[island]") {
    const island::Noise noise(11, 2);
    for (const int count : {1, 7, 64, 65, 1000}) {  // about the size of a block, and beyond it
        CAPTURE(count);
        std::vector<float> x, y, sums(static_cast<std::size_t>(count));
        for (int i = 0; i < count; ++i) {
            x.push_back(anywhere(i, 1) / 30.0f);
            y.push_back(anywhere(i, 2) / 30.0f);
        }
        std::vector<float> one_by_one;
        for (std::size_t i = 0; i < x.size(); ++i) one_by_one.push_back(noise.sum(x[i], y[i], 4, 0.6f));
        noise.sums(x, y, 4, 0.6f, sums);
        CHECK(sums == one_by_one);
    }
}

TEST_CASE("noise is nothing on the lattice, stays within its bounds, and repeats after 256 steps", "[island]") {
    const island::Noise noise(5, 1);
    for (int i = 0; i < 2000; ++i) {
        const float x = anywhere(i, 3) / 20.0f;
        const float y = anywhere(i, 4) / 20.0f;
        CHECK(noise.at(std::floor(x), std::floor(y)) == 0.0f);
        CHECK(std::fabs(noise.at(x, y)) < 0.7072f);  // half of the square's diagonal
        const float u = x - std::floor(x), v = y - std::floor(y);
        CHECK(noise.at(3.0f + u, 7.0f + v) == Approx(noise.at(259.0f + u, 263.0f + v)).margin(1e-3));
    }
}

TEST_CASE("a guide along a row has the values of single points", "[island]") {
    Raster<float> guide(island::guides, island::guides);
    for (std::size_t i = 0; i < guide.size(); ++i) guide.values()[i] = anywhere(static_cast<int>(i), 5);
    island::GuideRow at_posts(guide, island::GuideRow::Of::posts);
    island::GuideRow in_cells(guide, island::GuideRow::Of::cells);
    for (const int row : {0, 1, 2, 3, 4, 5, 1000, 7, 1998, 1999, 2000}) {  // forwards and backwards, to the borders
        CAPTURE(row);
        bool same = true;
        at_posts.moveTo(row);
        for (int column = 0; column < island::posts; ++column) {
            same = same && at_posts[column] == island::guideValue(guide, island::postAt(column), island::postAt(row));
        }
        if (row < island::cells) {
            in_cells.moveTo(row);
            for (int column = 0; column < island::cells; ++column) {
                same = same && in_cells[column] == island::guideValue(guide, island::cellAt(column), island::cellAt(row));
            }
        }
        CHECK(same);
    }
}

TEST_CASE("a batch gives each point its place in the row and leaves the others alone", "[island]") {
    const island::Plan plan(4);
    island::RowBatch batch;
    std::vector<float> row(10, 5.0f);
    for (const int at : {7, 2}) batch.add(at, 100.0f * static_cast<float>(at), -2600.0f);
    batch.beach(plan, row);
    for (const int at : {7, 2}) batch.add(at, 100.0f * static_cast<float>(at), 300.0f);
    std::vector<float> waves(10, 5.0f);
    batch.sum(plan.fine(), {.length_m = 45.0f, .octaves = 2, .gain = 0.7f, .east = 3.0f, .north = 9.0f}, waves);
    for (int at = 0; at < 10; ++at) {
        CAPTURE(at);
        const auto k = static_cast<std::size_t>(at);
        const float east = 100.0f * static_cast<float>(at);
        const bool asked = at == 7 || at == 2;
        CHECK(row[k] == (asked ? plan.beach(east, -2600.0f) : 5.0f));
        CHECK(waves[k] == (asked ? plan.fine().sum(east / 45.0f + 3.0f, 300.0f / 45.0f + 9.0f, 2, 0.7f) : 5.0f));
    }
}
