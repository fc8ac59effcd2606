// The saltworks: ponds between low dykes, ever saltier away from the sea, and the harvest in white pyramids.

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "scene/island_objects.h"
#include "scene/island_works.h"

namespace linefall::island {

void buildSaltworks(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    constexpr float heading = 0.17f;  // of the long side, clockwise from north, rad
    constexpr float half_long = 264.0f, half_wide = 156.0f;
    constexpr float pond_level = 0.8f, dyke_level = 1.6f;
    constexpr int pond_rows = 9, pond_columns = 5;
    const float along_east = std::sin(heading);
    const float along_north = std::cos(heading);
    const auto local = [&](float east, float north) {
        const float x = east - saltworks.east;
        const float y = north - saltworks.north;
        return Spot{x * along_north - y * along_east, x * along_east + y * along_north};  // across, along
    };
    const auto world = [&](float u, float v) {
        return Spot{saltworks.east + u * along_north + v * along_east, saltworks.north - u * along_east + v * along_north};
    };
    // Which pond a point is in, and how far from its dyke; the columns are of unequal width.
    constexpr std::array<float, pond_columns + 1> walls{-156.0f, -112.0f, -62.0f, -6.0f, 70.0f, 156.0f};
    const auto pond = [&](Spot p, int& column, int& row) {
        column = 0;
        while (column < pond_columns - 1 && p.east > walls[static_cast<std::size_t>(column) + 1]) ++column;
        const float tall = 2.0f * half_long / static_cast<float>(column >= 3 ? pond_rows / 3 : column == 2 ? 5 : pond_rows);
        row = static_cast<int>((p.north + half_long) / tall);
        const float v = p.north + half_long - static_cast<float>(row) * tall;
        const float u0 = p.east - walls[static_cast<std::size_t>(column)];
        const float u1 = walls[static_cast<std::size_t>(column) + 1] - p.east;
        return std::min(std::min(u0, u1), std::min(v, tall - v));
    };
    const auto index = [](float metres) { return static_cast<int>((metres + reach) / spacing); };
    constexpr float margin = 90.0f;
    const float wide = half_long + margin + 30.0f;
    const int c0 = index(saltworks.east - wide), c1 = index(saltworks.east + wide);
    const int r0 = index(saltworks.north - wide), r1 = index(saltworks.north + wide);
    for (int row = r0; row <= r1; ++row) {
        for (int column = c0; column <= c1; ++column) {
            const Spot p = local(postAt(column), postAt(row));
            const float out = std::max(std::fabs(p.east) - half_wide, std::fabs(p.north) - half_long);
            float& h = map.height_m.at(column, row);
            int i = 0, j = 0;
            if (out <= 0.0f) h = pond(p, i, j) < 4.5f ? dyke_level : pond_level;
            else if (out < 10.0f) h = dyke_level;
            else if (out < margin && h > 0.0f) h = mix(dyke_level, h, smoothStep(10.0f, margin, out));
        }
    }
    for (int row = r0; row <= r1; ++row) {
        for (int column = c0; column <= c1; ++column) {
            const Spot p = local(cellAt(column), cellAt(row));
            const float out = std::max(std::fabs(p.east) - half_wide, std::fabs(p.north) - half_long);
            if (out > 16.0f) continue;
            const auto [low, high] = heightsOf(map, column, row);
            Cover& cover = map.cover.at(column, row);
            if (out > 0.0f || high - low > 0.01f || high != pond_level) {
                if (high > 0.0f && (out <= 8.0f || isWater(cover))) {
                    cover = Cover::soil;
                    map.kept.at(column, row) = Map::bare;
                }
                continue;
            }
            int i = 0, j = 0;
            pond(p, i, j);
            const float lot = chance(plan.seed(), RandomUse::town, i, j, 31);
            map.kept.at(column, row) = Map::bare;
            cover = i == 4   ? Cover::shallow
                    : i == 3 ? (lot < 0.7f ? Cover::shallow : Cover::brine)
                    : i == 2 ? (lot < 0.8f ? Cover::brine : Cover::shallow)
                    : i == 1 ? (lot < 0.55f ? Cover::brine : Cover::salt)
                             : (lot < 0.7f ? Cover::salt : Cover::brine);
        }
    }
    // The yard lies on the landward side.
    const Spot yard = world(-half_wide - 26.0f, 0.0f);
    levelPatch(yard, 330.0f, 34.0f, heading, 30.0f, dyke_level, Cover::concrete, map);
    for (int k = 0; k < 7; ++k) {
        const Spot at = world(-half_wide - 26.0f, -138.0f + 38.0f * static_cast<float>(k));
        const double tall = 7.0 + 1.0 * k;
        objects.push_back(thing(Shape::pyramid, ("salt heap " + std::to_string(k + 1)).c_str(), at.east, at.north, 2.6 * tall,
                                2.2 * tall, tall, static_cast<double>(heading), of.salt, of.salt));
    }
    const Spot store = world(-half_wide - 26.0f, 138.0f);
    objects.push_back(thing(Shape::gable, "salt store", store.east, store.north, 44.0, 18.0, 10.0, static_cast<double>(heading),
                            of.grey_roof, of.white_wall));
}

}  // namespace linefall::island
