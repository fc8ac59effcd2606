#include "view/moving_things.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace linefall {

namespace {

constexpr double most_squares = 6000.0;    // of all shadows: about 2 ms
constexpr double longest_shadow_m = 400.0;  // shown
constexpr double over_ground_m = 0.3;       // so that the drawn ground does not cover its shadow

}  // namespace

MovingThings::MovingThings(const Scene& scene)
    : place_(scene.place), light_(scene, worldBands()), white_(worldLight(scene).white), shadows_(effectKeys().read(scene.settings).cast_shadow) {}

Colour MovingThings::colourOf(const GroundHit& hit) const {
    RadianceRgb radiance{};
    light_.leaving(std::span(&hit, 1), radiance);
    return linefall::colourOf(radiance, white_);
}

Mesh MovingThings::at(double time_s) {
    Mesh mesh;
    const Ground& ground = *place_->ground;
    light_.setMoversTime(time_s);
    for (std::size_t i = 0; i < ground.movers().size(); ++i) {
        const Object thing = ground.moverAt(i, time_s);
        appendObject(mesh, thing, 16, [&](const Vec3& point, const Vec3& normal, std::uint16_t material) {
            GroundHit hit;
            hit.meets = Meets::object;
            hit.point_m = point;
            hit.normal = normal;
            hit.material = material;
            return colourOf(hit);
        });
        if (shadows_ && light_.sun().up()) appendShadow(mesh, thing);
    }
    return mesh;
}

void MovingThings::appendShadow(Mesh& mesh, const Object& thing) const {
    const Ground& ground = *place_->ground;
    const Vec3& sun = light_.sun().towards;
    const double level = std::hypot(sun.x, sun.y);
    // Twice the height of the thing, since the ground may fall away from it.
    const double reach = thing.radius_m(), length = std::min(longest_shadow_m, 2.0 * thing.height_m * level / sun.z);
    const Vec2 away = level > 0.0 ? Vec2{-sun.x, -sun.y} / level : Vec2{0.0, 1.0}, across{away.y, -away.x};
    const double share = most_squares / static_cast<double>(ground.movers().size());
    const double square = std::max(0.5, std::sqrt((2.0 * reach + length) * 2.0 * reach / share));
    const int rows = static_cast<int>(std::ceil((2.0 * reach + length) / square)), columns = static_cast<int>(std::ceil(2.0 * reach / square));
    const double top = ground.highest_m() + 1.0;
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const auto corner = [&](double r, double c) { return Vec2{thing.east_m, thing.north_m} + (-reach + r * square) * away + (-reach + c * square) * across; };
            const Vec2 middle = corner(row + 0.5, column + 0.5);
            const GroundHit hit = ground.intersectStill({{middle.x, middle.y, top}, {0.0, 0.0, -1.0}});
            if (hit.meets == Meets::object || glm::dot(hit.normal, sun) <= 0.0) continue;
            if (thing.surfaceOver(middle.x, middle.y)) continue;  // under the thing itself
            // Of this thing alone, and not where something that stands still shades the ground already.
            if (!intersect(thing, {hit.point_m + ground.lift_m() * hit.normal, sun}) || ground.blockedWithin({hit.point_m + ground.lift_m() * hit.normal, sun}, 1e9)) continue;
            const Colour colour = colourOf(hit);
            const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
            for (const Vec2& p : {corner(row, column), corner(row, column + 1), corner(row + 1, column + 1), corner(row + 1, column)}) {
                const double height = (ground.terrain().contains(p.x, p.y) ? ground.terrain().heightAt(p.x, p.y) : 0.0) + over_ground_m;
                mesh.vertices.push_back({static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(height), colour[0], colour[1], colour[2], colour[3]});
            }
            for (const std::uint32_t k : {0u, 1u, 2u, 0u, 2u, 3u}) mesh.triangles.push_back(first + k);
        }
    }
}

}  // namespace linefall
