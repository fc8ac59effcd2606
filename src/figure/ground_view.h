#pragma once
// The place as an eye in it sees it, ray by ray, in the core's own light: LitGround for what is met, Air for what lies
// between and for the sky.

#include <functional>

#include "figure/drawing.h"
#include "flight/lit_ground.h"
#include "view/camera.h"
#include "view/tone.h"

namespace linefall {

/// What one line of sight from the eye brings: the radiance that leaves the ground it meets, less what the air takes and with
/// the haze that it adds (Air::up, as for an instrument at the eye); or the sky's.
void radianceSeen(const LitGround& light, std::span<const Ray> rays, std::span<const GroundHit> hits, std::span<RadianceRgb> radiance);

/// `columns` x `rows` pixels, one ray each, and four where neighbours differ. `seconds` since the flight began. Pure: the
/// same for any number of threads. Empty when cancelled. `progress`: the share that is done, 0..1, from any thread.
[[nodiscard]] Pixels groundView(const Scene& scene, const Camera& camera, int columns, int rows, double seconds, int threads = 0,
                                const Cancel* cancel = nullptr, const std::function<void(double)>& progress = {});

}  // namespace linefall
