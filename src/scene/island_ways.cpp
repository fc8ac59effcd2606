// Rivers, streams and roads: lines stamped into posts and cells.

#include <algorithm>
#include <cmath>

#include "scene/island_works.h"

namespace linefall::island {

namespace {

/// The nearest point of the way to each grid point of a window around it.
struct Near {
    float distance = 1e9f;
    float level = 0.0f;
    float half_width = 0.0f;
};

/// `offset` is 0 for posts and 0.5 for cell centres, `count` how many there are along a side.
template <class Visit>
void stamp(const Way& way, float margin_m, float offset, int count, const Visit& visit) {
    if (way.size() < 2) return;
    float west = 1e9f, east = -1e9f, south = 1e9f, north = -1e9f, widest = 0.0f;
    for (const WayPoint& p : way) {
        west = std::min(west, p.east);
        east = std::max(east, p.east);
        south = std::min(south, p.north);
        north = std::max(north, p.north);
        widest = std::max(widest, p.half_width);
    }
    const auto index = [&](float metres) {
        return std::clamp(static_cast<int>(std::floor((metres + reach) / spacing)), 0, count - 1);
    };
    const float wide = widest + margin_m;
    const int c0 = index(west - wide), c1 = index(east + wide), r0 = index(south - wide), r1 = index(north + wide);
    Raster<Near> nearest(c1 - c0 + 1, r1 - r0 + 1);
    for (std::size_t k = 0; k + 1 < way.size(); ++k) {
        const WayPoint& a = way[k];
        const WayPoint& b = way[k + 1];
        const float dx = b.east - a.east;
        const float dy = b.north - a.north;
        const float square = std::max(1e-6f, dx * dx + dy * dy);
        const float far = std::max(a.half_width, b.half_width) + margin_m;
        for (int row = index(std::min(a.north, b.north) - far); row <= index(std::max(a.north, b.north) + far); ++row) {
            const float y = (static_cast<float>(row) + offset) * spacing - reach;
            for (int column = index(std::min(a.east, b.east) - far); column <= index(std::max(a.east, b.east) + far); ++column) {
                const float x = (static_cast<float>(column) + offset) * spacing - reach;
                const float t = std::clamp(((x - a.east) * dx + (y - a.north) * dy) / square, 0.0f, 1.0f);
                const float ex = x - a.east - t * dx;
                const float ey = y - a.north - t * dy;
                const float distance = std::sqrt(ex * ex + ey * ey);
                Near& n = nearest.at(column - c0, row - r0);
                if (distance < n.distance) {
                    n = {distance, mix(a.level, b.level, t), mix(a.half_width, b.half_width, t)};
                }
            }
        }
    }
    for (int row = r0; row <= r1; ++row) {
        for (int column = c0; column <= c1; ++column) {
            const Near& n = nearest.at(column - c0, row - r0);
            if (n.distance <= n.half_width + margin_m) visit(column, row, n.distance, n.level, n.half_width);
        }
    }
}

constexpr float corner = 2.9f;  // from a cell's centre to its corners, a little more than 4 m / sqrt 2

bool touchesWater(const Map& map, int column, int row) {
    for (int r = std::max(0, row - 1); r <= std::min(cells - 1, row); ++r) {
        for (int c = std::max(0, column - 1); c <= std::min(cells - 1, column); ++c) {
            if (isWater(map.cover.at(c, r))) return true;
        }
    }
    return false;
}

}  // namespace

void alongWay(const Way& way, float margin_m, const std::function<void(int, int, float, float, float)>& visit) {
    stamp(way, margin_m, 0.0f, posts, visit);
}

float heightOn(const Map& map, float east, float north) {
    const float u = std::clamp((east + reach) / spacing, 0.0f, static_cast<float>(cells) - 0.001f);
    const float v = std::clamp((north + reach) / spacing, 0.0f, static_cast<float>(cells) - 0.001f);
    const int i = static_cast<int>(u);
    const int j = static_cast<int>(v);
    const float fu = u - static_cast<float>(i);
    const float fv = v - static_cast<float>(j);
    return mix(mix(map.height_m.at(i, j), map.height_m.at(i + 1, j), fu),
               mix(map.height_m.at(i, j + 1), map.height_m.at(i + 1, j + 1), fu), fv);
}

void cutWater(const Way& planned, Map& map) {
    // A stream never stands above the ground it runs through, and never runs uphill.
    Way way = planned;
    float lowest = 1e9f;
    for (WayPoint& p : way) {
        lowest = std::min(lowest, std::max(0.0f, std::min(p.level, heightOn(map, p.east, p.north) - 0.3f)));
        p.level = lowest;
    }
    constexpr float bank_m = 30.0f;
    stamp(way, corner + bank_m, 0.0f, posts, [&](int column, int row, float distance, float level, float half) {
        if (touchesWater(map, column, row)) return;
        float& h = map.height_m.at(column, row);
        const float out = distance - half - corner;
        if (out <= 0.0f) {
            h = level;
        } else {
            h = std::min(h, level + 0.4f + 0.42f * out);
            if (out < 10.0f) h = std::max(h, level + std::min(0.9f, 0.3f * out));
        }
    });
    stamp(way, 9.0f, 0.5f, cells, [&](int column, int row, float distance, float, float half) {
        Cover& c = map.cover.at(column, row);
        if (distance <= half && !isWater(c)) c = Cover::fresh;
        map.kept.at(column, row) = Map::bank;
    });
}

void layRoad(const std::vector<Spot>& line, float half_width_m, Cover cover, Map& map) {
    Way way;
    for (const Spot& s : line) way.push_back({s.east, s.north, heightOn(map, s.east, s.north), half_width_m});
    for (int pass = 0; pass < 24; ++pass) {
        for (std::size_t k = 1; k + 1 < way.size(); ++k) {
            way[k].level = 0.25f * way[k - 1].level + 0.5f * way[k].level + 0.25f * way[k + 1].level;
        }
    }
    stamp(way, corner + 14.0f, 0.0f, posts, [&](int column, int row, float distance, float level, float half) {
        if (touchesWater(map, column, row)) return;
        float& h = map.height_m.at(column, row);
        h = mix(level, h, smoothStep(0.0f, 14.0f, distance - half - corner));
    });
    stamp(way, 1.0f, 0.5f, cells, [&](int column, int row, float distance, float, float half) {
        Cover& c = map.cover.at(column, row);
        map.kept.at(column, row) = Map::bare;
        if (distance <= half && !isWater(c) && c != Cover::concrete) c = cover;
    });
}

void levelPatch(Spot at, float length_m, float width_m, float heading_rad, float blend_m, float level_m, Cover cover, Map& map) {
    const float along_east = std::sin(heading_rad);
    const float along_north = std::cos(heading_rad);
    const float wide = 0.5f * std::sqrt(length_m * length_m + width_m * width_m) + blend_m + spacing;
    const auto index = [](float metres, int most) {
        return std::clamp(static_cast<int>((metres + reach) / spacing), 1, most - 2);
    };
    // How far a point lies outside the rectangle.
    const auto outside = [&](float east, float north) {
        const float x = east - at.east;
        const float y = north - at.north;
        const float u = std::max(0.0f, std::fabs(x * along_east + y * along_north) - 0.5f * length_m);
        const float v = std::max(0.0f, std::fabs(x * along_north - y * along_east) - 0.5f * width_m);
        return std::sqrt(u * u + v * v);
    };
    for (int row = index(at.north - wide, posts); row <= index(at.north + wide, posts); ++row) {
        for (int column = index(at.east - wide, posts); column <= index(at.east + wide, posts); ++column) {
            const float out = outside(postAt(column), postAt(row));
            // A stream passes under the level ground itself, and stays as it is around it.
            if (out < corner + blend_m && (out < corner || !touchesWater(map, column, row)) &&
                map.height_m.at(column, row) > 0.0f) {
                float& h = map.height_m.at(column, row);
                h = mix(level_m, h, smoothStep(0.0f, blend_m, out - corner));
            }
            const float cell_out = outside(cellAt(column), cellAt(row));
            if (cell_out > 2.0f) continue;
            map.kept.at(column, row) = Map::bare;
            Cover& c = map.cover.at(column, row);
            if (c == Cover::fresh) c = cover;
            if (!isWater(c) && cover != Cover::open) c = cover;
        }
    }
}

}  // namespace linefall::island
