#include "figure/ground_view.h"

#include <algorithm>
#include <cmath>

namespace linefall {

void radianceSeen(const LitGround& light, std::span<const Ray> rays, std::span<const GroundHit> hits, std::span<RadianceRgb> radiance) {
    const std::size_t n = hits.size();
    std::vector<double> leaving(3 * n), height(n), air_mass(n, 1.0), scattering(n), transmission(n), haze(n);
    light.leaving(hits, leaving);
    const Sunlight& sun = light.sun();
    const double eye_height = rays.empty() ? 0.0 : rays[0].origin_m.z;
    for (std::size_t i = 0; i < n; ++i) {
        if (hits[i].meets == Meets::sky) continue;
        const Vec3 to_eye = -rays[i].direction;
        height[i] = hits[i].point_m.z;
        air_mass[i] = relativeAirMass(std::acos(std::clamp(std::abs(to_eye.z), 0.0, 1.0)));
        scattering[i] = -glm::dot(sun.towards, to_eye);
    }
    for (int band = 0; band < 3; ++band) {
        const auto b = static_cast<std::size_t>(band);
        const double irradiance = sun.irradiance_W_m2_um[b];
        light.air().up(band, eye_height, height, air_mass, scattering, transmission, haze);
        for (std::size_t i = 0; i < n; ++i) {
            if (hits[i].meets != Meets::sky) radiance[i][b] = leaving[b * n + i] * transmission[i] + irradiance * haze[i];
            else radiance[i][b] = sun.up() ? irradiance * light.air().skyRadiance(band, eye_height, rays[i].direction, sun.towards) : 0.0;
        }
    }
}

namespace {

/// What tells a pixel from its neighbours: another thing, another depth, another brightness.
struct Seen {
    int thing = -3;  ///< object, or -1 terrain, -2 beyond, -3 sky
    float depth_m = 0.0f, brightness = 0.0f;
};

bool differ(const Seen& a, const Seen& b) {
    if (a.thing != b.thing) return true;
    return std::abs(a.depth_m - b.depth_m) > 0.05f * std::min(a.depth_m, b.depth_m) || std::abs(a.brightness - b.brightness) > 0.06f;
}

Seen seen(const GroundHit& hit, const Colour& colour) {
    const int thing = hit.meets == Meets::sky ? -3 : hit.meets == Meets::beyond ? -2 : hit.object;
    return {thing, static_cast<float>(hit.meets == Meets::sky ? 1e9 : hit.distance_m), (0.3f * colour[0] + 0.6f * colour[1] + 0.1f * colour[2]) / 255.0f};
}

}  // namespace

Pixels groundView(const Scene& scene, const Camera& camera, int columns, int rows, double seconds, int threads, const Cancel* cancel,
                  const std::function<void(double)>& progress) {
    const Ground& ground = *scene.place->ground;
    const LitGround light(scene, worldBands(), seconds, true, threads);
    const RadianceRgb white = worldLight(scene, seconds).white;
    Pixels pixels{columns, rows, 3, std::vector<std::uint8_t>(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows) * 3)};
    std::vector<Seen> first(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    const auto cast = [&](const std::vector<Vec2>& points, std::vector<GroundHit>& hits, std::vector<RadianceRgb>& radiance) {
        std::vector<Ray> rays;
        hits.clear();
        for (const Vec2& p : points) {
            rays.push_back(camera.ray(p.x, p.y, columns, rows));
            rays.back().time_s = seconds;
            hits.push_back(ground.intersect(rays.back()));
        }
        radiance.assign(points.size(), RadianceRgb{});
        radianceSeen(light, rays, hits, radiance);
    };
    const auto put = [&](int column, int row, const Colour& colour) { std::copy_n(colour.begin(), 3, pixels.values.begin() + static_cast<std::ptrdiff_t>(pixels.at(column, row))); };
    const auto index = [&](int column, int row) { return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column); };
    // Rows are handed out in order, in two passes.
    const auto tell = [&](double pass, int row) {
        if (progress) progress(0.5 * (pass + static_cast<double>(row) / rows));
    };
    bool whole = parallelFor(rows, threads, [&](int row) {
        std::vector<Vec2> points;
        for (int column = 0; column < columns; ++column) points.emplace_back(column + 0.5, row + 0.5);
        std::vector<GroundHit> hits;
        std::vector<RadianceRgb> radiance;
        cast(points, hits, radiance);
        for (int column = 0; column < columns; ++column) {
            const auto i = static_cast<std::size_t>(column);
            const Colour colour = colourOf(radiance[i], white);
            put(column, row, colour);
            first[index(column, row)] = seen(hits[i], colour);
        }
        tell(0.0, row);
    }, cancel);
    // Where neighbours differ, four rays in the middles of the pixel's quarters; radiances are averaged, not colours.
    whole = whole && parallelFor(rows, threads, [&](int row) {
        std::vector<int> chosen;
        std::vector<Vec2> points;
        for (int column = 0; column < columns; ++column) {
            const Seen& own = first[index(column, row)];
            const bool edge = (column > 0 && differ(own, first[index(column - 1, row)])) || (column + 1 < columns && differ(own, first[index(column + 1, row)])) ||
                              (row > 0 && differ(own, first[index(column, row - 1)])) || (row + 1 < rows && differ(own, first[index(column, row + 1)]));
            if (!edge) continue;
            chosen.push_back(column);
            for (const Vec2& q : {Vec2{0.25, 0.25}, Vec2{0.75, 0.25}, Vec2{0.25, 0.75}, Vec2{0.75, 0.75}}) points.emplace_back(column + q.x, row + q.y);
        }
        std::vector<GroundHit> hits;
        std::vector<RadianceRgb> radiance;
        cast(points, hits, radiance);
        for (std::size_t k = 0; k < chosen.size(); ++k) {
            RadianceRgb mean{};
            for (std::size_t q = 0; q < 4; ++q) {
                for (std::size_t b = 0; b < 3; ++b) mean[b] += 0.25 * radiance[4 * k + q][b];
            }
            put(chosen[k], row, colourOf(mean, white));
        }
        tell(1.0, row);
    }, cancel);
    return whole ? pixels : Pixels{};
}

}  // namespace linefall
