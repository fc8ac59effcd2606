// The quarry: benches cut into the spur, and the cones of spoil below it.

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "scene/island_objects.h"
#include "scene/island_works.h"

namespace linefall::island {

void buildQuarry(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    constexpr float floor_radius = 78.0f, bench_rise = 13.0f, bench_tread = 20.0f, outer = 250.0f;
    // The floor opens towards the lowest side.
    float level = 1e9f;
    for (int k = 0; k < 24; ++k) {
        const float turn = static_cast<float>(k) * 0.2618f;
        level = std::min(level, heightOn(map, quarry.east + 95.0f * std::sin(turn), quarry.north + 95.0f * std::cos(turn)));
    }
    level += 2.0f;
    const auto index = [](float metres) { return static_cast<int>((metres + reach) / spacing); };
    const int c0 = index(quarry.east - outer), c1 = index(quarry.east + outer);
    const int r0 = index(quarry.north - outer), r1 = index(quarry.north + outer);
    Raster<float> cut(c1 - c0 + 2, r1 - r0 + 2);
    for (int row = r0; row <= r1 + 1; ++row) {
        for (int column = c0; column <= c1 + 1; ++column) {
            const float x = postAt(column) - quarry.east;
            const float y = postAt(row) - quarry.north;
            const float edge = 1.0f + 0.35f * plan.fine().sum(postAt(column) / 130.0f, postAt(row) / 130.0f, 2);
            const float d = std::sqrt(x * x * 0.8f + y * y * 1.2f) * edge;
            if (d > outer - 60.0f) continue;
            const float bench = d < floor_radius ? 0.0f : std::floor((d - floor_radius) / bench_tread) + 1.0f;
            float& h = map.height_m.at(column, row);
            const float wanted = level + bench_rise * bench;
            if (h > wanted) {
                cut.at(column - c0, row - r0) = h - wanted;
                h = wanted;
            }
        }
    }
    for (int row = r0; row <= r1; ++row) {
        for (int column = c0; column <= c1; ++column) {
            float most = 0.0f;
            for (int r = row; r <= row + 1; ++r) {
                for (int c = column; c <= column + 1; ++c) {
                    most = std::max(most, cut.at(c - c0, r - r0));
                }
            }
            if (most <= 0.0f) continue;
            map.kept.at(column, row) = Map::bare;
            const auto [low, high] = heightsOf(map, column, row);
            const float patch = plan.fine().sum(cellAt(column) / 60.0f, cellAt(row) / 60.0f + 8.0f, 3);
            map.cover.at(column, row) = high - low > 4.0f ? Cover::rock : patch > 0.12f ? Cover::gravel : Cover::limestone;
        }
    }
    struct Heap {
        const char* name;
        float east, north;
        double diameter, height;  // about 34 degrees, the angle at which broken stone rests
    };
    const auto yard = [&](float east, float north, float length, float width) {
        const Spot at{quarry.east + east, quarry.north + north};
        levelPatch(at, length, width, 0.5f * static_cast<float>(constants::pi), 30.0f, heightOn(map, at.east, at.north),
                   Cover::gravel, map);
    };
    yard(250.0f, -150.0f, 94.0f, 94.0f);
    yard(70.0f, -200.0f, 100.0f, 50.0f);
    for (const Heap& heap : {Heap{"spoil heap", 250.0f, -150.0f, 82.0, 28.0}, Heap{"gravel heap 1", 92.0f, -200.0f, 36.0, 12.0},
                             Heap{"gravel heap 2", 48.0f, -200.0f, 27.0, 9.0}}) {
        const Spot at{quarry.east + heap.east, quarry.north + heap.north};
        objects.push_back(thing(Shape::cone, heap.name, at.east, at.north, heap.diameter, heap.diameter, heap.height, 0.0,
                                of.gravel, of.gravel));
    }
    const Spot shed{quarry.east + 122.0f, quarry.north - 96.0f};
    levelPatch(shed, 40.0f, 26.0f, 0.9f, 16.0f, heightOn(map, shed.east, shed.north), Cover::gravel, map);
    objects.push_back(thing(Shape::box, "crusher", shed.east, shed.north, 22.0, 12.0, 16.0, 0.9, of.grey_roof, of.concrete));
}

}  // namespace linefall::island
