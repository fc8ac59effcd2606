#include "view/drape.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "base/constants.h"
#include "flight/lit_ground.h"

namespace linefall {

Drape makeDrape(const Scene& scene, int side, int threads, const Cancel* cancel) {
    const WorldLight light = worldLight(scene);
    const HeightField& terrain = scene.place->ground->terrain();
    const double width = terrain.east_m() - terrain.west_m();
    const double height = terrain.north_m() - terrain.south_m();
    MapRequest request;
    request.cell_m = std::max(width, height) / side;
    request.columns = request.rows = side;
    const std::vector<Raster<float>> lit = litGround(scene, worldBands(), request, threads, cancel);
    Drape drape;
    if (lit.size() < 3 || (cancel != nullptr && *cancel)) return drape;
    drape.side = side;
    drape.rgba.resize(static_cast<std::size_t>(side) * static_cast<std::size_t>(side) * 4);
    std::size_t at = 0;
    for (int row = side - 1; row >= 0; --row) {
        for (int column = 0; column < side; ++column, at += 4) {
            const Colour colour = colourOf({lit[0].at(column, row), lit[1].at(column, row), lit[2].at(column, row)}, light.white);
            std::copy(colour.begin(), colour.end(), drape.rgba.begin() + static_cast<std::ptrdiff_t>(at));
        }
    }
    MapRequest outside;
    outside.east_m = terrain.east_m() + 2.0 * width;
    outside.columns = outside.rows = 1;
    const std::vector<Raster<float>> far = litGround(scene, worldBands(), outside, 1, cancel);
    if (far.size() >= 3) drape.beyond = colourOf({far[0].at(0, 0), far[1].at(0, 0), far[2].at(0, 0)}, light.white);
    RadianceRgb mean{};
    constexpr int directions = 32;
    for (int i = 0; i < directions; ++i) {
        const double azimuth = 2.0 * constants::pi * i / directions;
        const RadianceRgb seen = skyRadianceRgb(light, sky_eye_m, Vec3{std::sin(azimuth), std::cos(azimuth), 0.0});
        for (std::size_t b = 0; b < 3; ++b) mean[b] += seen[b] / directions;
        drape.horizon.push_back(colourOf(seen, light.white));
    }
    drape.haze = colourOf(mean, light.white);
    return drape;
}

namespace {

/// The core's light on one piece of surface, as a colour.
class SurfaceColours {
public:
    explicit SurfaceColours(const Scene& scene) : light_(scene, worldBands()), white_(worldLight(scene).white) {}
    Colour operator()(const Vec3& point, const Vec3& normal, std::uint16_t material) const {
        GroundHit hit;
        hit.meets = Meets::object;
        hit.point_m = point;
        hit.normal = normal;
        hit.material = material;
        RadianceRgb radiance{};
        light_.leaving(std::span(&hit, 1), radiance);
        return colourOf(radiance, white_);
    }

private:
    LitGround light_;
    RadianceRgb white_;
};

}  // namespace

Mesh makeObjects(const Scene& scene, std::size_t most_triangles, const Cancel* cancel) {
    const SurfaceColours light(scene);
    const SurfaceColour colour = [&light](const Vec3& p, const Vec3& n, std::uint16_t m) { return light(p, n, m); };
    // The largest first: they are what is seen from afar.
    const std::span<const Object> objects = scene.place->ground->objects();
    std::vector<const Object*> order;
    order.reserve(objects.size());
    for (const Object& object : objects) order.push_back(&object);
    const auto bulk = [](const Object* o) { return o->height_m * o->radius_m(); };
    std::stable_sort(order.begin(), order.end(), [&](const Object* a, const Object* b) { return bulk(a) > bulk(b); });
    Mesh mesh;
    for (const Object* object : order) {
        if (cancel != nullptr && *cancel) return {};
        if (mesh.triangles.size() / 3 >= most_triangles) break;
        appendObject(mesh, *object, object->radius_m() > 12.0 ? 16 : 6, colour);
    }
    return mesh;
}

}  // namespace linefall
