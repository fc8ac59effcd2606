// What grows and lies on open ground.

#include "scene/island_cover.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "base/dispatch.h"
#include "base/threads.h"
#include "scene/island_fields.h"
#include "scene/island_rows.h"
#include "scene/island_works.h"

namespace linefall::island {

namespace {

/// What the covers of a row of cells follow.
struct CellRow {
    GuideRow inland_m, habit, slope, away_m;
    std::vector<float> height_m, steepness, southward;  // of the cells themselves: mean height, rise over run, rise to the north
    std::vector<float> patch, beach;
    std::vector<int> arable, wild;  // columns that may be farmland, and that are none
    std::vector<float> arable_east;
    std::vector<FieldView> fields;
    RowBatch batch;

    explicit CellRow(const Guides& guides)
        : inland_m(guides.inland_m, GuideRow::Of::cells), habit(guides.habit, GuideRow::Of::cells),
          slope(guides.slope, GuideRow::Of::cells), away_m(guides.away_m, GuideRow::Of::cells), height_m(cells), steepness(cells),
          southward(cells), patch(cells), beach(cells) {}
};

/// Mean height, steepness and rise to the north of the cells between two rows of posts.
LINEFALL_VECTORISED
void shapeCells(const float* south, const float* north, float* __restrict height_m, float* __restrict steepness,
                float* __restrict southward) {
    for (int i = 0; i < cells; ++i) {
        height_m[i] = 0.25f * (south[i] + south[i + 1] + north[i] + north[i + 1]);
        const float dx = (south[i + 1] + north[i + 1] - south[i] - north[i]) / (2.0f * spacing);
        const float dy = (north[i] + north[i + 1] - south[i] - south[i + 1]) / (2.0f * spacing);
        steepness[i] = std::sqrt(dx * dx + dy * dy);
        southward[i] = dy;
    }
}

/// Cover of wild ground.
Cover wild(const CellRow& of, int column, float north, float lot) {
    const auto c = static_cast<std::size_t>(column);
    const float s = of.inland_m[column];
    const float patch = of.patch[c];
    const float height = of.height_m[c];
    const float slope = of.steepness[c];
    if (s < 400.0f) {
        const float beach = of.beach[c];
        if (beach > 0.25f) {
            if (s < 62.0f + 14.0f * patch) return Cover::sand;
            const float dunes = duneShare(s, beach) * duneCoast(cellAt(column), north);
            if (dunes > 0.12f) {
                const float greened = patch + 0.9f * (1.0f - dunes) + 0.003f * (s - 150.0f);
                return greened > 0.75f ? Cover::meadow : greened > 0.38f ? Cover::dry_grass : Cover::dune;
            }
        } else if (s < 14.0f && slope < 0.5f) {
            return Cover::gravel;
        }
    }
    const float broad = of.habit[column];
    const float base = of.slope[column];
    // Snow lies above a ragged line, not on faces.
    const float snow_line = 520.0f + 110.0f * broad + 90.0f * patch + 70.0f * std::clamp(of.southward[c], -1.0f, 1.0f);
    const float face = 0.5f * (slope + base);  // snow bridges small steps
    if (height > snow_line && face < 0.92f + 0.0022f * (height - snow_line)) return Cover::snow;
    if (slope > 1.05f + 0.2f * patch) return Cover::rock;
    if (height > 470.0f + 90.0f * broad) {
        if (face > 0.86f + 0.35f * patch) return lot < 0.6f + patch ? Cover::rock : Cover::gravel;
        return patch > 0.16f ? Cover::gravel : patch > -0.25f ? Cover::meadow : Cover::scrub;
    }
    // Forests like slopes too steep for the plough; they thin out upwards and along cliffs.
    const float top = 400.0f + 110.0f * broad;
    const float woods = 0.95f * smoothStep(0.10f, 0.34f, base) + 1.5f * broad + 0.35f * patch - 0.55f -
                        1.4f * smoothStep(top - 120.0f, top + 30.0f, height) - 0.8f * smoothStep(150.0f, 30.0f, s);
    if (woods > 0.0f) {
        const float needles = smoothStep(60.0f, 300.0f, height + 150.0f * patch + 60.0f * (lot - 0.5f));
        return needles > 0.5f ? Cover::conifer : Cover::deciduous;
    }
    const float away = of.away_m[column];
    if (away < 34.0f && s > 80.0f && patch > 0.05f) return Cover::deciduous;  // along the streams
    if (slope > 0.92f + 0.3f * patch) return Cover::rock;
    if (height > 230.0f + 80.0f * broad) return patch > 0.10f ? Cover::scrub : patch < -0.42f ? Cover::gravel : Cover::meadow;
    if (patch + 0.6f * broad > 0.25f) return Cover::scrub;
    return patch - broad > 0.05f || s < 260.0f ? Cover::meadow : Cover::grass;
}

/// Decides the open cells of a row.
void clotheRow(const Plan& plan, const Fields& fields, const Raster<std::uint32_t>& words, int row, CellRow& of, Map& map,
               std::span<std::uint8_t> hedge) {
    const float north = cellAt(row);
    for (GuideRow* guide_row : {&of.inland_m, &of.habit, &of.slope, &of.away_m}) guide_row->moveTo(row);
    shapeCells(map.height_m.row(row).data(), map.height_m.row(row + 1).data(), of.height_m.data(), of.steepness.data(), of.southward.data());
    const auto covers = map.cover.row(row);
    const auto kept = map.kept.row(row);
    of.arable.clear();
    of.arable_east.clear();
    of.wild.clear();
    for (int column = 0; column < cells; ++column) {
        const auto c = static_cast<std::size_t>(column);
        if (covers[c] != Cover::open) continue;
        const float coast = duneCoast(cellAt(column), north);
        const bool sandy = coast > 0.0f && of.inland_m[column] < 110.0f + 200.0f * coast;
        if (kept[c] == Map::free && !sandy && of.height_m[c] < 200.0f && of.steepness[c] < 0.5f) {
            of.arable.push_back(column);
            of.arable_east.push_back(cellAt(column));
        } else {
            of.wild.push_back(column);
        }
    }
    fields.row(of.arable_east, north, of.fields);
    for (std::size_t i = 0; i < of.arable.size(); ++i) {
        const auto c = static_cast<std::size_t>(of.arable[i]);
        const FieldView& field = of.fields[i];
        if (field.cover == Cover::open) {
            of.wild.push_back(of.arable[i]);
        } else if (field.edge_m < 3.3f) {
            covers[c] = field.hedge ? Cover::deciduous : Cover::grass;
            hedge[c] = field.hedge ? 1 : 0;
        } else {
            covers[c] = field.cover;
        }
    }
    for (const int column : of.wild) of.batch.add(column, cellAt(column), north);
    of.batch.sum(plan.fine(), {.length_m = 95.0f, .octaves = 3, .gain = 0.6f, .east = 21.0f, .north = 4.0f}, of.patch);
    for (const int column : of.wild) {
        if (of.inland_m[column] < 400.0f) of.batch.add(column, cellAt(column), north);
    }
    of.batch.beach(plan, of.beach);
    for (const int column : of.wild) {
        const auto c = static_cast<std::size_t>(column);
        covers[c] = wild(of, column, north, byteShare(words.at(column / 2, row / 2), 0));
        if (kept[c] == Map::bare && isForest(covers[c])) covers[c] = Cover::grass;
    }
}

}  // namespace

void clothe(const Plan& plan, const Guides& guides, Map& map, int threads) {
    const Fields fields(plan, guides);
    const Raster<std::uint32_t> words = drawPlots(plan.seed(), threads);
    Raster<std::uint8_t> hedge(cells, cells);
    constexpr int band = 4 * guide;  // rows that share their guides
    constexpr int bands = (posts + band - 1) / band;
    parallelFor(bands, threads, [&](int b) {
        CellRow of(guides);
        for (int row = b * band; row < std::min(cells, (b + 1) * band); ++row) {
            clotheRow(plan, fields, words, row, of, map, hedge.row(row));
        }
    });
    // Heights last: nothing above may see the trees.
    raiseTrees(words, hedge, map, threads);
}

}  // namespace linefall::island
