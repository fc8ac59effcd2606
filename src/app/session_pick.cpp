// The picked pixel, and the same ground in the other pictures.

#include <algorithm>

#include "app/session.h"

namespace linefall {

void Session::pick(int craft, Pixel pixel) {
    if (craft < 0 || craft >= static_cast<int>(crafts_.size())) return;
    const Formation& formation = crafts_[static_cast<std::size_t>(craft)]->formation();
    pixel.line = std::clamp(pixel.line, 0, formation.lines() - 1);
    pixel.sample = std::clamp(pixel.sample, 0, formation.samples() - 1);
    picked_ = Picked{craft, pixel, std::nullopt, {}, {}};
    refreshPicked();
}

void Session::refreshPicked(bool same_looks) {
    ++picked_version_;
    if (!picked_) return;
    Picked& picked = *picked_;
    Craft& own = *crafts_[static_cast<std::size_t>(picked.craft)];
    picked.pixel.line = std::min(picked.pixel.line, own.formation().lines() - 1);
    picked.pixel.sample = std::min(picked.pixel.sample, own.formation().samples() - 1);
    if (!same_looks) {
        picked.linked.assign(crafts_.size(), std::nullopt);
        picked.linked_at.assign(crafts_.size(), {-1, -1});
    }
    picked.why.reset();
    if (!own.gathered(picked.pixel)) return;
    picked.why = own.formation().why(picked.pixel.line, picked.pixel.sample);
    if (!same_looks) link();
}

/// The same ground in the other pictures, searched again as their lines fall and are formed anew.
void Session::link() {
    if (!picked_ || !picked_->why || picked_->why->hit.meets == Meets::sky) return;
    Picked& picked = *picked_;
    for (std::size_t i = 0; i < crafts_.size() && i < picked.linked.size(); ++i) {
        const std::pair<int, int> now{crafts_[i]->shown(), crafts_[i]->stale()};
        if (static_cast<int>(i) == picked.craft || picked.linked_at[i] == now) continue;
        picked.linked_at[i] = now;
        picked.linked[i] = nearestSample(crafts_[i]->formation(), crafts_[i]->shown(), picked.why->hit.point_m);
    }
}

}  // namespace linefall
