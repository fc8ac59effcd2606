#pragma once
// Stage 3, terrain: is the point in cast shadow, how is it tilted, how much sky does it see?

#include <span>

#include "physics/signal.h"

namespace linefall {

/// What the terrain does to the light of each contribution.
struct Tilt {
    std::span<const double> incidence_cosine;  ///< of the local incidence (normal to sun), may be negative
    std::span<const double> sun_share;         ///< share of the sun's disc in view, 0..1: cast shadow takes the beam only
    std::span<const double> sky_share;         ///< share of the sky in view, 0..1
};

/// beam on surface = beam * max(0, cos i) * sun share; sky on surface = sky * sky share. Exact.
void tiltLight(const LightAtGround& in, const Tilt& tilt, const LightOnSurface& out);

}  // namespace linefall
