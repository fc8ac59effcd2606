#include "scene/island_erosion.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <queue>

#include "base/random.h"

namespace linefall::island {

namespace {

constexpr std::array<int, 8> step_east{1, 1, 0, -1, -1, -1, 0, 1};
constexpr std::array<int, 8> step_north{0, 1, 1, 1, 0, -1, -1, -1};

/// Raises every node until water finds a way down to a fixed one.
void fillPits(Relief& relief) {
    const int columns = relief.height_m.columns();
    const int rows = relief.height_m.rows();
    struct Waiting {
        float height;
        int index;
        bool operator>(const Waiting& other) const {
            return height != other.height ? height > other.height : index > other.index;
        }
    };
    std::priority_queue<Waiting, std::vector<Waiting>, std::greater<>> queue;
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
            if (shore) queue.push({heights[static_cast<std::size_t>(index)], index});
        }
    }
    while (!queue.empty()) {
        const Waiting now = queue.top();
        queue.pop();
        const int column = now.index % columns;
        const int row = now.index / columns;
        for (std::size_t k = 0; k < 8; ++k) {
            const int c = column + step_east[k];
            const int r = row + step_north[k];
            if (c < 0 || c >= columns || r < 0 || r >= rows) continue;
            const int next = r * columns + c;
            const auto at = static_cast<std::size_t>(next);
            if (seen[at]) continue;
            seen[at] = 1;
            heights[at] = std::max(heights[at], now.height + 0.01f);
            queue.push({heights[at], next});
        }
    }
}

/// How readily a node drains to each neighbour: one over the distance, times a random share of its own.
std::vector<float> readiness(const Relief& relief, std::uint64_t seed) {
    const std::size_t count = relief.height_m.size();
    std::vector<float> ready(count * 8);
    const float straight = static_cast<float>(1.0 / relief.spacing_m);
    const float diagonal = straight / std::sqrt(2.0f);
    for (std::size_t i = 0; i < count; ++i) {
        const auto words = keyedWords(seed, RandomUse::terrain, static_cast<std::uint32_t>(i), 0x65726fu, 0);
        for (std::size_t k = 0; k < 8; ++k) {
            const float share = static_cast<float>((words[k / 2] >> (16 * (k % 2))) & 0xFFFFu) / 65535.0f;
            ready[i * 8 + k] = (k % 2 ? diagonal : straight) * (0.7f + 0.6f * share);
        }
    }
    return ready;
}

void route(const Relief& relief, const std::vector<float>& ready, Drainage& drainage, std::vector<int>& donors_before,
           std::vector<int>& donors) {
    const int columns = relief.height_m.columns();
    const int rows = relief.height_m.rows();
    const std::size_t count = relief.height_m.size();
    const auto heights = relief.height_m.values();
    const auto fixed = relief.fixed.values();
    std::fill(donors_before.begin(), donors_before.end(), 0);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const int index = row * columns + column;
            const auto i = static_cast<std::size_t>(index);
            int best = index;
            if (!fixed[i] && column > 0 && row > 0 && column < columns - 1 && row < rows - 1) {
                float most = 0.0f;
                for (std::size_t k = 0; k < 8; ++k) {
                    const int next = index + step_north[k] * columns + step_east[k];
                    const float slope = (heights[i] - heights[static_cast<std::size_t>(next)]) * ready[i * 8 + k];
                    if (slope > most) {
                        most = slope;
                        best = next;
                    }
                }
            }
            drainage.receiver[i] = best;
            if (best != index) ++donors_before[static_cast<std::size_t>(best) + 1];
        }
    }
    for (std::size_t i = 0; i < count; ++i) donors_before[i + 1] += donors_before[i];
    std::vector<int> filled(donors_before.begin(), donors_before.end() - 1);
    for (std::size_t i = 0; i < count; ++i) {
        const int to = drainage.receiver[i];
        if (to != static_cast<int>(i))
            donors[static_cast<std::size_t>(filled[static_cast<std::size_t>(to)]++)] = static_cast<int>(i);
    }
    drainage.order.clear();
    for (std::size_t i = 0; i < count; ++i) {
        if (drainage.receiver[i] == static_cast<int>(i)) drainage.order.push_back(static_cast<int>(i));
    }
    for (std::size_t k = 0; k < drainage.order.size(); ++k) {
        const auto i = static_cast<std::size_t>(drainage.order[k]);
        for (int d = donors_before[i]; d < donors_before[i + 1]; ++d) {
            drainage.order.push_back(donors[static_cast<std::size_t>(d)]);
        }
    }
    const float own = static_cast<float>(relief.spacing_m * relief.spacing_m);
    std::fill(drainage.area_m2.begin(), drainage.area_m2.end(), own);
    for (std::size_t k = count; k-- > 0;) {
        const auto i = static_cast<std::size_t>(drainage.order[k]);
        const auto to = static_cast<std::size_t>(drainage.receiver[i]);
        if (to != i) drainage.area_m2[to] += drainage.area_m2[i];
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
    const std::vector<float> ready = readiness(relief, seed);
    Drainage drainage{std::vector<int>(count), {}, std::vector<float>(count)};
    drainage.order.reserve(count);
    std::vector<int> donors_before(count + 1);
    std::vector<int> donors(count);
    for (int s = 0; s < steps; ++s) {
        route(relief, ready, drainage, donors_before, donors);
        for (const int index : drainage.order) {
            const auto i = static_cast<std::size_t>(index);
            const int to = drainage.receiver[i];
            if (to == index) continue;
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
