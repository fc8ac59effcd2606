// How high trees and hedges stand.

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "base/threads.h"
#include "scene/island_cover.h"

namespace linefall::island {

namespace {

constexpr int plots = posts / 2 + 2;  // one tree in each 2 x 2 posts

/// The trees of a row of plots, one in each plot of 2 x 2 posts; the first lies west of the place.
struct TreeRow {
    std::vector<float> column, row;  // where the tree stands, in posts
    std::vector<float> tall_m;
    TreeRow() : column(plots + 1), row(plots + 1), tall_m(plots + 1) {}
    void moveTo(int plot_row, const Raster<std::uint32_t>& words) {
        const auto of = words.row(std::max(0, plot_row));
        for (int k = 0; k <= plots; ++k) {
            const std::uint32_t word = of[static_cast<std::size_t>(std::max(0, k - 1))];
            const auto at = static_cast<std::size_t>(k);
            column[at] = 2.0f * (static_cast<float>(k - 1) + byteShare(word, 16));
            row[at] = 2.0f * (static_cast<float>(plot_row) + byteShare(word, 24));
            tall_m[at] = 7.0f + 8.0f * byteShare(word, 8);
        }
    }
};

/// Of the four cells around each post of a row: how many are forest, how many hedge, and whether one is water.
struct Neighbours {
    static constexpr unsigned forest = 1, hedge = 8, water = 64;
    std::vector<std::uint8_t> south, north, around;
    Neighbours() : south(cells), north(cells), around(posts) {}

    void moveTo(int row, const Map& map, const Raster<std::uint8_t>& hedges) {
        const auto mark = [&](int cell_row, std::vector<std::uint8_t>& marks) {
            const auto covers = map.cover.row(cell_row);
            const auto hedged = hedges.row(cell_row);
            for (std::size_t k = 0; k < marks.size(); ++k) {
                const Cover c = covers[k];
                marks[k] = static_cast<std::uint8_t>((isForest(c) ? forest : 0u) + (hedged[k] != 0 ? hedge : 0u) + (isWater(c) ? water : 0u));
            }
        };
        if (row == last_row_ + 1) std::swap(south, north);
        else mark(row - 1, south);
        mark(row, north);
        last_row_ = row;
        for (std::size_t k = 1; k < south.size(); ++k) {
            const unsigned a = south[k - 1], b = south[k], c = north[k - 1], d = north[k];
            constexpr unsigned counts = water - 1;
            around[k] = static_cast<std::uint8_t>((a & counts) + (b & counts) + (c & counts) + (d & counts) + ((a | b | c | d) & water));
        }
    }

private:
    int last_row_ = -1;
};

/// How far the trees of nine plots rise over a post, m.
float crown(const std::array<const TreeRow*, 3>& trees, int column, int row, bool needles) {
    float most = 2.0f;
    for (const TreeRow* of : trees) {
        for (std::size_t k = static_cast<std::size_t>(column / 2); k < static_cast<std::size_t>(column / 2) + 3; ++k) {
            const float x = (of->column[k] - static_cast<float>(column)) * spacing;
            const float y = (of->row[k] - static_cast<float>(row)) * spacing;
            const float square = x * x + y * y;
            if (square > 49.0f) continue;
            most = std::max(most, of->tall_m[k] * (needles ? 1.0f - std::sqrt(square) / 7.0f : 1.0f - square / 46.0f));
        }
    }
    return most;
}

/// Raises the posts of the rows first .. last - 1.
void raiseRows(const Raster<std::uint32_t>& words, const Raster<std::uint8_t>& hedges, int first, int last, Map& map) {
    std::array<TreeRow, 3> trees;
    Neighbours neighbours;
    int ready = -1;
    for (int row = std::max(1, first); row < std::min(last, posts - 1); ++row) {
        neighbours.moveTo(row, map, hedges);
        const int plot_row = row / 2;
        if (plot_row != ready) {
            for (int k = -1; k <= 1; ++k) {
                TreeRow& of = trees[static_cast<std::size_t>((plot_row + k + 3) % 3)];
                if (k == 1 || plot_row != ready + 1) of.moveTo(plot_row + k, words);
            }
            ready = plot_row;
        }
        const std::array<const TreeRow*, 3> around{&trees[static_cast<std::size_t>((plot_row + 2) % 3)],
                                                   &trees[static_cast<std::size_t>(plot_row % 3)],
                                                   &trees[static_cast<std::size_t>((plot_row + 1) % 3)]};
        const auto height_m = map.height_m.row(row);
        for (int column = 1; column < posts - 1; ++column) {
            const auto c = static_cast<std::size_t>(column);
            const unsigned marks = neighbours.around[c];
            const unsigned forest = marks % Neighbours::hedge;
            if (forest < 3 || marks >= Neighbours::water) continue;  // water stays level
            if (const unsigned hedge = marks / Neighbours::hedge; hedge > 0) {
                if (hedge >= 3) height_m[c] += 2.2f + 1.6f * byteShare(words.at(column / 2, row / 2), 8);
                continue;
            }
            const float most = crown(around, column, row, map.cover.at(column, row) == Cover::conifer);
            height_m[c] += forest == 4 ? most : 0.6f * most;
        }
    }
}

}  // namespace

bool isForest(Cover c) {
    return c == Cover::conifer || c == Cover::deciduous;
}

Raster<std::uint32_t> drawPlots(std::uint64_t seed, int threads) {
    Raster<std::uint32_t> words(plots, plots);
    parallelFor(plots, threads, [&](int row) {
        for (int column = 0; column < plots; column += 4) {
            const auto four = keyedWords(seed, RandomUse::terrain, static_cast<std::uint32_t>(column),
                                         static_cast<std::uint32_t>(row), 0x747265u);
            for (int k = 0; k < 4 && column + k < plots; ++k) words.at(column + k, row) = four[static_cast<std::size_t>(k)];
        }
    });
    return words;
}

void raiseTrees(const Raster<std::uint32_t>& words, const Raster<std::uint8_t>& hedges, Map& map, int threads) {
    constexpr int band = 16;
    parallelFor((posts + band - 1) / band, threads, [&](int b) { raiseRows(words, hedges, b * band, (b + 1) * band, map); });
}

}  // namespace linefall::island
