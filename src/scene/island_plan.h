#pragma once
// Where everything of the island lies: the outline, the waters and the places, before any ground exists.
// World frame, metres; the seed moves the outline and the ways, the places stay where the flights expect them.

#include <cstdint>
#include <span>
#include <vector>

#include "scene/island_noise.h"

namespace linefall::island {

struct Spot {
    float east = 0.0f, north = 0.0f;
};

/// A point of a river, a stream or a road: the middle of it, its level and half of its width, m.
struct WayPoint {
    float east = 0.0f, north = 0.0f;
    float level = 0.0f;
    float half_width = 0.0f;
};
using Way = std::vector<WayPoint>;

inline constexpr int posts = 2001;  ///< along each side
inline constexpr int cells = posts - 1;
inline constexpr float spacing = 4.0f;   ///< of posts, m
inline constexpr float reach = 4000.0f;  ///< from the centre to each border, m
inline constexpr int guide = 4;          ///< posts a step of the guide grid
inline constexpr int guides = 501;       ///< nodes of the guide grid along each side
inline constexpr float guide_spacing = 16.0f;

/// Position of a post, a cell's centre or a node of the guide grid.
[[nodiscard]] inline float postAt(int index) {
    return static_cast<float>(index) * spacing - reach;
}
[[nodiscard]] inline float cellAt(int index) {
    return (static_cast<float>(index) + 0.5f) * spacing - reach;
}
[[nodiscard]] inline float guideAt(int index) {
    return static_cast<float>(index) * guide_spacing - reach;
}

inline constexpr float lake_level = 46.0f;
inline constexpr Spot lake{520.0f, 930.0f};
inline constexpr Spot massif{-1350.0f, 1500.0f};
inline constexpr Spot town{1560.0f, -2210.0f};  ///< the plaza
inline constexpr Spot bend{1480.0f, -3750.0f};  ///< centre of the circles that the quay and the streets follow
inline constexpr float quay_radius = 1290.0f;   ///< of the quay's front around `bend`
inline constexpr Spot quarry{-640.0f, -760.0f};
inline constexpr Spot saltworks{2760.0f, -760.0f};
inline constexpr Spot silos{1800.0f, -1240.0f};
inline constexpr Spot airstrip{250.0f, -1780.0f};
inline constexpr float airstrip_heading_deg = 68.0f;

/// The plan of one seed.
class Plan {
public:
    explicit Plan(std::uint64_t seed);

    [[nodiscard]] std::uint64_t seed() const { return seed_; }
    /// About how far inland a point lies, m; negative at sea; below -100 along the border of the place.
    [[nodiscard]] float inland(float east, float north) const;
    /// About how far a point lies inside the lake, m; negative outside.
    [[nodiscard]] float inLake(float east, float north) const;
    /// Uplift over erodibility, m: about 4 in the plain, 100 and more in the mountains.
    [[nodiscard]] float steepness(float east, float north) const;
    /// 1 where the coast is a low beach, 0 where it is a cliff.
    [[nodiscard]] float beach(float east, float north) const;
    /// The same at many points.
    void beaches(std::span<const float> east, std::span<const float> north, std::span<float> out) const;
    /// The main river, from the lake to the open sea, a point every few metres.
    [[nodiscard]] const Way& river() const { return river_; }
    [[nodiscard]] const Noise& broad() const { return broad_; }
    [[nodiscard]] const Noise& fine() const { return fine_; }

private:
    std::uint64_t seed_;
    Noise broad_;
    Noise fine_;
    Way river_;
};

/// A smooth line through the spots (Catmull and Rom 1974), a point about every
/// `step_m`.
[[nodiscard]] std::vector<Spot> smoothLine(const std::vector<Spot>& spots, float step_m);

}  // namespace linefall::island
