// The ground at 4 m posts: the coarse island looked up through a warp, finer relief, beaches, dunes, and the waters
// cut into it.

#include <algorithm>
#include <array>
#include <cmath>

#include "base/threads.h"
#include "scene/island_map.h"
#include "scene/island_works.h"

namespace linefall::island {

namespace {

struct Taps {
    std::array<float, 4> weight;
    explicit Taps(float t)
        : weight{0.5f * t * (-1.0f + t * (2.0f - t)), 1.0f + 0.5f * t * t * (3.0f * t - 5.0f),
                 0.5f * t * (1.0f + t * (4.0f - 3.0f * t)), 0.5f * t * t * (t - 1.0f)} {}
};

/// Catmull-Rom surface through the guide's nodes; sharper on ridges than a B-spline.
float cubicValue(const Raster<float>& guide_raster, float east, float north) {
    const float u = (east + reach) / guide_spacing;
    const float v = (north + reach) / guide_spacing;
    const int i = std::clamp(static_cast<int>(u), 1, guides - 3);
    const int j = std::clamp(static_cast<int>(v), 1, guides - 3);
    const Taps a(u - static_cast<float>(i));
    const Taps b(v - static_cast<float>(j));
    float sum = 0.0f;
    for (int k = 0; k < 4; ++k) {
        const float* row = &guide_raster.at(i - 1, j - 1 + k);
        sum += b.weight[static_cast<std::size_t>(k)] *
               (row[0] * a.weight[0] + row[1] * a.weight[1] + row[2] * a.weight[2] + row[3] * a.weight[3]);
    }
    return sum;
}

/// Ridges of blown sand across the wind from the south-west, steep on the lee side, m.
float duneWave(const Plan& plan, float east, float north) {
    constexpr float wind_east = 0.56f, wind_north = 0.83f;
    const float bent = 38.0f * plan.fine().sum(east / 170.0f + 7.0f, north / 170.0f, 2);
    const float u = (east * wind_east + north * wind_north + bent) / 46.0f;
    const float phase = u - std::floor(u);
    const float crest = phase < 0.7f ? phase / 0.7f : (1.0f - phase) / 0.3f;
    const float strength = 0.55f + 0.9f * plan.fine().at(east / 120.0f, north / 120.0f + 50.0f);
    return 7.0f * crest * crest * (3.0f - 2.0f * crest) * std::max(0.1f, strength);
}

}  // namespace

float duneShare(float inland_m, float beach) {
    return beach * smoothStep(48.0f, 100.0f, inland_m) * smoothStep(330.0f, 230.0f, inland_m);
}

float duneCoast(float east, float north) {
    return north > -2000.0f ? 0.0f : smoothStep(660.0f, 380.0f, east) * smoothStep(-2300.0f, -2000.0f, east);
}

Map makeGround(const Plan& plan, const Guides& guide, int threads) {
    Map map{Raster<float>(posts, posts), Raster<Cover>(cells, cells, Cover::open), Raster<std::uint8_t>(cells, cells)};
    Raster<std::uint8_t> wet(posts, posts);  // 1 sea, 2 lake
    parallelFor(posts, threads, [&](int row) {
        const float north = postAt(row);
        for (int column = 0; column < posts; ++column) {
            const float east = postAt(column);
            float s = guideValue(guide.inland_m, east, north);
            if (s < -30.0f) {
                wet.at(column, row) = 1;
                continue;
            }
            const float beach = s < 700.0f ? plan.beach(east, north) : 0.0f;
            if (s < 60.0f) s += (1.0f - beach) * 9.0f * plan.fine().sum(east / 45.0f, north / 45.0f, 2);
            if (s <= 0.0f) {
                wet.at(column, row) = 1;
                continue;
            }
            const float in_lake = guideValue(guide.in_lake_m, east, north);
            if (in_lake >= 0.0f) {
                wet.at(column, row) = 2;
                map.height_m.at(column, row) = lake_level;
                continue;
            }
            const float we = guideValue(guide.warp_east_m, east, north);
            const float wn = guideValue(guide.warp_north_m, east, north);
            float h = std::max(0.0f, cubicValue(guide.height_m, std::clamp(east + we, -3990.0f, 3990.0f),
                                                std::clamp(north + wn, -3990.0f, 3990.0f)));
            // Broken ground where it is steep, gentle waves elsewhere.
            const float steep = guideValue(guide.slope, east, north);
            const float away = guideValue(guide.away_m, east, north);
            const float broken = std::min(1.0f, 1.5f * std::max(0.0f, steep - 0.12f)) * smoothStep(8.0f, 60.0f, away);
            if (broken > 0.0f) {
                const float a = plan.fine().at(east / 61.0f, north / 61.0f);
                const float b = plan.fine().at((0.8f * east - 0.6f * north) / 27.0f, (0.6f * east + 0.8f * north) / 27.0f);
                const float c = plan.fine().at(east / 11.7f + 9.0f, north / 11.7f);
                h += broken * (13.0f * (0.3f - std::fabs(a)) + 6.0f * (0.3f - std::fabs(b)) + 2.4f * c);
            } else {
                h += 0.6f * plan.fine().at(east / 61.0f, north / 61.0f) * smoothStep(20.0f, 120.0f, away);
            }
            // The shore: a beach slopes up gently to its berm, a cliff stands in the water.
            const float berm = 3.4f * smoothStep(-20.0f, 85.0f, s) - 0.25f;
            h = mix(h + std::min(2.0f, 0.25f * s), std::max(berm, h * smoothStep(0.0f, 140.0f, s)), beach);
            if (beach > 0.05f) {
                const float dunes = duneShare(s, beach) * duneCoast(east, north);
                if (dunes > 0.0f) h += dunes * duneWave(plan, east, north);
            }
            // The lake's shore rises from the lake.
            if (in_lake > -40.0f)
                h = mix(lake_level + 0.2f - 0.05f * in_lake, std::max(h, lake_level + 0.2f), smoothStep(0.0f, 40.0f, -in_lake));
            map.height_m.at(column, row) = std::max(0.12f, h);
        }
    });
    parallelFor(cells, threads, [&](int row) {
        for (int column = 0; column < cells; ++column) {
            const std::uint8_t first = wet.at(column, row);
            if (!first || wet.at(column + 1, row) != first || wet.at(column, row + 1) != first ||
                wet.at(column + 1, row + 1) != first)
                continue;
            if (first == 2) {
                map.cover.at(column, row) = Cover::fresh;
                continue;
            }
            const float east = cellAt(column);
            const float north = cellAt(row);
            const float s = guideValue(guide.inland_m, east, north);
            const float shelf =
                s > -260.0f ? 46.0f + 60.0f * plan.beach(east, north) + 60.0f * plan.fine().sum(east / 130.0f, north / 130.0f, 3)
                            : 0.0f;
            map.cover.at(column, row) = s > -0.6f * shelf ? Cover::shallow : s > -1.25f * shelf ? Cover::coastal : Cover::sea;
        }
    });
    for (const Way& stream : guide.streams) cutWater(stream, map);
    cutWater(plan.river(), map);
    return map;
}

}  // namespace linefall::island
