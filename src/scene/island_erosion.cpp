#include "scene/island_erosion.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <numeric>
#include <queue>
#include <vector>

#include "base/dispatch.h"
#include "base/random.h"

namespace linefall::island {

namespace {

constexpr std::array<int, 8> step_east{1, 1, 0, -1, -1, -1, 0, 1};
constexpr std::array<int, 8> step_north{0, 1, 1, 1, 0, -1, -1, -1};

/// Raises every node until water finds a way down to a fixed one.
void fillPits(Relief& relief) {
    const int columns = relief.height_m.columns();
    const int rows = relief.height_m.rows();
    // The lowest first: a height as a whole number that grows with it, and the index of the node below it.
    std::priority_queue<std::uint64_t, std::vector<std::uint64_t>, std::greater<>> queue;
    const auto wait = [&queue](float height, int index) {
        std::uint32_t bits;
        std::memcpy(&bits, &height, sizeof bits);
        const std::uint32_t key = (bits >> 31) != 0 ? ~bits : bits | 0x80000000u;
        queue.push(std::uint64_t{key} << 32 | static_cast<std::uint32_t>(index));
    };
    std::vector<std::uint8_t> seen(relief.height_m.size(), 0);
    const auto heights = relief.height_m.values();
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            if (!relief.fixed.at(column, row)) continue;
            const int index = row * columns + column;
            seen[static_cast<std::size_t>(index)] = 1;
            bool shore = false;  // a fixed node among fixed ones has nobody to tell
            for (std::size_t k = 0; k < 8; ++k) {
                const int c = column + step_east[k];
                const int r = row + step_north[k];
                if (c >= 0 && c < columns && r >= 0 && r < rows && !relief.fixed.at(c, r)) shore = true;
            }
            if (shore) wait(heights[static_cast<std::size_t>(index)], index);
        }
    }
    while (!queue.empty()) {
        const int index = static_cast<int>(queue.top() & 0xFFFFFFFFu);
        queue.pop();
        const float height = heights[static_cast<std::size_t>(index)];
        const int column = index % columns;
        const int row = index / columns;
        for (std::size_t k = 0; k < 8; ++k) {
            const int c = column + step_east[k];
            const int r = row + step_north[k];
            if (c < 0 || c >= columns || r < 0 || r >= rows) continue;
            const int next = r * columns + c;
            const auto at = static_cast<std::size_t>(next);
            if (seen[at]) continue;
            seen[at] = 1;
            heights[at] = std::max(heights[at], height + 0.01f);
            wait(heights[at], next);
        }
    }
}

/// How readily nodes drain to each of their neighbours: one over the distance, times a random share of their own.
using Readiness = std::array<std::vector<float>, 8>;

Readiness readiness(const Relief& relief, std::uint64_t seed) {
    const std::size_t count = relief.height_m.size();
    Readiness ready;
    for (auto& of : ready) of.resize(count);
    const float straight = static_cast<float>(1.0 / relief.spacing_m);
    const float diagonal = straight / std::sqrt(2.0f);
    for (std::size_t i = 0; i < count; ++i) {
        const auto words = keyedWords(seed, RandomUse::terrain, static_cast<std::uint32_t>(i), 0x65726fu, 0);
        for (std::size_t k = 0; k < 8; ++k) {
            const float share = static_cast<float>((words[k / 2] >> (16 * (k % 2))) & 0xFFFFu) / 65535.0f;
            ready[k][i] = (k % 2 ? diagonal : straight) * (0.7f + 0.6f * share);
        }
    }
    return ready;
}

/// The receivers of the nodes first .. last - 1: the neighbour that each drains to most readily, or itself where none is lower.
LINEFALL_VECTORISED
void findReceivers(const float* height_m, const Readiness& ready, int columns, int first, int last, int* __restrict receiver) {
    const float* readiest[8];
    for (std::size_t k = 0; k < 8; ++k) readiest[k] = ready[k].data();
    for (int i = first; i < last; ++i) {
        float most = 0.0f;
        int best = i;
        for (std::size_t k = 0; k < 8; ++k) {
            const int apart = step_north[k] * columns + step_east[k];
            const float slope = (height_m[i] - height_m[i + apart]) * readiest[k][i];
            best = slope > most ? i + apart : best;
            most = slope > most ? slope : most;
        }
        receiver[i] = best;
    }
}

/// The receiver of every node; itself on the border too, and where it is fixed.
void findReceivers(const Relief& relief, const Readiness& ready, std::vector<int>& receiver) {
    const int columns = relief.height_m.columns();
    const int rows = relief.height_m.rows();
    std::iota(receiver.begin(), receiver.end(), 0);
    for (int row = 1; row < rows - 1; ++row) {
        const int first = row * columns;
        findReceivers(relief.height_m.values().data(), ready, columns, first + 1, first + columns - 1, receiver.data());
        const auto fixed = relief.fixed.row(row);
        for (int column = 0; column < columns; ++column) {
            int& to = receiver[static_cast<std::size_t>(first + column)];
            to = fixed[static_cast<std::size_t>(column)] ? first + column : to;
        }
    }
}

/// Lists the nodes whose water flows on, each after its receiver, and adds up the area that drains to every node. The
/// areas are whole multiples of a node's own, so that no order of adding changes them.
void gather(float own_m2, Drainage& drainage, std::vector<std::uint8_t>& listed) {
    const std::vector<int>& receiver = drainage.receiver;
    for (std::size_t i = 0; i < receiver.size(); ++i) listed[i] = receiver[i] == static_cast<int>(i) ? 1 : 0;
    drainage.order.clear();
    for (std::size_t i = 0; i < receiver.size(); ++i) {
        const auto from = static_cast<std::ptrdiff_t>(drainage.order.size());
        for (std::size_t k = i; !listed[k]; k = static_cast<std::size_t>(receiver[k])) {
            listed[k] = 1;
            drainage.order.push_back(static_cast<int>(k));
        }
        std::reverse(drainage.order.begin() + from, drainage.order.end());
    }
    std::fill(drainage.area_m2.begin(), drainage.area_m2.end(), own_m2);
    for (std::size_t k = drainage.order.size(); k-- > 0;) {
        const auto i = static_cast<std::size_t>(drainage.order[k]);
        drainage.area_m2[static_cast<std::size_t>(receiver[i])] += drainage.area_m2[i];
    }
}

}  // namespace

Drainage erode(Relief& relief, int steps, float step, std::uint64_t seed) {
    const std::size_t count = relief.height_m.size();
    const int columns = relief.height_m.columns();
    const auto heights = relief.height_m.values();
    const auto steepness = relief.steepness_m.values();
    const auto talus = relief.talus.values();
    const float straight = static_cast<float>(relief.spacing_m);
    const float diagonal = straight * std::sqrt(2.0f);

    fillPits(relief);
    const Readiness ready = readiness(relief, seed);
    Drainage drainage{std::vector<int>(count), {}, std::vector<float>(count)};
    drainage.order.reserve(count);
    std::vector<std::uint8_t> listed(count);
    for (int s = 0; s < steps; ++s) {
        findReceivers(relief, ready, drainage.receiver);
        gather(straight * straight, drainage, listed);
        for (const int index : drainage.order) {
            const auto i = static_cast<std::size_t>(index);
            const int to = drainage.receiver[i];
            const int apart = std::abs(to - index);
            const float distance = apart == 1 || apart == columns ? straight : diagonal;
            const float below = heights[static_cast<std::size_t>(to)];
            const float pull = step * std::sqrt(drainage.area_m2[i]) / distance;
            const float solved = (heights[i] + step * steepness[i] + pull * below) / (1.0f + pull);
            // Above the receiver, so that no pit can form, and below the angle of repose.
            heights[i] = std::clamp(solved, below + 0.01f, below + talus[i] * distance);
        }
    }
    return drainage;
}

}  // namespace linefall::island
