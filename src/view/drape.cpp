#include "view/drape.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "base/constants.h"
#include "flight/lit_ground.h"
#include "physics/effects.h"
#include "physics/solar_spectrum.h"

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

/// Light of the core on one piece of surface: the same stages as in an image, without the air in front of the eye.
class SurfaceLight {
public:
    explicit SurfaceLight(const Scene& scene)
        : light_(worldLight(scene)), effects_(effectKeys().read(scene.settings)), ground_(*scene.place->ground) {
        for (const Band& band : worldBands()) {
            reflectance_.push_back(bandReflectances(scene.place->materials, solarSpectrum(), band));
        }
    }
    Colour operator()(const Vec3& point, const Vec3& normal, std::uint16_t material) const {
        const Vec3& sun = light_.sun.towards;
        const double cosine = effects_.slope_shading ? std::max(0.0, glm::dot(normal, sun)) : std::max(0.0, sun.z);
        const bool lit = light_.sun.up() && cosine > 0.0 && !(effects_.cast_shadow && ground_.blocked(point, normal, sun));
        const double sky_share = effects_.skylight ? ground_.skyShare(point, normal) : 0.0;
        RadianceRgb radiance{};
        for (int band = 0; band < 3; ++band) {
            const std::size_t b = static_cast<std::size_t>(band);
            double beam = 0.0, sky = 0.0;
            const double height = point.z;
            light_.air.down(band, std::span(&height, 1), std::span(&beam, 1), std::span(&sky, 1));
            const double irradiance = light_.sun.irradiance_W_m2_um[b] * ((lit ? beam * cosine : 0.0) + sky * sky_share);
            radiance[b] = reflectance_[b].at(material) * irradiance / constants::pi;
        }
        return colourOf(radiance, light_.white);
    }

private:
    WorldLight light_;
    EffectSettings effects_;
    const Ground& ground_;
    std::vector<std::vector<double>> reflectance_;
};

}  // namespace

Mesh makeObjects(const Scene& scene, std::size_t most_triangles, const Cancel* cancel) {
    const SurfaceLight light(scene);
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
