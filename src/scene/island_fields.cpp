#include "scene/island_fields.h"

#include <algorithm>
#include <cmath>

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

FieldView Fields::at(float east, float north) const {
    const int ci = std::clamp(static_cast<int>(std::floor(east / parish_m + 6.5f)), 0, parishes - 1);
    const int cj = std::clamp(static_cast<int>(std::floor(north / parish_m + 6.5f)), 0, parishes - 1);
    const Parish* own = nullptr;
    const Parish* other = nullptr;
    float least = 1e12f;
    float second = 1e12f;
    for (int j = std::max(0, cj - 1); j <= std::min(parishes - 1, cj + 1); ++j) {
        for (int i = std::max(0, ci - 1); i <= std::min(parishes - 1, ci + 1); ++i) {
            const Parish& p = parish_[static_cast<std::size_t>(j * parishes + i)];
            const float dx = east - p.site.east;
            const float dy = north - p.site.north;
            const float square = dx * dx + dy * dy;
            if (square < least) {
                second = least;
                other = own;
                least = square;
                own = &p;
            } else if (square < second) {
                second = square;
                other = &p;
            }
        }
    }
    FieldView view;
    const float bx = own->site.east - other->site.east;
    const float by = own->site.north - other->site.north;
    view.edge_m = 0.5f * (second - least) / std::sqrt(bx * bx + by * by);
    view.hedge = true;
    const float dx = east - own->site.east;
    const float dy = north - own->site.north;
    const float u = dx * own->cos_turn + dy * own->sin_turn;
    const float v = dy * own->cos_turn - dx * own->sin_turn;
    const Node* node = &node_[static_cast<std::size_t>(own->root)];
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
