#pragma once
// What is looked at. Only this module knows the shape of the ground and of the Earth under it: everyone else asks
// where a ray ends and gets the point, the local up and north, and the surface normal.

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "base/raster.h"
#include "base/vectors.h"
#include "ground/height_field.h"
#include "ground/object.h"
#include "ground/paint.h"

namespace linefall {

/// What a look ended on.
enum class Meets : std::uint8_t {
    terrain,
    object,
    beyond,  ///< the level plane at datum outside the place
    sky,     ///< nothing
};

/// Where a ray ends.
struct GroundHit {
    Meets meets = Meets::sky;
    double distance_m = 0.0;
    Vec3 point_m{0.0};
    Vec3 normal{0.0, 0.0, 1.0};  ///< unit, outward
    Vec3 up{0.0, 0.0, 1.0};      ///< unit, local zenith
    Vec3 north{0.0, 1.0, 0.0};   ///< unit, local north, level
    std::uint16_t material = 0;
    int object = -1;  ///< number of a thing, for Ground::thing, or -1
};

/// Things that move are tested one by one: a place has no more of them.
inline constexpr std::size_t most_movers = 64;

/// Terrain, objects and the plane beyond, with the maximum pyramid that finds hits. Immutable; share it freely.
///
/// A thing that moves goes straight on at a constant velocity. It stays level and does not turn; its base follows the terrain
/// under its centre, or the plane beyond the place, and its sides go down to the lowest ground. It meets rays where it stands
/// at their time, and blocks the sun there. Left out: it runs through whatever stands in its way, and takes no sky from what
/// lies beside it.
class Ground {
public:
    /// `materials` has one index a cell of the terrain (cell column, cell row), or is empty: then `beyond_material`
    /// covers everything. Objects are placed on the terrain here, no more than most_movers of them moving; paints lie on the
    /// terrain, the last on top.
    Ground(HeightField terrain, Raster<std::uint8_t> materials, std::vector<Object> objects,
           std::uint16_t beyond_material, std::vector<Paint> paints = {});

    [[nodiscard]] const HeightField& terrain() const { return terrain_; }
    /// Things that stand still.
    [[nodiscard]] std::span<const Object> objects() const { return objects_; }
    /// Things that move, as they stand at time 0.
    [[nodiscard]] std::span<const Object> movers() const { return movers_; }
    /// A thing by its number: objects() come first, then movers().
    [[nodiscard]] const Object& thing(int number) const;
    /// A copy of one of movers(), standing where it stands at a time.
    [[nodiscard]] Object moverAt(std::size_t mover, double time_s) const;
    [[nodiscard]] std::uint16_t beyondMaterial() const { return beyond_material_; }
    [[nodiscard]] std::span<const Paint> paints() const { return paints_; }
    /// Material of the terrain (paint included) or of the plane beyond.
    [[nodiscard]] std::uint16_t materialAt(double east, double north) const;
    /// Height of the topmost surface, objects that stand still included; datum outside the place.
    [[nodiscard]] double surfaceAt(double east, double north) const;
    /// No part of the ground is higher, m.
    [[nodiscard]] double highest_m() const { return highest_; }

    /// The first thing the ray meets at a distance of at least `from_m`.
    [[nodiscard]] GroundHit intersect(const Ray& ray, double from_m = 0.0) const {
        return movers_.empty() ? intersectStill(ray, from_m) : orMover(ray, from_m, intersectStill(ray, from_m));
    }
    /// What intersect(ray) meets, found faster when the hit is close behind `from_m`; nothing that stands still may be met
    /// before it.
    [[nodiscard]] GroundHit intersectNear(const Ray& ray, double from_m) const {
        return movers_.empty() ? nearStill(ray, from_m) : orMover(ray, 0.0, nearStill(ray, from_m));
    }
    /// As intersect, as if nothing moved over the place.
    [[nodiscard]] GroundHit intersectStill(const Ray& ray, double from_m = 0.0) const;
    /// No surface that stands still is higher within half a cell's width of a point, to east and north; at least 0, the plane
    /// beyond.
    [[nodiscard]] float highestAbout(double east, double north) const;

    /// True when something stands between the point and a light at infinity in `towards` (unit). The ray starts
    /// `lift_m()` along the normal above the point, because kept looks hold single-precision points.
    [[nodiscard]] bool blocked(const Vec3& point_m, const Vec3& normal, const Vec3& towards, double time_s = 0.0) const;
    /// The same for things that move alone.
    [[nodiscard]] bool blockedByMover(const Vec3& point_m, const Vec3& normal, const Vec3& towards, double time_s) const;
    /// True when the ray meets something that stands still within `length_m` of its origin.
    [[nodiscard]] bool blockedWithin(const Ray& ray, double length_m) const;
    /// What blocks the ray towards the light, and where, for drawing it and naming it; nothing when the way
    /// is free. The material is not filled in.
    [[nodiscard]] std::optional<GroundHit> blocking(const Vec3& point_m, const Vec3& normal, const Vec3& towards,
                                                    double time_s = 0.0) const;
    [[nodiscard]] double lift_m() const { return lift_; }

    /// The highest surface over each cell, objects included; transposed: (cell row, cell column).
    [[nodiscard]] const Raster<float>& highestCells() const { return pyramid_.front(); }
    [[nodiscard]] const Raster<float>& highestCellsTransposed() const { return transposed_; }
    /// The terrain's posts with rows and columns exchanged: (post row, post column).
    [[nodiscard]] const Raster<float>& postsTransposed() const { return posts_transposed_; }

    /// Share of the sky that a surface sees, weighted by the cosine on the surface: 1 on level open ground,
    /// (1 + cos slope) / 2 on a lone slope, less where terrain rises around it. How: ground_sky.cpp.
    [[nodiscard]] double skyShare(const Vec3& point_m, const Vec3& normal) const;

private:
    static constexpr double infinite = std::numeric_limits<double>::infinity();
    struct Found {
        double distance_m;
        Vec3 normal;
        int object;  // -1: terrain
        int column, row;
        bool side;
    };
    [[nodiscard]] std::optional<Found> find(const Ray& ray, double from_m, bool any, int start_level,
                                            double to_m = infinite) const;
    [[nodiscard]] GroundHit nearStill(const Ray& ray, double from_m) const;
    struct MetMover {
        std::size_t mover = 0;
        ObjectHit hit;
    };
    [[nodiscard]] std::optional<MetMover> meetMover(const Ray& ray, double from_m) const;
    [[nodiscard]] GroundHit orMover(const Ray& ray, double from_m, GroundHit still) const;
    void placeMovers();
    void placeObjects();
    void buildPyramid();
    void buildAbout();
    void buildHorizons();
    [[nodiscard]] std::optional<std::pair<double, double>> clip(const Ray& ray, double from_m) const;

    HeightField terrain_;
    Raster<std::uint8_t> materials_;
    std::vector<Object> objects_, movers_;
    double movers_least_m_ = 0.0, movers_most_m_ = 0.0;  // no part of a mover is met below or above
    std::vector<Paint> paints_;
    std::uint16_t beyond_material_ = 0;
    double highest_ = 0.0;
    double lift_ = 0.01;
    Raster<float> about_;                 // at every post, the highest of the cells around it
    Raster<float> transposed_;            // level 0 with rows and columns exchanged
    Raster<float> posts_transposed_;
    std::vector<Raster<float>> pyramid_;  // level k: highest surface over 2^k x 2^k cells, objects included
    // Objects by bins of 8 x 8 cells: ids in bin b are bin_objects_[bin_first_[b] .. bin_first_[b + 1]).
    std::vector<std::uint32_t> bin_first_;
    std::vector<std::uint32_t> bin_objects_;
    // Cosines of the horizon's zenith angles around the place, on a coarse grid: see ground_sky.cpp.
    int horizon_columns_ = 0, horizon_rows_ = 0;
    double horizon_spacing_m_ = 0.0;
    std::vector<float> horizons_;
};

}  // namespace linefall
