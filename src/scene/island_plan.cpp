#include "scene/island_plan.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.h"
#include "base/dispatch.h"

namespace linefall::island {

namespace {

/// Distance of the shore from the centre every 15 degrees, clockwise from north, before the noise, m.
constexpr std::array<float, 24> outline{3150, 2780, 3150, 3780, 3420, 3120, 3320, 3130, 3120, 3860, 2960, 2830,
                                        2760, 2860, 3020, 3620, 3500, 2840, 2960, 3420, 3330, 3760, 3620, 3330};

float catmullRom(float a, float b, float c, float d, float t) {
    return b + 0.5f * t * (c - a + t * (2.0f * a - 5.0f * b + 4.0f * c - d + t * (3.0f * (b - c) + d - a)));
}

/// A smooth hill of height 1 around the line from `a` to `b`.
LINEFALL_INLINE float hill(Spot a, Spot b, float width, float east, float north) {
    const float dx = b.east - a.east;
    const float dy = b.north - a.north;
    const float along = std::clamp(((east - a.east) * dx + (north - a.north) * dy) / (dx * dx + dy * dy + 1e-6f), 0.0f, 1.0f);
    const float x = east - a.east - along * dx;
    const float y = north - a.north - along * dy;
    const float square = (x * x + y * y) / (width * width);
    return 1.0f / (1.0f + square * (1.0f + square * (0.5f + 0.25f * square)));
}

LINEFALL_INLINE float beachAt(float east, float north) {
    const float south = hill({-1500, -2700}, {500, -2800}, 420.0f, east, north);
    const float salt = hill({2950, -1100}, {3100, -500}, 330.0f, east, north);
    const float harbour = hill({1050, -2550}, {2050, -2500}, 330.0f, east, north);
    const float cove = hill({-3100, -600}, {-3000, -800}, 240.0f, east, north);
    return std::min(1.0f, 1.25f * std::max(std::max(south, salt), std::max(harbour, cove)));
}

LINEFALL_VECTORISED
void beachesAt(const float* east, const float* north, std::size_t count, float* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) out[i] = beachAt(east[i], north[i]);
}

}  // namespace

std::vector<Spot> smoothLine(const std::vector<Spot>& spots, float step_m) {
    std::vector<Spot> line;
    for (std::size_t i = 0; i + 1 < spots.size(); ++i) {
        const Spot a = spots[i > 0 ? i - 1 : 0];
        const Spot b = spots[i];
        const Spot c = spots[i + 1];
        const Spot d = spots[std::min(i + 2, spots.size() - 1)];
        const float length = std::sqrt((c.east - b.east) * (c.east - b.east) + (c.north - b.north) * (c.north - b.north));
        const int count = std::max(1, static_cast<int>(length / step_m));
        for (int k = 0; k < count; ++k) {
            const float t = static_cast<float>(k) / static_cast<float>(count);
            line.push_back({catmullRom(a.east, b.east, c.east, d.east, t), catmullRom(a.north, b.north, c.north, d.north, t)});
        }
    }
    line.push_back(spots.back());
    return line;
}

Plan::Plan(std::uint64_t seed) : seed_(seed), broad_(seed, 1), fine_(seed, 2) {
    const auto sway = [&](int k, float most) { return most * (2.0f * chance(seed, RandomUse::terrain, k, 0, 0x726976) - 1.0f); };
    const std::vector<Spot> bends{{760, 900},
                                  {900, 790},
                                  {1075, 560 + sway(1, 30)},
                                  {1130 + sway(2, 60), 250},
                                  {905 + sway(3, 60), -60},
                                  {1010 + sway(4, 60), -360},
                                  {1290 + sway(5, 60), -640},
                                  {1180 + sway(6, 60), -930},
                                  {930 + sway(7, 50), -1180},
                                  {1010 + sway(8, 40), -1460},
                                  {1175, -1700},
                                  {1060, -1960},
                                  {945, -2180},
                                  {965, -2420},
                                  {900, -2640},
                                  {860, -2950}};
    const std::vector<Spot> line = smoothLine(bends, 6.0f);
    std::vector<float> run(line.size(), 0.0f);
    for (std::size_t i = 1; i < line.size(); ++i) {
        const float dx = line[i].east - line[i - 1].east;
        const float dy = line[i].north - line[i - 1].north;
        run[i] = run[i - 1] + std::sqrt(dx * dx + dy * dy);
    }
    const float to_sea = run.back() - 520.0f;  // tidal from here on
    for (std::size_t i = 0; i < line.size(); ++i) {
        const float share = std::min(1.0f, run[i] / to_sea);
        const float left = 1.0f - share;
        // Steep out of the lake, ever flatter towards the sea, as rivers are.
        const float level = lake_level * (0.25f * left + 0.75f * left * left * left);
        const float width = 9.0f + 8.0f * share + 22.0f * smoothStep(to_sea - 250.0f, to_sea + 400.0f, run[i]);
        river_.push_back({line[i].east, line[i].north, level, width});
    }
}

float Plan::inland(float east, float north) const {
    const float distance = std::sqrt(east * east + north * north);
    const float turn = std::atan2(east, north) / static_cast<float>(2.0 * constants::pi);
    const float place = (turn < 0.0f ? turn + 1.0f : turn) * 24.0f;
    const int at = static_cast<int>(place);
    const auto shore = [&](int k) { return outline[static_cast<std::size_t>((at + k + 23) % 24)]; };
    float s = catmullRom(shore(0), shore(1), shore(2), shore(3), place - static_cast<float>(at)) - distance;
    if (s > 1000.0f) return s;
    // Capes and coves on cliff coasts; long smooth arcs on beaches.
    const float rugged = 1.0f - 0.85f * beach(east, north);
    s += (0.25f + 0.75f * rugged) * 420.0f * broad_.at(east / 1250.0f + 3.1f, north / 1250.0f - 7.7f);
    s += rugged * 260.0f * broad_.sum(east / 520.0f + 31.0f, north / 520.0f + 11.0f, 4, 0.5f);
    // Two islets off the south-west, one off the north-east. Three octaves of noise stay within 3, so most points are too far.
    const auto islet = [&](float x, float y, float radius) {
        const float d = std::sqrt((east - x) * (east - x) + (north - y) * (north - y));
        if (radius - d + 1.5f * radius < s) return;
        s = std::max(s, radius - d + 0.5f * radius * broad_.sum(east / 110.0f, north / 110.0f, 3));
    };
    islet(-3050.0f, -2760.0f, 150.0f);
    islet(-2720.0f, -3080.0f, 75.0f);
    islet(3020.0f, 2960.0f, 95.0f);
    return s;
}

float Plan::beach(float east, float north) const { return beachAt(east, north); }

void Plan::beaches(std::span<const float> east, std::span<const float> north, std::span<float> out) const {
    beachesAt(east.data(), north.data(), east.size(), out.data());
}

float Plan::inLake(float east, float north) const {
    const float dx = east - lake.east;
    const float dy = north - lake.north;
    if (dx * dx + dy * dy > 1000.0f * 1000.0f) return -300.0f;
    constexpr float along_east = 0.94f, along_north = 0.34f;
    const float u = dx * along_east + dy * along_north;
    const float v = dy * along_east - dx * along_north + 70.0f * std::max(-1.0f, std::min(1.0f, u / 500.0f)) * (u / 500.0f);
    const float from = std::sqrt(u * u / (560.0f * 560.0f) + v * v / (215.0f * 215.0f));
    return 240.0f * (1.0f - from) + 70.0f * broad_.sum(east / 260.0f + 5.0f, north / 260.0f + 2.0f, 3);
}

float Plan::steepness(float east, float north) const {
    const float wx = east + 260.0f * broad_.at(east / 1100.0f + 40.0f, north / 1100.0f);
    const float wy = north + 260.0f * broad_.at(east / 1100.0f, north / 1100.0f + 40.0f);
    const float summit = 460.0f * hill(massif, {-900, 1700}, 800.0f, wx, wy);
    const float north_ridge = 190.0f * hill({-900, 1900}, {2300, 2500}, 430.0f, wx, wy);
    const float south_ridge = 170.0f * hill({-1500, 1200}, {-2350, -1250}, 520.0f, wx, wy);
    const float spur =
        130.0f * hill({-1300, 700}, {-700, -520}, 330.0f, wx, wy) + 120.0f * hill({-1050, 1350}, {-330, 1010}, 260.0f, wx, wy);
    const float downs = 30.0f * hill({1900, 200}, {2500, 900}, 420.0f, wx, wy);
    const float cape = 22.0f * hill({2300, -2250}, {2650, -2600}, 260.0f, wx, wy);
    const float hills = 1.0f + 0.9f * broad_.sum(east / 900.0f - 9.0f, north / 900.0f + 4.0f, 3, 0.6f);
    const float high = summit + north_ridge + south_ridge + spur + downs + cape;
    return (3.2f + high) * std::max(0.3f, hills);
}

}  // namespace linefall::island
