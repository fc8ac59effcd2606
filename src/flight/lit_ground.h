#pragma once
// The ground as it is lit, wherever it is met: for draping over the flight view, and for figures.

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "base/raster.h"
#include "base/threads.h"
#include "ground/sun_field.h"
#include "physics/atmosphere.h"
#include "physics/effects.h"
#include "physics/sun.h"
#include "scene/scene.h"

namespace linefall {

/// The core's own stages 1 to 4 for pieces of ground that no instrument looks at: sun, air down, terrain, material. Without
/// the air between ground and eye. Immutable; the scene's place must outlive it.
class LitGround {
public:
    /// `seconds` since the flight began. `field`: cast shadows are looked up in a field made here with so many threads, which
    /// pays for many pieces all over the place; otherwise each is searched for. Shadows of things that move fall where they do
    /// at `seconds`.
    LitGround(const Scene& scene, const std::vector<Band>& bands, double seconds = 0.0, bool field = false, int threads = 0);
    /// Things that move cast their shadows of another time from now on, or (nothing) none.
    void setMoversTime(std::optional<double> time_s) { movers_time_s_ = time_s; }

    [[nodiscard]] const Sunlight& sun() const { return sun_; }
    [[nodiscard]] const Air& air() const { return air_; }
    /// Spectral radiance that leaves each piece, W m-2 sr-1 um-1: radiance[band * hits.size() + i]; 0 for the sky.
    void leaving(std::span<const GroundHit> hits, std::span<double> radiance) const;

private:
    const Ground& ground_;
    Sunlight sun_;
    Air air_;
    EffectSettings effects_{};
    std::vector<std::vector<double>> reflectances_;  // [band][material]
    std::shared_ptr<const SunField> field_;
    std::optional<double> movers_time_s_;
};

/// The same ground seen straight down from infinity, without relief displacement: reflected light as a map.
/// For comparison with images; `samples` x `lines` cells of `cell_m`, north up, centred on (east, north).
struct MapRequest {
    double east_m = 0.0, north_m = 0.0, cell_m = 4.0;
    int columns = 512, rows = 512;
    std::optional<double> movers_time_s;  ///< things that move stand where they do at this time; nothing: they are left out
};
/// Radiance at the ground of each band (W m-2 sr-1 um-1) for every cell, row 0 in the north.
[[nodiscard]] std::vector<Raster<float>> litGround(const Scene& scene, const std::vector<Band>& bands, const MapRequest& request,
                                                   int threads = 0, const Cancel* cancel = nullptr);

}  // namespace linefall
