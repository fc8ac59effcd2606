#include "flight/lit_ground.h"

#include "flight/shared_sun_field.h"
#include "physics/atmosphere.h"
#include "physics/effects.h"
#include "physics/solar_spectrum.h"
#include "physics/terrain.h"

namespace linefall {

std::vector<Raster<float>> litGround(const Scene& scene, const std::vector<Band>& bands, const MapRequest& request, int threads,
                                     const Cancel* cancel) {
    const Ground& ground = *scene.place->ground;
    const Sunlight sun = sunlight(sunKeys().read(scene.settings), scene.place->site, bands);
    const Air air(airKeys().read(scene.settings), solarSpectrum(), bands, sun.zenith_rad());
    const EffectSettings effects = effectKeys().read(scene.settings);
    std::vector<std::vector<double>> reflectances;
    for (const Band& band : bands) reflectances.push_back(bandReflectances(scene.place->materials, solarSpectrum(), band));
    std::vector<Raster<float>> out(bands.size(), Raster<float>(request.columns, request.rows));
    const auto columns = static_cast<std::size_t>(request.columns);
    const double top = ground.highest_m() + 1.0;
    auto field = heldSunField(scene.place->ground, sun.towards);
    if (!field) field = std::make_shared<SunField>(ground, sun.towards, threads);
    parallelFor(request.rows, threads, [&](int row) {
        std::vector<double> height(columns), cosine(columns), sun_share(columns), sky_share(columns);
        std::vector<double> beam(columns), sky(columns), surface_beam(columns), surface_sky(columns), reflectance(columns), leaving(columns);
        std::vector<std::uint16_t> material(columns);
        const double north = request.north_m + (0.5 * request.rows - row - 0.5) * request.cell_m;
        for (std::size_t i = 0; i < columns; ++i) {
            const double east = request.east_m + (static_cast<double>(i) + 0.5 - 0.5 * request.columns) * request.cell_m;
            const GroundHit hit = ground.intersect({{east, north, top}, {0.0, 0.0, -1.0}});
            height[i] = hit.point_m.z;
            cosine[i] = effects.slope_shading ? glm::dot(hit.normal, sun.towards) : sun.towards.z;
            const bool faces = glm::dot(hit.normal, sun.towards) > 0.0 && sun.up();
            sun_share[i] = !effects.cast_shadow || (faces && !field->blocked(hit.point_m, hit.normal)) ? 1.0 : 0.0;
            sky_share[i] = effects.skylight ? ground.skyShare(hit.point_m, hit.normal) : 0.0;
            material[i] = hit.material;
        }
        for (std::size_t b = 0; b < bands.size(); ++b) {
            air.down(static_cast<int>(b), height, beam, sky);
            for (double& value : beam) value *= sun.irradiance_W_m2_um[b];
            for (double& value : sky) value *= sun.irradiance_W_m2_um[b];
            tiltLight({beam, sky}, {cosine, sun_share, sky_share}, {surface_beam, surface_sky});
            for (std::size_t i = 0; i < columns; ++i) reflectance[i] = reflectances[b][material[i]];
            reflectLight({surface_beam, surface_sky}, reflectance, {leaving});
            for (std::size_t i = 0; i < columns; ++i) out[b].at(static_cast<int>(i), row) = static_cast<float>(leaving[i]);
        }
    }, cancel);
    return out;
}

}  // namespace linefall
