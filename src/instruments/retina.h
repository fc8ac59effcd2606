#pragma once
// Where the receptors of an eye lie. Lengths in pitches: distances between neighbouring cones at the middle of the fovea.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace linefall {

struct RetinaPlan {
    double doubling = 127.0;      ///< eccentricity at which the spacing has doubled
    double reach = 570.0;         ///< receptors are laid out to here at least
    double foveola = 20.0;        ///< radius without S cones
    double rod_free = 72.0;       ///< radius without rods
    double s_share = 0.06;        ///< of the cones outside the foveola
    double l_share = 0.66;        ///< of the cones that are not S
    std::uint64_t seed = 1;
    friend bool operator==(const RetinaPlan&, const RetinaPlan&) = default;
};

/// One receptor. x grows towards growing columns, y towards growing rows, both from the middle of the fovea.
struct Receptor {
    int id = 0;  ///< of its own among all of its kind's mosaic: cones from 0, rods from 0
    double x = 0.0, y = 0.0;
};

/// The mosaic of cones and that of rods, laid out in rings about the fovea. The spacing grows as s = 1 + e / doubling (e:
/// eccentricity): rings are sqrt(3)/2 s apart, as the rows of a hexagonal lattice, and hold one receptor every s. Each ring is
/// turned by chance and each receptor shifted along it by up to a sixth of the spacing. The kind of a cone is drawn: S with
/// s_share outside the foveola and never inside, else L with l_share. Rods have rings of their own, from rod_free outwards.
/// The density of cones falls as (1 + e / doubling)^-2: the leading term of the density of the eye's fine nerve signals
/// (midget ganglion cells) of Watson 2014, Journal of Vision 14(7), with doubling at 1.06 deg (from memory). Real cones
/// thin out more slowly beyond 2 deg, real mosaics are hexagonal with faults rather than ringed, and rods are far more
/// numerous than here, many to a signal: left out. Pure: the same plan, the same receptors.
class Retina {
public:
    explicit Retina(const RetinaPlan& plan);

    /// How many receptors both mosaics together would hold: to be asked before one is made.
    [[nodiscard]] static double countOf(const RetinaPlan& plan);
    /// Spacing of neighbours at an eccentricity.
    [[nodiscard]] double spacing(double eccentricity) const { return 1.0 + eccentricity / plan_.doubling; }
    /// The receptor of a kind ("L", "M", "S", "rod"; empty: any cone) nearest to a place; nothing when there is none of it.
    [[nodiscard]] std::optional<Receptor> nearest(const std::string& kind, double x, double y) const;
    /// How many of a kind lie within an eccentricity.
    [[nodiscard]] int count(const std::string& kind, double within) const;
    [[nodiscard]] int receptors() const { return most_; }  ///< of the larger mosaic
    [[nodiscard]] const RetinaPlan& plan() const { return plan_; }

private:
    struct Members {
        std::vector<double> angle;  ///< growing, 0 .. 2 pi
        std::vector<int> id;
    };
    using Mosaic = std::vector<Members>;  ///< by number of the ring
    [[nodiscard]] const Mosaic* mosaicOf(const std::string& kind) const;
    [[nodiscard]] double radius(int ring) const { return radii_[static_cast<std::size_t>(ring)]; }

    RetinaPlan plan_;
    double growth_;  ///< of 1 + e / doubling from ring to ring
    std::vector<double> radii_;
    Mosaic cones_, l_, m_, s_, rods_;
    int most_ = 0;
};

}  // namespace linefall
