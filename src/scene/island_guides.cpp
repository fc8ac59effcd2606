// The coarse island: outline, lake, eroded valleys, and the streams that the erosion found.

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "base/threads.h"
#include "scene/island_erosion.h"
#include "scene/island_map.h"
#include "scene/island_rows.h"

namespace linefall::island {

namespace {

constexpr int half_guides = 251;  // the first, coarser erosion: every other node

/// Marks nodes near the river as fixed at the river's level.
void fixRiver(const Way& river, float margin_m, Relief& relief) {
    const auto node = [&](float metres) { return (metres + reach) / static_cast<float>(relief.spacing_m); };
    for (std::size_t k = 0; k < river.size(); ++k) {
        const WayPoint& p = river[k];
        const float wide = (p.half_width + margin_m) / static_cast<float>(relief.spacing_m);
        const float x = node(p.east);
        const float y = node(p.north);
        for (int row = static_cast<int>(std::ceil(y - wide)); static_cast<float>(row) <= y + wide; ++row) {
            for (int column = static_cast<int>(std::ceil(x - wide)); static_cast<float>(column) <= x + wide; ++column) {
                const float dx = static_cast<float>(column) - x;
                const float dy = static_cast<float>(row) - y;
                if (dx * dx + dy * dy > wide * wide) continue;
                if (!relief.fixed.at(column, row) || relief.height_m.at(column, row) < lake_level) {
                    // Points come downstream, so a node keeps the lowest level of those that reach it; the lake keeps its own.
                    relief.height_m.at(column, row) = p.level;
                }
                relief.fixed.at(column, row) = 1;
            }
        }
    }
}

/// The ground before any water has run: heights, waters, and what the plan says of steepness.
Relief startRelief(const Plan& plan, const Guides& guide, int threads) {
    Relief relief;
    relief.spacing_m = static_cast<double>(guide_spacing);
    relief.height_m = Raster<float>(guides, guides);
    relief.fixed = Raster<std::uint8_t>(guides, guides);
    relief.steepness_m = Raster<float>(guides, guides);
    relief.talus = Raster<float>(guides, guides);
    parallelFor(guides, threads, [&](int row) {
        const float north = guideAt(row);
        RowBatch batch;
        std::vector<float> rough(guides), talus(guides);
        std::vector<int> land;
        for (int column = 0; column < guides; ++column) {
            if (guide.inland_m.at(column, row) <= 0.0f) {
                relief.fixed.at(column, row) = 1;
            } else if (guide.in_lake_m.at(column, row) >= 0.0f) {
                relief.fixed.at(column, row) = 1;
                relief.height_m.at(column, row) = lake_level;
            } else {
                land.push_back(column);
            }
        }
        // The first slopes decide where the main valleys run: broad waves make few long ones, not many short ones.
        for (const int column : land) batch.add(column, guideAt(column), north);
        batch.sum(plan.broad(), {.length_m = 1000.0f, .octaves = 5, .gain = 0.55f, .north = 60.0f}, rough);
        for (const int column : land) batch.add(column, guideAt(column), north);
        batch.sum(plan.broad(), {.length_m = 260.0f, .octaves = 3, .gain = 0.7f, .east = 70.0f}, talus);
        for (const int column : land) {
            const auto c = static_cast<std::size_t>(column);
            const float east = guideAt(column);
            const float s = guide.inland_m.at(column, row);
            // Flat behind beaches; otherwise the mountains, hills and plains of the plan.
            const float low = plan.beach(east, north) * smoothStep(500.0f, 100.0f, s);
            const float steepness = mix(plan.steepness(east, north), 1.0f, low);
            relief.steepness_m.at(column, row) = steepness;
            relief.height_m.at(column, row) = steepness * (4.0f + 6.0f * rough[c]) + 0.004f * s;
            relief.talus.at(column, row) = 0.70f + 0.36f * talus[c];
        }
    });
    return relief;
}

/// Every other node each way.
Relief everyOther(const Relief& fine) {
    Relief coarse;
    coarse.spacing_m = 2.0 * fine.spacing_m;
    const auto thinned = [](const auto& from, auto& to) {
        to = std::decay_t<decltype(from)>((from.columns() + 1) / 2, (from.rows() + 1) / 2);
        for (int row = 0; row < to.rows(); ++row) {
            for (int column = 0; column < to.columns(); ++column) to.at(column, row) = from.at(2 * column, 2 * row);
        }
    };
    thinned(fine.height_m, coarse.height_m);
    thinned(fine.fixed, coarse.fixed);
    thinned(fine.steepness_m, coarse.steepness_m);
    thinned(fine.talus, coarse.talus);
    return coarse;
}

/// Chamfer distance from fixed nodes (weights 1 and sqrt 2), m.
Raster<float> distanceFromWater(const Relief& relief) {
    const int n = relief.height_m.columns();
    const float straight = static_cast<float>(relief.spacing_m);
    const float diagonal = straight * std::sqrt(2.0f);
    Raster<float> away(n, n);
    for (std::size_t i = 0; i < away.size(); ++i) away.values()[i] = relief.fixed.values()[i] ? 0.0f : 1e6f;
    for (int row = 1; row < n; ++row) {
        for (int column = 1; column < n - 1; ++column) {
            float& a = away.at(column, row);
            a = std::min(std::min(a, away.at(column - 1, row) + straight),
                         std::min(away.at(column, row - 1) + straight,
                                  std::min(away.at(column - 1, row - 1), away.at(column + 1, row - 1)) + diagonal));
        }
    }
    for (int row = n - 1; row-- > 0;) {
        for (int column = n - 1; column-- > 1;) {
            float& a = away.at(column, row);
            a = std::min(std::min(a, away.at(column + 1, row) + straight),
                         std::min(away.at(column, row + 1) + straight,
                                  std::min(away.at(column - 1, row + 1), away.at(column + 1, row + 1)) + diagonal));
        }
    }
    return away;
}

/// Follows the water down from every spring whose stream gathers enough.
std::vector<Way> findStreams(const Relief& relief, const Drainage& drainage, const Guides& guide) {
    constexpr float least_area_m2 = 0.16e6f;
    constexpr float highest_m = 420.0f;
    const int n = relief.height_m.columns();
    const auto heights = relief.height_m.values();
    const auto wet = [&](std::size_t i) { return drainage.area_m2[i] >= least_area_m2 && heights[i] < highest_m; };
    std::vector<std::uint8_t> fed(heights.size(), 0);
    for (std::size_t i = 0; i < heights.size(); ++i) {
        if (!relief.fixed.values()[i] && wet(i)) fed[static_cast<std::size_t>(drainage.receiver[i])] = 1;
    }
    std::vector<std::uint8_t> taken(heights.size(), 0);
    std::vector<Way> streams;
    for (std::size_t head = 0; head < heights.size(); ++head) {
        if (fed[head] || relief.fixed.values()[head] || !wet(head)) continue;
        Way way;
        int after = 4;  // a stream runs some nodes on into the water that takes it
        for (std::size_t i = head;;) {
            const int column = static_cast<int>(i) % n;
            const int row = static_cast<int>(i) / n;
            // Undo the warp: the fine ground at p shows the coarse ground at p + warp(p).
            float east = guideAt(column);
            float north = guideAt(row);
            for (int k = 0; k < 3; ++k) {
                const float we = guideValue(guide.warp_east_m, east, north);
                const float wn = guideValue(guide.warp_north_m, east, north);
                east = guideAt(column) - we;
                north = guideAt(row) - wn;
            }
            const float area = std::min(drainage.area_m2[i], 4e6f);
            way.push_back({east, north, heights[i] - 0.6f, 1.6f + 1.6f * std::sqrt(area * 1e-6f)});
            const auto next = static_cast<std::size_t>(drainage.receiver[i]);
            if (next == i || (taken[i] && --after == 0)) break;
            taken[i] = 1;
            i = next;
        }
        if (way.size() < 8) continue;
        for (int pass = 0; pass < 3; ++pass) {
            const Way old = way;
            for (std::size_t k = 1; k + 1 < way.size(); ++k) {
                way[k].east = 0.25f * old[k - 1].east + 0.5f * old[k].east + 0.25f * old[k + 1].east;
                way[k].north = 0.25f * old[k - 1].north + 0.5f * old[k].north + 0.25f * old[k + 1].north;
            }
        }
        for (std::size_t k = 1; k < way.size(); ++k) {
            way[k].level = std::min(way[k].level, way[k - 1].level);
            way[k].half_width = std::max(way[k].half_width, way[k - 1].half_width);
        }
        streams.push_back(std::move(way));
    }
    return streams;
}

}  // namespace

Guides makeGuides(const Plan& plan, int threads) {
    Guides guide;
    guide.inland_m = Raster<float>(guides, guides);
    guide.in_lake_m = Raster<float>(guides, guides);
    parallelFor(guides, threads, [&](int row) {
        for (int column = 0; column < guides; ++column) {
            guide.inland_m.at(column, row) = plan.inland(guideAt(column), guideAt(row));
            guide.in_lake_m.at(column, row) = plan.inLake(guideAt(column), guideAt(row));
        }
    });

    Relief relief = startRelief(plan, guide, threads);
    Relief coarse = everyOther(relief);
    fixRiver(plan.river(), 44.0f, coarse);
    erode(coarse, 22, 0.45f, plan.seed() + 1);

    for (int row = 0; row < guides; ++row) {
        for (int column = 0; column < guides; ++column) {
            if (relief.fixed.at(column, row)) continue;
            const int i = std::min(column / 2, half_guides - 2);
            const int j = std::min(row / 2, half_guides - 2);
            const float fu = 0.5f * static_cast<float>(column - 2 * i);
            const float fv = 0.5f * static_cast<float>(row - 2 * j);
            relief.height_m.at(column, row) = mix(mix(coarse.height_m.at(i, j), coarse.height_m.at(i + 1, j), fu),
                                                  mix(coarse.height_m.at(i, j + 1), coarse.height_m.at(i + 1, j + 1), fu), fv);
        }
    }
    fixRiver(plan.river(), 24.0f, relief);
    const Drainage drainage = erode(relief, 4, 0.3f, plan.seed() + 2);

    // The summit is to stand near 1000 m whatever the seed: heights above the foothills are stretched.
    float most = 0.0f;
    for (const float h : relief.height_m.values()) most = std::max(most, h);
    const float wanted = 960.0f + 90.0f * chance(plan.seed(), RandomUse::terrain, 0, 0, 0x73756d);
    constexpr float foothills = 150.0f;
    const float stretch = (wanted - foothills) / std::max(1.0f, most - foothills);
    for (float& h : relief.height_m.values()) {
        if (h > foothills) h = foothills + (h - foothills) * stretch;
    }

    guide.away_m = distanceFromWater(relief);
    guide.slope = Raster<float>(guides, guides);
    guide.habit = Raster<float>(guides, guides);
    guide.warp_east_m = Raster<float>(guides, guides);
    guide.warp_north_m = Raster<float>(guides, guides);
    parallelFor(guides, threads, [&](int row) {
        const float north = guideAt(row);
        RowBatch batch;
        // No warp at the waters, whose place is fixed.
        std::vector<float> strength(guides);
        for (int column = 0; column < guides; ++column) {
            strength[static_cast<std::size_t>(column)] = 26.0f * smoothStep(10.0f, 120.0f, guide.away_m.at(column, row));
        }
        const auto warp = [&](const Waves& waves, std::span<float> warp_m) {
            for (int column = 0; column < guides; ++column) {
                if (strength[static_cast<std::size_t>(column)] > 0.0f) batch.add(column, guideAt(column), north);
            }
            batch.sum(plan.fine(), waves, warp_m);
            for (std::size_t c = 0; c < warp_m.size(); ++c) warp_m[c] *= strength[c];
        };
        warp({.length_m = 150.0f, .octaves = 3, .gain = 0.6f}, guide.warp_east_m.row(row));
        warp({.length_m = 150.0f, .octaves = 3, .gain = 0.6f, .east = 90.0f, .north = 33.0f}, guide.warp_north_m.row(row));
        for (int column = 0; column < guides; ++column) batch.add(column, guideAt(column), north);
        batch.sum(plan.broad(), {.length_m = 380.0f, .octaves = 3, .gain = 0.6f, .east = 51.0f, .north = 23.0f}, guide.habit.row(row));
        for (int column = 0; column < guides; ++column) {
            const int c = std::clamp(column, 1, guides - 2);
            const int r = std::clamp(row, 1, guides - 2);
            const float dx = relief.height_m.at(c + 1, r) - relief.height_m.at(c - 1, r);
            const float dy = relief.height_m.at(c, r + 1) - relief.height_m.at(c, r - 1);
            guide.slope.at(column, row) = std::sqrt(dx * dx + dy * dy) / (2.0f * guide_spacing);
        }
    });
    guide.streams = findStreams(relief, drainage, guide);
    guide.height_m = std::move(relief.height_m);
    return guide;
}

}  // namespace linefall::island
