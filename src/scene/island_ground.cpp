// The ground at 4 m posts: the coarse island looked up through a warp, finer relief, beaches, dunes, and the waters
// cut into it.

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <utility>
#include <vector>

#include "base/dispatch.h"
#include "base/threads.h"
#include "scene/island_map.h"
#include "scene/island_rows.h"
#include "scene/island_works.h"

namespace linefall::island {

namespace {

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

namespace {

constexpr std::uint8_t in_sea = 1, in_lake = 2;

/// What the ground of a row of posts is made of.
struct PostRow {
    GuideRow guide_inland_m, in_lake_m, warp_east_m, warp_north_m, slope, away_m;
    std::vector<float> inland_m;  // with the ragged shore of cliffs
    std::vector<float> coarse_m;  // the guide's height at the warped place
    std::vector<float> broken;    // how much of the ground is broken, 0 to 1
    std::vector<float> beach, ragged, waves, crags, grain, dunes_m;  // where they matter, else 0
    int first = 0, last = 0;      // all land lies in the posts first .. last - 1
    RowBatch batch;

    explicit PostRow(const Guides& guides)
        : guide_inland_m(guides.inland_m, GuideRow::Of::posts), in_lake_m(guides.in_lake_m, GuideRow::Of::posts),
          warp_east_m(guides.warp_east_m, GuideRow::Of::posts), warp_north_m(guides.warp_north_m, GuideRow::Of::posts),
          slope(guides.slope, GuideRow::Of::posts), away_m(guides.away_m, GuideRow::Of::posts), inland_m(posts), coarse_m(posts),
          broken(posts), beach(posts), ragged(posts), waves(posts), crags(posts), grain(posts), dunes_m(posts) {}
};

/// How far inland each post of a row lies, and so which are wet.
void findShore(const Plan& plan, int row, PostRow& of, std::span<std::uint8_t> wet) {
    const float north = postAt(row);
    of.guide_inland_m.moveTo(row);
    of.in_lake_m.moveTo(row);
    for (int column = 0; column < posts; ++column) {
        const float s = of.guide_inland_m[column];
        if (s >= -30.0f && s < 700.0f) of.batch.add(column, postAt(column), north);
    }
    std::fill(of.beach.begin(), of.beach.end(), 0.0f);
    of.batch.beach(plan, of.beach);
    for (int column = 0; column < posts; ++column) {
        const float s = of.guide_inland_m[column];
        if (s >= -30.0f && s < 60.0f) of.batch.add(column, postAt(column), north);
    }
    of.batch.sum(plan.fine(), {.length_m = 45.0f, .octaves = 2}, of.ragged);
    of.first = posts;
    of.last = 0;
    for (int column = 0; column < posts; ++column) {
        const auto c = static_cast<std::size_t>(column);
        float s = of.guide_inland_m[column];
        if (s >= -30.0f && s < 60.0f) s += (1.0f - of.beach[c]) * 9.0f * of.ragged[c];
        of.inland_m[c] = s;
        if (of.guide_inland_m[column] < -30.0f || s <= 0.0f) {
            wet[c] = in_sea;
        } else if (of.in_lake_m[column] >= 0.0f) {
            wet[c] = in_lake;
        } else {
            of.first = std::min(of.first, column);
            of.last = column + 1;
        }
    }
}

/// Steep ground is broken, but not along the waters.
LINEFALL_VECTORISED
void findBroken(const float* slope, const float* away_m, std::size_t count, float* __restrict broken) {
    for (std::size_t i = 0; i < count; ++i) {
        const float steep = 1.5f * std::max(0.0f, slope[i] - 0.12f);
        broken[i] = std::min(1.0f, steep) * smoothStep(8.0f, 60.0f, away_m[i]);
    }
}

/// Looks up and draws all that the heights of the land are made of.
void gatherRelief(const Plan& plan, const Guides& guides, int row, PostRow& of) {
    const float north = postAt(row);
    for (GuideRow* guide_row : {&of.warp_east_m, &of.warp_north_m, &of.slope, &of.away_m}) guide_row->moveTo(row);
    findBroken(&of.slope[0], &of.away_m[0], posts, of.broken.data());
    warpedHeights(guides.height_m, of.warp_east_m, of.warp_north_m, of.first, of.last, north, of.coarse_m);
    for (int column = of.first; column < of.last; ++column) of.batch.add(column, postAt(column), north);
    of.batch.sum(plan.fine(), {.length_m = 61.0f}, of.waves);
    const auto broken = [&](int column) { return of.broken[static_cast<std::size_t>(column)] > 0.0f; };
    for (int column = of.first; column < of.last; ++column) {
        const float east = postAt(column);
        if (broken(column)) of.batch.add(column, 0.8f * east - 0.6f * north, 0.6f * east + 0.8f * north);
    }
    of.batch.sum(plan.fine(), {.length_m = 27.0f}, of.crags);
    for (int column = of.first; column < of.last; ++column) {
        if (broken(column)) of.batch.add(column, postAt(column), north);
    }
    of.batch.sum(plan.fine(), {.length_m = 11.7f, .east = 9.0f}, of.grain);
    for (int column = of.first; column < of.last; ++column) {
        const auto c = static_cast<std::size_t>(column);
        of.dunes_m[c] = 0.0f;
        if (of.beach[c] <= 0.05f) continue;
        const float dunes = duneShare(of.inland_m[c], of.beach[c]) * duneCoast(postAt(column), north);
        if (dunes > 0.0f) of.dunes_m[c] = dunes * duneWave(plan, postAt(column), north);
    }
}

/// The heights of `count` posts from `first` on, as if all of them were land.
LINEFALL_VECTORISED
void landHeights(const PostRow& of, std::size_t count, float* __restrict height_m) {
    const float* inland_m = of.inland_m.data() + of.first;
    const float* coarse_m = of.coarse_m.data() + of.first;
    const float* brokenness = of.broken.data() + of.first;
    const float* waves = of.waves.data() + of.first;
    const float* crags = of.crags.data() + of.first;
    const float* grain = of.grain.data() + of.first;
    const float* beaches = of.beach.data() + of.first;
    const float* dunes_m = of.dunes_m.data() + of.first;
    const float* away_m = &of.away_m[of.first];
    const float* in_lake_m = &of.in_lake_m[of.first];
    for (std::size_t i = 0; i < count; ++i) {
        // Broken ground where it is steep, gentle waves elsewhere.
        const float broken = brokenness[i];
        const float rough = broken * (13.0f * (0.3f - std::fabs(waves[i])) + 6.0f * (0.3f - std::fabs(crags[i])) + 2.4f * grain[i]);
        const float gentle = 0.6f * waves[i] * smoothStep(20.0f, 120.0f, away_m[i]);
        float h = std::max(0.0f, coarse_m[i]) + (broken > 0.0f ? rough : gentle);
        // The shore: a beach slopes up gently to its berm, a cliff stands in the water.
        const float s = inland_m[i];
        const float berm = 3.4f * smoothStep(-20.0f, 85.0f, s) - 0.25f;
        const float low = h * smoothStep(0.0f, 140.0f, s);
        h = mix(h + std::min(2.0f, 0.25f * s), std::max(berm, low), beaches[i]) + dunes_m[i];
        // The lake's shore rises from the lake.
        const float in = in_lake_m[i];
        const float shore = mix(lake_level + 0.2f - 0.05f * in, std::max(h, lake_level + 0.2f), smoothStep(0.0f, 40.0f, -in));
        h = in > -40.0f ? shore : h;
        height_m[i] = std::max(0.12f, h);
    }
}

/// Cells between wet posts of one kind: the lake, or the sea by its depth.
void coverWaters(const Plan& plan, const Guides& guides, const Raster<std::uint8_t>& wet, int first, int last, Map& map) {
    GuideRow inland_m(guides.inland_m, GuideRow::Of::cells);
    std::vector<float> beach(cells), uneven(cells);
    std::vector<int> sea;
    RowBatch batch;
    for (int row = first; row < last; ++row) {
        const float north = cellAt(row);
        inland_m.moveTo(row);
        const auto south_posts = wet.row(row);
        const auto north_posts = wet.row(row + 1);
        const auto covers = map.cover.row(row);
        sea.clear();
        for (int column = 0; column < cells; ++column) {
            const auto c = static_cast<std::size_t>(column);
            const std::uint8_t kind = south_posts[c];
            if (kind == 0 || south_posts[c + 1] != kind || north_posts[c] != kind || north_posts[c + 1] != kind) continue;
            if (kind == in_lake) covers[c] = Cover::fresh;
            else sea.push_back(column);
        }
        for (const int column : sea) {
            if (inland_m[column] > -260.0f) batch.add(column, cellAt(column), north);
        }
        batch.beach(plan, beach);
        for (const int column : sea) {
            if (inland_m[column] > -260.0f) batch.add(column, cellAt(column), north);
        }
        batch.sum(plan.fine(), {.length_m = 130.0f, .octaves = 3}, uneven);
        for (const int column : sea) {
            const auto c = static_cast<std::size_t>(column);
            const float s = inland_m[column];
            const float shelf = s > -260.0f ? 46.0f + 60.0f * beach[c] + 60.0f * uneven[c] : 0.0f;
            covers[c] = s > -0.6f * shelf ? Cover::shallow : s > -1.25f * shelf ? Cover::coastal : Cover::sea;
        }
    }
}

}  // namespace

Map makeGround(const Plan& plan, const Guides& guide_rasters, int threads) {
    Map map{Raster<float>(posts, posts), Raster<Cover>(cells, cells, Cover::open), Raster<std::uint8_t>(cells, cells)};
    Raster<std::uint8_t> wet(posts, posts);
    // A band holds the rows between a few rows of guide nodes.
    constexpr int band = 4 * guide;
    constexpr int bands = (posts + band - 1) / band;
    parallelFor(bands, threads, [&](int b) {
        PostRow of(guide_rasters);
        std::vector<float> land_m(posts);
        for (int row = b * band; row < std::min(posts, (b + 1) * band); ++row) {
            const auto here = wet.row(row);
            findShore(plan, row, of, here);
            const auto height_m = map.height_m.row(row);
            for (std::size_t c = 0; c < here.size(); ++c) height_m[c] = here[c] == in_lake ? lake_level : 0.0f;
            if (of.first >= of.last) continue;
            gatherRelief(plan, guide_rasters, row, of);
            landHeights(of, static_cast<std::size_t>(of.last - of.first), land_m.data());
            for (int column = of.first; column < of.last; ++column) {
                const auto c = static_cast<std::size_t>(column);
                if (here[c] == 0) height_m[c] = land_m[c - static_cast<std::size_t>(of.first)];
            }
        }
    });
    parallelFor(bands, threads, [&](int b) { coverWaters(plan, guide_rasters, wet, b * band, std::min(cells, (b + 1) * band), map); });
    for (const Way& stream : guide_rasters.streams) cutWater(stream, map);
    cutWater(plan.river(), map);
    return map;
}

}  // namespace linefall::island
