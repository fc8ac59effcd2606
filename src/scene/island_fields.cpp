#include "scene/island_fields.h"

#include <algorithm>
#include <cmath>

#include "base/dispatch.h"

namespace linefall::island {

namespace {

/// What a field bears; shares of the farmland, chosen by one random number.
Cover crop(float lot) {
    if (lot < 0.30f) return Cover::grass;
    if (lot < 0.47f) return Cover::crop;
    if (lot < 0.62f) return Cover::grain;
    if (lot < 0.75f) return Cover::loam;
    if (lot < 0.81f) return Cover::clay;
    if (lot < 0.88f) return Cover::dry_grass;
    if (lot < 0.95f) return Cover::meadow;
    return Cover::deciduous;  // a copse
}

}  // namespace

Fields::Fields(const Plan& plan, const Guides& guides) {
    const std::uint64_t seed = plan.seed();
    for (int j = 0; j < parishes; ++j) {
        for (int i = 0; i < parishes; ++i) {
            Parish p;
            p.site.east = (static_cast<float>(i) - 6.0f + 0.7f * (chance(seed, RandomUse::terrain, i, j, 11) - 0.5f)) * parish_m;
            p.site.north = (static_cast<float>(j) - 6.0f + 0.7f * (chance(seed, RandomUse::terrain, i, j, 12) - 0.5f)) * parish_m;
            // Fields lie along the slope of the land, so the plough follows the contour.
            const auto ground = [&](float dx, float dy) {
                return guideValue(guides.height_m, std::clamp(p.site.east + dx, -3990.0f, 3990.0f),
                                  std::clamp(p.site.north + dy, -3990.0f, 3990.0f));
            };
            float dx = ground(160, 0) - ground(-160, 0) + 3.0f * (chance(seed, RandomUse::terrain, i, j, 13) - 0.5f);
            float dy = ground(0, 160) - ground(0, -160) + 3.0f * (chance(seed, RandomUse::terrain, i, j, 14) - 0.5f);
            const float length = std::sqrt(dx * dx + dy * dy) + 1e-6f;
            p.cos_turn = dx / length;
            p.sin_turn = dy / length;
            parish_.push_back(p);
        }
    }
    for (std::size_t k = 0; k < parish_.size(); ++k) {
        const Parish p = parish_[k];
        const float side = 1.1f * parish_m;
        parish_[k].root = divide(plan, guides, p, {-side, side, -side, side}, 0, static_cast<int>(k) * 4096 + 1);
    }
}

int Fields::divide(const Plan& plan, const Guides& guides, const Parish& parish, std::array<float, 4> box, int depth, int key) {
    const std::uint64_t seed = plan.seed();
    const auto lot = [&](int what) { return chance(seed, RandomUse::terrain, key, depth, what); };
    const int index = static_cast<int>(node_.size());
    node_.emplace_back();
    const float wide = box[1] - box[0];
    const float high = box[3] - box[2];
    const float enough = 9000.0f + 16000.0f * lot(21) * lot(21);  // m2
    if (depth >= 11 || wide * high < enough) {
        const float u = 0.5f * (box[0] + box[1]);
        const float v = 0.5f * (box[2] + box[3]);
        const float east = parish.site.east + u * parish.cos_turn - v * parish.sin_turn;
        const float north = parish.site.north + u * parish.sin_turn + v * parish.cos_turn;
        if (std::fabs(east) > 3900.0f || std::fabs(north) > 3900.0f) return index;
        const float height = guideValue(guides.height_m, east, north);
        const float slope = guideValue(guides.slope, east, north);
        const float s = guideValue(guides.inland_m, east, north);
        const float away = guideValue(guides.away_m, east, north);
        const float wild = plan.broad().sum(east / 420.0f + 13.0f, north / 420.0f + 71.0f, 2);
        const bool farmed =
            s > 130.0f && away > 30.0f && slope < 0.20f + 0.08f * wild && height < 150.0f + 60.0f * wild && wild > -0.40f;
        if (farmed) node_[static_cast<std::size_t>(index)].cover = crop(lot(22));
        return index;
    }
    // Long fields are cut across, with a line that is never quite square.
    const bool cut_u = wide > high * (0.75f + 0.7f * lot(23));
    const float share = 0.38f + 0.24f * lot(24);
    const float tilt = 0.16f * (lot(25) - 0.5f);
    const float at_u = cut_u ? box[0] + share * wide : 0.5f * (box[0] + box[1]);
    const float at_v = cut_u ? 0.5f * (box[2] + box[3]) : box[2] + share * high;
    Node line;
    line.across_u = cut_u ? 1.0f : tilt;
    line.across_v = cut_u ? tilt : 1.0f;
    const float length = std::sqrt(1.0f + tilt * tilt);
    line.across_u /= length;
    line.across_v /= length;
    line.offset = line.across_u * at_u + line.across_v * at_v;
    line.hedge = lot(26) < 0.72f;
    std::array<float, 4> low = box;
    std::array<float, 4> up = box;
    if (cut_u) low[1] = up[0] = at_u;
    else low[3] = up[2] = at_v;
    line.below = divide(plan, guides, parish, low, depth + 1, key * 2);
    line.above = divide(plan, guides, parish, up, depth + 1, key * 2 + 1);
    node_[static_cast<std::size_t>(index)] = line;
    return index;
}

namespace {

/// Up to nine parishes that the nearest two of a point are among; places not used lie out of reach.
struct Nine {
    std::array<float, 9> east, north;
    std::array<int, 9> index;
};

LINEFALL_VECTORISED
void nearestTwo(const Nine& nine, const float* east, float north, std::size_t count, int* __restrict own, int* __restrict other,
                float* __restrict own_m2, float* __restrict other_m2) {
    for (std::size_t i = 0; i < count; ++i) {
        int first = 0, second = 0;
        float least = 1e12f, next = 1e12f;
        for (std::size_t k = 0; k < 9; ++k) {
            const float dx = east[i] - nine.east[k];
            const float dy = north - nine.north[k];
            const float square = dx * dx + dy * dy;
            const bool nearest = square < least;
            const bool near = square < next;
            second = nearest ? first : near ? nine.index[k] : second;
            next = nearest ? least : near ? square : next;
            first = nearest ? nine.index[k] : first;
            least = nearest ? square : least;
        }
        own[i] = first;
        other[i] = second;
        own_m2[i] = least;
        other_m2[i] = next;
    }
}

}  // namespace

void Fields::findNearest(std::span<const float> east, float north, Nearest& nearest) const {
    const auto around = [](float metres) { return std::clamp(static_cast<int>(std::floor(metres / parish_m + 6.5f)), 0, parishes - 1); };
    nearest.own.resize(east.size());
    nearest.other.resize(east.size());
    nearest.own_m2.resize(east.size());
    nearest.other_m2.resize(east.size());
    const int cj = around(north);
    for (std::size_t first = 0, last = 0; first < east.size(); first = last) {
        const int ci = around(east[first]);
        while (last < east.size() && around(east[last]) == ci) ++last;
        Nine nine;
        nine.east.fill(1e9f);
        nine.north.fill(1e9f);
        nine.index.fill(0);
        std::size_t k = 0;
        for (int j = std::max(0, cj - 1); j <= std::min(parishes - 1, cj + 1); ++j) {
            for (int i = std::max(0, ci - 1); i <= std::min(parishes - 1, ci + 1); ++i, ++k) {
                nine.index[k] = j * parishes + i;
                const Spot site = parish_[static_cast<std::size_t>(nine.index[k])].site;
                nine.east[k] = site.east;
                nine.north[k] = site.north;
            }
        }
        nearestTwo(nine, east.data() + first, north, last - first, nearest.own.data() + first, nearest.other.data() + first,
                   nearest.own_m2.data() + first, nearest.other_m2.data() + first);
    }
}

void Fields::row(std::span<const float> east, float north, std::vector<FieldView>& views) const {
    Nearest nearest;
    findNearest(east, north, nearest);
    views.resize(east.size());
    for (std::size_t i = 0; i < east.size(); ++i) {
        const Parish& own = parish_[static_cast<std::size_t>(nearest.own[i])];
        const Parish& other = parish_[static_cast<std::size_t>(nearest.other[i])];
        const float bx = own.site.east - other.site.east;
        const float by = own.site.north - other.site.north;
        const float edge_m = 0.5f * (nearest.other_m2[i] - nearest.own_m2[i]) / std::sqrt(bx * bx + by * by);
        views[i] = view(own, edge_m, east[i], north);
    }
}

FieldView Fields::view(const Parish& own, float edge_m, float east, float north) const {
    FieldView view;
    view.edge_m = edge_m;
    view.hedge = true;
    const float dx = east - own.site.east;
    const float dy = north - own.site.north;
    const float u = dx * own.cos_turn + dy * own.sin_turn;
    const float v = dy * own.cos_turn - dx * own.sin_turn;
    const Node* node = &node_[static_cast<std::size_t>(own.root)];
    while (node->below >= 0) {
        const float side = node->across_u * u + node->across_v * v - node->offset;
        const float distance = std::fabs(side);
        if (distance < view.edge_m) {
            view.edge_m = distance;
            view.hedge = node->hedge;
        }
        node = &node_[static_cast<std::size_t>(side < 0.0f ? node->below : node->above)];
    }
    view.cover = node->cover;
    return view;
}

}  // namespace linefall::island
