#pragma once
// The light of the picked pixel in the flight view, in travel order: sun to ground, ground to sensor.

#include <string>

namespace linefall {

struct Desk;
struct Why;
class Formation;
class Sketch;

/// What is drawn of the picked pixel's ray.
struct RayDrawn {
    std::string sun;         ///< way from the sun: "free", "blocked", "away" (the surface faces away), "down" (the sun is), "sky" (no ground is met), or empty: no pixel
    std::string blocked_by;  ///< what stands in the way
    std::string lit;         ///< the leg of the opened stop: "sun to ground", "ground", "ground to sensor", "sensor", or empty
    int looks = 0;           ///< faint further looks
};

/// What became of the sun's beam on its way to the picked look, as RayDrawn::sun says it.
[[nodiscard]] std::string beamOf(const Why& why, const Formation& formation);
RayDrawn drawRay(Sketch& sketch, Desk& desk);

}  // namespace linefall
