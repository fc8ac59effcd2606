#pragma once
// What the files of the walk share: where, how inclined and when a contribution met the ground.

#include "instruments/light_walk.h"

namespace linefall {

/// Of the contribution at an index: the place it meets, m in the world's frame, and the normal there.
[[nodiscard]] inline Vec3 pointOf(const LineLooks& looks, std::size_t i) {
    return {static_cast<double>(looks.x_m[i]), static_cast<double>(looks.y_m[i]), static_cast<double>(looks.z_m[i])};
}
[[nodiscard]] inline Vec3 normalOf(const LineLooks& looks, std::size_t i) {
    return {static_cast<double>(looks.nx[i]), static_cast<double>(looks.ny[i]), static_cast<double>(looks.nz[i])};
}

/// When a contribution of a sample is gathered, s.
[[nodiscard]] inline double contributionTime(const LightPath& path, int line, int sample, const Offset& offset) {
    return path.manner.sweep_motion ? path.instrument->lookTime_s(line, sample, offset.dwell_share)
                                    : path.instrument->lineTime_s(line);
}

}  // namespace linefall
