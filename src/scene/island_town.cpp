// The harbour town: quays, moles, streets that follow the bay, houses, church and warehouses.

#include <algorithm>
#include <cmath>
#include <string>

#include "base/constants.h"
#include "scene/island_objects.h"
#include "scene/island_works.h"

namespace linefall::island {

namespace {

/// Along the quay (east positive) and inland from it, both in metres, bent around `bend`.
struct Bent {
    float along, inland;
};

Bent bentFrom(float east, float north) {
    const float x = east - bend.east;
    const float y = north - bend.north;
    return {quay_radius * std::atan2(x, y), std::sqrt(x * x + y * y) - quay_radius};
}

Spot fromBent(float along, float inland) {
    const float turn = along / quay_radius;
    const float r = quay_radius + inland;
    return {bend.east + r * std::sin(turn), bend.north + r * std::cos(turn)};
}

constexpr float quay_level = 2.6f;
constexpr float harbour_half = 300.0f;  // of the quay, along
constexpr float warehouse_half = 255.0f;
constexpr float harbour_deep = 420.0f;  // dredged water before it

/// How far the town reaches inland at a place along the quay, m.
float townDepth(const Plan& plan, float along) {
    const float share = along / 430.0f;
    if (share * share >= 1.0f) return 0.0f;
    return 500.0f * std::sqrt(1.0f - share * share) + 90.0f * plan.fine().at(along / 150.0f, 0.5f);
}

struct Streets {
    std::vector<float> along;   ///< middles of the streets that run inland
    std::vector<float> inland;  ///< middles of the streets that run along the bay
};

Streets planStreets(const Plan& plan) {
    Streets s;
    const auto lot = [&](int k, int what) { return chance(plan.seed(), RandomUse::town, k, 0, what); };
    float along = -440.0f;
    for (int k = 0; along < 450.0f; ++k) {
        s.along.push_back(along);
        along += 66.0f + 34.0f * lot(k, 1);
    }
    float inland = 28.0f;
    for (int k = 0; inland < 640.0f; ++k) {
        s.inland.push_back(inland);
        inland += 50.0f + 12.0f * lot(k, 2);
    }
    return s;
}

/// The interval of a sorted list that holds a value, or -1.
int between(const std::vector<float>& edges, float value) {
    for (std::size_t k = 0; k + 1 < edges.size(); ++k) {
        if (value >= edges[k] && value < edges[k + 1]) return static_cast<int>(k);
    }
    return -1;
}

float nearest(const std::vector<float>& edges, float value) {
    float least = 1e9f;
    for (const float e : edges) least = std::min(least, std::fabs(value - e));
    return least;
}

/// A block belongs to the town when its middle does.
bool built(const Plan& plan, const Streets& s, int i, int j) {
    if (i < 0 || j < 0 || i + 1 >= static_cast<int>(s.along.size()) || j + 1 >= static_cast<int>(s.inland.size())) return false;
    const auto a = static_cast<std::size_t>(i);
    const auto b = static_cast<std::size_t>(j);
    const float middle = 0.5f * (s.along[a] + s.along[a + 1]);
    return 0.5f * (s.inland[b] + s.inland[b + 1]) < townDepth(plan, middle);
}

template <class Visit>
void overTown(int count, const Visit& visit) {
    const auto index = [&](float metres) { return std::clamp(static_cast<int>((metres + reach) / spacing), 1, count - 2); };
    for (int row = index(-3000.0f); row <= index(-1650.0f); ++row) {
        for (int column = index(830.0f); column <= index(2150.0f); ++column) visit(column, row);
    }
}

void shapeGround(const Plan& plan, Map& map) {
    // The river keeps its bed and its banks.
    Raster<float> ours(posts, posts, 1.0f);
    alongWay(plan.river(), 64.0f, [&](int column, int row, float distance, float, float half) {
        ours.at(column, row) = smoothStep(half + 10.0f, half + 64.0f, distance);
    });
    overTown(posts, [&](int column, int row) {
        const Bent p = bentFrom(postAt(column), postAt(row));
        float& h = map.height_m.at(column, row);
        const bool front = std::fabs(p.along) < harbour_half;
        if (front && p.inland < 0.0f && p.inland > -harbour_deep) {
            h = 0.0f;
            for (const float pier : {-130.0f, 40.0f, 190.0f}) {
                if (std::fabs(p.along - pier) < 9.0f && p.inland > -150.0f) h = quay_level;
            }
            return;
        }
        if (p.inland < 0.0f || std::fabs(p.along) > 560.0f) return;
        const float wanted = quay_level + 0.042f * std::max(0.0f, p.inland - 40.0f);
        const bool dry = h > 0.0f;
        if (front && p.inland < 60.0f) {
            h = wanted;
        } else if (dry) {
            const float depth = std::max(60.0f, townDepth(plan, std::clamp(p.along, -400.0f, 400.0f)));
            const float share = smoothStep(530.0f, 430.0f, std::fabs(p.along)) *
                                smoothStep(depth + 190.0f, depth + 40.0f, p.inland) * ours.at(column, row);
            h = mix(h, wanted, share);
        }
    });
    // Moles of broken stone with a concrete crown.
    const auto mole = [&](std::initializer_list<Spot> corners) {
        std::vector<Spot> spots;
        for (const Spot& c : corners) spots.push_back(fromBent(c.east, c.north));
        Way way;
        for (const Spot& s : smoothLine(spots, 8.0f)) way.push_back({s.east, s.north, 3.4f, 4.0f});
        alongWay(way, 9.0f, [&](int column, int row, float distance, float level, float half) {
            float& h = map.height_m.at(column, row);
            h = std::max(h, std::max(0.0f, level - 0.5f * std::max(0.0f, distance - half)));
        });
    };
    mole({{310, 30}, {345, -130}, {300, -280}, {170, -365}, {20, -395}});
    mole({{-310, 30}, {-330, -110}, {-270, -215}});
}

void coverGround(const Plan& plan, const Streets& streets, Map& map) {
    overTown(cells, [&](int column, int row) {
        const Bent p = bentFrom(cellAt(column), cellAt(row));
        const auto [low, high] = heightsOf(map, column, row);
        Cover& cover = map.cover.at(column, row);
        const bool sea = cover == Cover::sea || cover == Cover::coastal || cover == Cover::shallow;
        if (high == 0.0f) {
            const float a = p.along / harbour_half;
            const float b = p.inland / 430.0f;
            if (a * a + b * b < 1.0f) cover = Cover::sea;  // dredged
            else if (!isWater(cover)) cover = Cover::shallow;
            return;
        }
        const bool front = std::fabs(p.along) < harbour_half + 30.0f;
        if (p.inland < 2.0f) {
            // Piers, the quay's wall and the moles.
            if (sea || (front && p.inland > -harbour_deep)) {
                const bool pier = std::fabs(p.along) < harbour_half - 4.0f && p.inland > -160.0f;
                cover = pier || low > 2.9f ? Cover::concrete : Cover::gravel;
                map.kept.at(column, row) = Map::bare;
            }
            return;
        }
        if (sea) cover = front ? Cover::concrete : Cover::gravel;
        if (front && p.inland < 22.0f) {
            cover = Cover::concrete;
            map.kept.at(column, row) = Map::bare;
            return;
        }
        const int i = between(streets.along, p.along);
        const int j = p.inland < streets.inland.front() ? 0 : between(streets.inland, p.inland);
        const float to_along = nearest(streets.along, p.along);
        const float to_inland = nearest(streets.inland, p.inland);
        // A street belongs to the town when a block on either side does: its half on the far side too.
        const auto over = [](const std::vector<float>& edges, int k, float value) {
            if (k < 0) return 0;
            const auto e = static_cast<std::size_t>(k);
            return value - edges[e] < 4.6f ? -1 : edges[e + 1] - value < 4.6f ? 1 : 0;
        };
        const int di = over(streets.along, i, p.along);
        const int dj = over(streets.inland, j, p.inland);
        if (!built(plan, streets, i, j) && !built(plan, streets, i + di, j) && !built(plan, streets, i, j + dj) &&
            !built(plan, streets, i + di, j + dj)) {
            return;
        }
        map.kept.at(column, row) = Map::bare;                             // a stream inside the town runs under the streets
        const bool yard = j == 0 && std::fabs(p.along) < warehouse_half;  // one long yard with warehouses
        if ((to_along < 3.8f && !yard) || to_inland < 3.8f) cover = Cover::asphalt;
        else if (p.inland < 95.0f) cover = Cover::concrete;
        else {
            // Gardens with trees, and yards.
            const float patch = plan.fine().sum(cellAt(column) / 26.0f, cellAt(row) / 26.0f + 80.0f, 2);
            cover = patch > 0.36f ? Cover::deciduous : patch < -0.33f ? Cover::soil : Cover::grass;
        }
    });
}

/// Houses along both streets of a block that follow the bay.
void fillBlock(const Plan& plan, const Streets& streets, int i, int j, Map& map, const BuildingMaterials& of,
               std::vector<Object>& objects) {
    const auto a = static_cast<std::size_t>(i);
    const auto b = static_cast<std::size_t>(j);
    const float from = streets.along[a] + 6.0f;
    const float to = streets.along[a + 1] - 6.0f;
    const float middle = 0.5f * (from + to);
    const float depth = townDepth(plan, middle);
    for (int side = 0; side < 2; ++side) {
        const float inland_street = side == 0 ? streets.inland[b] + 5.5f : streets.inland[b + 1] - 5.5f;
        // Old and close at the harbour, newer and looser outside.
        const float loose = std::clamp(inland_street / depth, 0.0f, 1.0f);
        float along = from;
        for (int k = 0; along < to; ++k) {
            const auto lot = [&](int what) { return chance(plan.seed(), RandomUse::town, i * 64 + j, side * 64 + k, what); };
            const float length = 8.0f + 5.0f * lot(41);
            const float gap = 0.4f + loose * loose * (4.0f + 9.0f * lot(42));
            if (along + length > to) break;
            const float deep = 8.0f + 2.5f * lot(43);
            const float r = inland_street + (side == 0 ? 0.5f : -0.5f) * deep;
            const Spot at = fromBent(along + 0.5f * length, r);
            const double turn = static_cast<double>((along + 0.5f * length) / quay_radius);
            along += length + gap;
            if (loose > 0.5f && lot(44) < 0.18f) continue;
            const int column = static_cast<int>((at.east + reach) / spacing);
            const int row = static_cast<int>((at.north + reach) / spacing);
            if (isWater(map.cover.at(column, row)) || map.height_m.at(column, row) < 1.0f) continue;
            const double floors = loose < 0.35f ? 2.0 + std::floor(2.0 * static_cast<double>(lot(45)))
                                                : 1.0 + std::floor(1.6 * static_cast<double>(lot(45)));
            const bool flat = lot(46) < 0.09f;
            const float hue = lot(47);
            const std::uint16_t roof = flat          ? of.concrete
                                       : hue < 0.62f ? of.red_roof
                                       : hue < 0.85f ? of.brown_roof
                                                     : of.grey_roof;
            Object house = thing(flat ? Shape::box : Shape::gable, "house", at.east, at.north, static_cast<double>(length),
                                 static_cast<double>(deep), 3.0 * floors + (flat ? 0.5 : 3.0), turn + 0.5 * constants::pi, roof,
                                 lot(48) < 0.75f ? of.white_wall : of.concrete);
            house.eaves_share = 3.0 * floors / house.height_m;
            objects.push_back(std::move(house));
        }
    }
}

}  // namespace

void buildTown(const Plan& plan, Map& map, const BuildingMaterials& of, std::vector<Object>& objects) {
    shapeGround(plan, map);
    const Streets streets = planStreets(plan);
    coverGround(plan, streets, map);

    const Bent square = bentFrom(town.east, town.north);
    const int plaza_i = between(streets.along, square.along);
    const int plaza_j = between(streets.inland, square.inland);
    for (int j = 0; j + 1 < static_cast<int>(streets.inland.size()); ++j) {
        for (int i = 0; i + 1 < static_cast<int>(streets.along.size()); ++i) {
            if (!built(plan, streets, i, j) || (i == plaza_i && j == plaza_j)) continue;
            const auto a = static_cast<std::size_t>(i);
            if (j == 0 && std::fabs(0.5f * (streets.along[a] + streets.along[a + 1])) < warehouse_half)
                continue;  // warehouses stand there
            fillBlock(plan, streets, i, j, map, of, objects);
        }
    }
    const auto put = [&](Shape shape, const std::string& name, float along, float inland, double length, double width,
                         double height, std::uint16_t roof, std::uint16_t wall) {
        const Spot at = fromBent(along, inland);
        objects.push_back(thing(shape, name.c_str(), at.east, at.north, length, width, height,
                                static_cast<double>(along / quay_radius) + 0.5 * constants::pi, roof, wall));
    };
    const auto pi = static_cast<std::size_t>(plaza_i);
    const auto pj = static_cast<std::size_t>(plaza_j);
    const float left = streets.along[pi], right = streets.along[pi + 1], front = streets.inland[pj],
                back = streets.inland[pj + 1];
    overTown(cells, [&](int column, int row) {
        const Bent p = bentFrom(cellAt(column), cellAt(row));
        if (p.along > left && p.along < right && p.inland > front && p.inland < back) map.cover.at(column, row) = Cover::concrete;
    });
    const float centre = 0.5f * (left + right);
    put(Shape::gable, "church", centre + 6.0f, back - 16.0f, 30.0, 13.0, 15.0, of.grey_roof, of.white_wall);
    put(Shape::gable, "church tower", centre - 13.5f, back - 16.0f, 8.0, 8.0, 38.0, of.grey_roof, of.white_wall);
    objects.back().eaves_share = 0.82;
    put(Shape::gable, "town hall", right - 13.0f, front + 15.0f, 14.0, 18.0, 17.0, of.red_roof, of.white_wall);
    const float first = streets.inland[0], second = streets.inland[1];
    for (int k = 0; k < 6; ++k) {
        put(Shape::gable, "warehouse " + std::to_string(k + 1), -205.0f + 78.0f * static_cast<float>(k) + (k >= 3 ? 14.0f : 0.0f),
            0.5f * (first + second), 46.0, 20.0, 10.0 + k, k % 3 == 1 ? of.brown_roof : of.grey_roof, of.concrete);
    }
    put(Shape::cylinder, "chimney", 330.0f, 110.0f, 4.0, 4.0, 46.0, of.red_roof, of.red_roof);
    put(Shape::cylinder, "mole light", 24.0f, -394.0f, 3.0, 3.0, 10.0, of.red_roof, of.white_wall);
}

}  // namespace linefall::island
