#include "flight/lit_ground.h"

#include <limits>

#include "flight/shared_reflectances.h"
#include "flight/shared_sun_field.h"
#include "physics/material.h"
#include "physics/solar_spectrum.h"
#include "physics/terrain.h"

namespace linefall {

namespace {

/// Room for the numbers of so many pieces, kept by each thread.
struct Work {
    std::vector<double> height, cosine, sun_share, sky_share, beam, sky, surface_beam, surface_sky, reflectance;
    void resize(std::size_t n) {
        for (std::vector<double>* v : {&height, &cosine, &sun_share, &sky_share, &beam, &sky, &surface_beam, &surface_sky, &reflectance}) v->assign(n, 0.0);
    }
};

}  // namespace

LitGround::LitGround(const Scene& scene, const std::vector<Band>& bands, double seconds, bool field, int threads)
    : ground_(*scene.place->ground), sun_(sunlight(sunKeys().read(scene.settings), scene.place->site, bands, seconds)),
      air_(airKeys().read(scene.settings), solarSpectrum(), bands, sun_.zenith_rad()), effects_(effectKeys().read(scene.settings)), movers_time_s_(seconds) {
    reflectances_ = sharedReflectances(scene.place, bands)->reflectances;
    if (!field) return;
    field_ = heldSunField(scene.place->ground, sun_.towards);
    if (!field_) field_ = std::make_shared<SunField>(ground_, sun_.towards, threads);
}

void LitGround::leaving(std::span<const GroundHit> hits, std::span<double> radiance) const {
    const std::size_t n = hits.size();
    static thread_local Work w;
    w.resize(n);
    for (std::size_t i = 0; i < n; ++i) {
        const GroundHit& hit = hits[i];
        if (hit.meets == Meets::sky) continue;
        w.height[i] = hit.point_m.z;
        w.cosine[i] = effects_.slope_shading ? glm::dot(hit.normal, sun_.towards) : sun_.towards.z;
        const bool faces = glm::dot(hit.normal, sun_.towards) > 0.0 && sun_.up();
        const auto blocked = [&] {
            if (movers_time_s_ && ground_.blockedByMover(hit.point_m, hit.normal, sun_.towards, *movers_time_s_)) return true;
            return field_ ? field_->blocked(hit.point_m, hit.normal)
                          : ground_.blockedWithin({hit.point_m + ground_.lift_m() * hit.normal, sun_.towards}, std::numeric_limits<double>::infinity());
        };
        w.sun_share[i] = !effects_.cast_shadow || (faces && !blocked()) ? 1.0 : 0.0;
        w.sky_share[i] = effects_.skylight ? ground_.skyShare(hit.point_m, hit.normal) : 0.0;
    }
    for (std::size_t b = 0; b < reflectances_.size(); ++b) {
        air_.down(static_cast<int>(b), w.height, w.beam, w.sky);
        for (double& value : w.beam) value *= sun_.irradiance_W_m2_um[b];
        for (double& value : w.sky) value *= sun_.irradiance_W_m2_um[b];
        tiltLight({w.beam, w.sky}, {w.cosine, w.sun_share, w.sky_share}, {w.surface_beam, w.surface_sky});
        for (std::size_t i = 0; i < n; ++i) w.reflectance[i] = hits[i].meets == Meets::sky ? 0.0 : reflectances_[b][hits[i].material];
        reflectLight({w.surface_beam, w.surface_sky}, w.reflectance, {radiance.subspan(b * n, n)});
    }
}

std::vector<Raster<float>> litGround(const Scene& scene, const std::vector<Band>& bands, const MapRequest& request, int threads,
                                     const Cancel* cancel) {
    const Ground& ground = *scene.place->ground;
    LitGround light(scene, bands, 0.0, true, threads);
    light.setMoversTime(request.movers_time_s);
    std::vector<Raster<float>> out(bands.size(), Raster<float>(request.columns, request.rows));
    const auto columns = static_cast<std::size_t>(request.columns);
    const double top = ground.highest_m() + 1.0;
    parallelFor(request.rows, threads, [&](int row) {
        std::vector<GroundHit> hits(columns);
        std::vector<double> leaving(columns * bands.size());
        const double north = request.north_m + (0.5 * request.rows - row - 0.5) * request.cell_m;
        for (std::size_t i = 0; i < columns; ++i) {
            const double east = request.east_m + (static_cast<double>(i) + 0.5 - 0.5 * request.columns) * request.cell_m;
            const Ray down{{east, north, top}, {0.0, 0.0, -1.0}, request.movers_time_s.value_or(0.0)};
            hits[i] = request.movers_time_s ? ground.intersect(down) : ground.intersectStill(down);
        }
        light.leaving(hits, leaving);
        for (std::size_t b = 0; b < bands.size(); ++b) {
            for (std::size_t i = 0; i < columns; ++i) out[b].at(static_cast<int>(i), row) = static_cast<float>(leaving[b * columns + i]);
        }
    }, cancel);
    return out;
}

}  // namespace linefall
