// What grows and lies on open ground, and how high trees and hedges stand.

#include "scene/island_cover.h"

#include <algorithm>
#include <cmath>

#include "base/threads.h"
#include "scene/island_fields.h"
#include "scene/island_works.h"

namespace linefall::island {

namespace {

constexpr int plots = posts / 2 + 2;  // one tree in each 2 x 2 posts

/// Random bits for every plot, drawn once.
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

float part(std::uint32_t word, int from) {
    return static_cast<float>((word >> from) & 255u) / 255.0f;
}

/// Cover of wild ground.
Cover wild(const Plan& plan, const Guides& guides, float east, float north, float height, float slope, float southward,
           float lot) {
    const float s = guideValue(guides.inland_m, east, north);
    const float patch = plan.fine().sum(east / 95.0f + 21.0f, north / 95.0f + 4.0f, 3, 0.6f);
    if (s < 400.0f) {
        const float beach = plan.beach(east, north);
        if (beach > 0.25f) {
            if (s < 62.0f + 14.0f * patch) return Cover::sand;
            const float dunes = duneShare(s, beach) * duneCoast(east, north);
            if (dunes > 0.12f) {
                const float greened = patch + 0.9f * (1.0f - dunes) + 0.003f * (s - 150.0f);
                return greened > 0.75f ? Cover::meadow : greened > 0.38f ? Cover::dry_grass : Cover::dune;
            }
        } else if (s < 14.0f && slope < 0.5f) {
            return Cover::gravel;
        }
    }
    const float broad = guideValue(guides.habit, east, north);
    const float base = guideValue(guides.slope, east, north);
    // Snow lies above a ragged line, not on faces.
    const float snow_line = 520.0f + 110.0f * broad + 90.0f * patch + 70.0f * std::clamp(southward, -1.0f, 1.0f);
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
    const float away = guideValue(guides.away_m, east, north);
    if (away < 34.0f && s > 80.0f && patch > 0.05f) return Cover::deciduous;  // along the streams
    if (slope > 0.92f + 0.3f * patch) return Cover::rock;
    if (height > 230.0f + 80.0f * broad) return patch > 0.10f ? Cover::scrub : patch < -0.42f ? Cover::gravel : Cover::meadow;
    if (patch + 0.6f * broad > 0.25f) return Cover::scrub;
    return patch - broad > 0.05f || s < 260.0f ? Cover::meadow : Cover::grass;
}

}  // namespace

bool isForest(Cover c) {
    return c == Cover::conifer || c == Cover::deciduous;
}

void clothe(const Plan& plan, const Guides& guides, Map& map, int threads) {
    const Fields fields(plan, guides);
    const Raster<std::uint32_t> words = drawPlots(plan.seed(), threads);
    Raster<std::uint8_t> hedge(cells, cells);
    parallelFor(cells, threads, [&](int row) {
        const float north = cellAt(row);
        for (int column = 0; column < cells; ++column) {
            Cover& c = map.cover.at(column, row);
            if (c != Cover::open) continue;
            const float east = cellAt(column);
            const float sw = map.height_m.at(column, row);
            const float se = map.height_m.at(column + 1, row);
            const float nw = map.height_m.at(column, row + 1);
            const float ne = map.height_m.at(column + 1, row + 1);
            const float height = 0.25f * (sw + se + nw + ne);
            const float dx = (se + ne - sw - nw) / (2.0f * spacing);
            const float dy = (nw + ne - sw - se) / (2.0f * spacing);
            const float slope = std::sqrt(dx * dx + dy * dy);
            const std::uint32_t word = words.at(column / 2, row / 2);
            const bool kept = map.kept.at(column, row) == Map::bare;
            const float coast = duneCoast(east, north);
            const bool sandy = coast > 0.0f && guideValue(guides.inland_m, east, north) < 110.0f + 200.0f * coast;
            if (map.kept.at(column, row) == Map::free && !sandy && height < 200.0f && slope < 0.5f) {
                const FieldView field = fields.at(east, north);
                if (field.cover != Cover::open) {
                    if (field.edge_m < 3.3f) {
                        c = field.hedge ? Cover::deciduous : Cover::grass;
                        hedge.at(column, row) = field.hedge ? 1 : 0;
                    } else {
                        c = field.cover;
                    }
                    continue;
                }
            }
            c = wild(plan, guides, east, north, height, slope, dy, part(word, 0));
            if (kept && isForest(c)) c = Cover::grass;
        }
    });
    // Heights last: nothing above may see the trees.
    parallelFor(posts, threads, [&](int row) {
        for (int column = 0; column < posts; ++column) {
            if (column == 0 || row == 0 || column == posts - 1 || row == posts - 1) continue;
            int trees = 0;
            int hedges = 0;
            bool shore = false;  // water stays level
            for (int r = row - 1; r <= row; ++r) {
                for (int k = column - 1; k <= column; ++k) {
                    hedges += hedge.at(k, r);
                    trees += isForest(map.cover.at(k, r)) ? 1 : 0;
                    shore = shore || isWater(map.cover.at(k, r));
                }
            }
            if (trees < 3 || shore) continue;
            if (hedges > 0) {
                if (hedges >= 3) map.height_m.at(column, row) += 2.2f + 1.6f * part(words.at(column / 2, row / 2), 8);
                continue;
            }
            const bool needles = map.cover.at(column, row) == Cover::conifer;
            float most = 2.0f;
            for (int pr = row / 2 - 1; pr <= row / 2 + 1; ++pr) {
                for (int pc = column / 2 - 1; pc <= column / 2 + 1; ++pc) {
                    const std::uint32_t word = words.at(pc < 0 ? 0 : pc, pr < 0 ? 0 : pr);
                    const float x = (2.0f * (static_cast<float>(pc) + part(word, 16)) - static_cast<float>(column)) * spacing;
                    const float y = (2.0f * (static_cast<float>(pr) + part(word, 24)) - static_cast<float>(row)) * spacing;
                    const float tall = 7.0f + 8.0f * part(word, 8);
                    const float square = x * x + y * y;
                    if (square > 49.0f) continue;
                    const float crown = needles ? tall * (1.0f - std::sqrt(square) / 7.0f) : tall * (1.0f - square / 46.0f);
                    most = std::max(most, crown);
                }
            }
            map.height_m.at(column, row) += trees == 4 ? most : 0.6f * most;
        }
    });
}

}  // namespace linefall::island
