#include "physics/terrain.h"

#include <algorithm>

namespace linefall {

void tiltLight(const LightAtGround& in, const Tilt& tilt, const LightOnSurface& out) {
    for (std::size_t i = 0; i < out.beam.size(); ++i) {
        out.beam[i] = in.beam[i] * std::max(0.0, tilt.incidence_cosine[i]) * tilt.sun_share[i];
        out.sky[i] = in.sky[i] * tilt.sky_share[i];
    }
}

}  // namespace linefall
