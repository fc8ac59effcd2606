#pragma once
// Where an instrument looks, resolved from a scene alone: no line need be formed, and any thread may ask.

#include <memory>
#include <optional>
#include <vector>

#include "flight/picture_place.h"
#include "instruments/looks.h"
#include "scene/scene.h"

namespace linefall {

/// Instrument, motion and manner of looking of one craft. Immutable.
class Aim {
public:
    /// Throws InputError when the scene's instrument or flight cannot be.
    Aim(const Scene& scene, std::size_t instrument);

    [[nodiscard]] const Instrument& instrument() const { return *instrument_; }
    [[nodiscard]] const Motion& motion() const { return motion_; }
    [[nodiscard]] const LookManner& manner() const { return manner_; }
    [[nodiscard]] const PlaceData& place() const { return *place_; }
    [[nodiscard]] const Ground& ground() const { return *place_->ground; }
    [[nodiscard]] int samples() const { return instrument_->samples(); }
    [[nodiscard]] int lines() const { return instrument_->lines(); }
    [[nodiscard]] Ray ray(int line, int sample, const Offset& offset = {}) const {
        return lookRay(*instrument_, motion_, offset, manner_, line, sample);
    }

private:
    std::shared_ptr<const PlaceData> place_;
    std::unique_ptr<Instrument> instrument_;
    Motion motion_;
    LookManner manner_;
};

/// Where a ray that goes down meets a level plane; nothing when it does not, or begins below the plane.
[[nodiscard]] inline std::optional<Vec2> meetsLevel(const Ray& ray, double height_m) {
    if (ray.direction.z >= 0.0 || ray.origin_m.z < height_m) return std::nullopt;
    const Vec3 p = ray.at((height_m - ray.origin_m.z) / ray.direction.z);
    return Vec2{p.x, p.y};
}

/// A patch between four corners: a + u (b - a) + v (c - a) + u v (a - b - c + d).
struct Quad {
    Vec2 a{0.0}, b{0.0}, c{0.0}, d{0.0};
    [[nodiscard]] Vec2 at(double u, double v) const { return a + u * (b - a) + v * (c - a) + u * v * (a - b - c + d); }
    /// Twice the signed area of the corner triangle at a.
    [[nodiscard]] double turn() const { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }
};
/// u and v of a point, by Newton's method to 1e-12; may lie outside 0 .. 1. Nothing for a patch without area.
[[nodiscard]] std::optional<Vec2> placeInQuad(const Quad& quad, const Vec2& point);

}  // namespace linefall
