#include "scene/island_rows.h"

#include <algorithm>

#include "base/dispatch.h"

namespace linefall::island {

namespace {

/// Values between the nodes of one row of guides, `guide` to each pair.
LINEFALL_VECTORISED
void alongNodes(const float* nodes, float offset, float* __restrict out) {
    for (int i = 0; i + 1 < guides; ++i) {
        for (int k = 0; k < guide; ++k) {
            out[guide * i + k] = mix(nodes[i], nodes[i + 1], (static_cast<float>(k) + offset) / static_cast<float>(guide));
        }
    }
}

LINEFALL_VECTORISED
void mixRows(const float* south, const float* north, float share, std::size_t count, float* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) out[i] = mix(south[i], north[i], share);
}

LINEFALL_VECTORISED
void toLattice(float length_m, float shift, std::size_t count, float* __restrict at) {
    for (std::size_t i = 0; i < count; ++i) at[i] = at[i] / length_m + shift;
}

}  // namespace

GuideRow::GuideRow(const Raster<float>& guide_raster, Of of)
    : guide_(&guide_raster), offset_(of == Of::posts ? 0.0f : 0.5f), south_(posts), north_(posts), value_(posts) {}

void GuideRow::moveTo(int row) {
    const int below = std::min(row / guide, guides - 2);
    if (below != below_) {
        const auto along = [this](int guide_row, std::vector<float>& out) {
            const auto nodes = guide_->row(guide_row);
            alongNodes(nodes.data(), offset_, out.data());
            out.back() = mix(nodes[guides - 2], nodes[guides - 1], 1.0f);  // the last post; cells end before it
        };
        along(below, south_);
        along(below + 1, north_);
        below_ = below;
    }
    const float share = (static_cast<float>(row - below * guide) + offset_) / static_cast<float>(guide);
    mixRows(south_.data(), north_.data(), share, value_.size(), value_.data());
}

void RowBatch::sum(const Noise& noise, const Waves& waves, std::span<float> row) {
    toLattice(waves.length_m, waves.east, count_, east_.data());
    toLattice(waves.length_m, waves.north, count_, north_.data());
    noise.sums({east_.data(), count_}, {north_.data(), count_}, waves.octaves, waves.gain, value_);
    spread(row);
}

void RowBatch::beach(const Plan& plan, std::span<float> row) {
    plan.beaches({east_.data(), count_}, {north_.data(), count_}, value_);
    spread(row);
}

void RowBatch::spread(std::span<float> row) {
    for (std::size_t k = 0; k < count_; ++k) row[static_cast<std::size_t>(at_[k])] = value_[k];
    count_ = 0;
}

}  // namespace linefall::island
