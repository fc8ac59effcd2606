#include "physics/terrain.h"

#include "base/dispatch.h"

namespace linefall {

LINEFALL_VECTORISED
void tiltLight(const LightAtGround& in, const Tilt& tilt, const LightOnSurface& out) {
    const double* __restrict beam = in.beam.data();
    const double* __restrict sky = in.sky.data();
    const double* __restrict cosine = tilt.incidence_cosine.data();
    const double* __restrict sun_share = tilt.sun_share.data();
    const double* __restrict sky_share = tilt.sky_share.data();
    double* __restrict surface_beam = out.beam.data();
    double* __restrict surface_sky = out.sky.data();
    for (std::size_t i = 0; i < out.beam.size(); ++i) {
        surface_beam[i] = beam[i] * (cosine[i] > 0.0 ? cosine[i] : 0.0) * sun_share[i];
        surface_sky[i] = sky[i] * sky_share[i];
    }
}

}  // namespace linefall
