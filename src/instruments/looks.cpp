#include "instruments/looks.h"

#include <cmath>

namespace linefall {

namespace {

void keep(const GroundHit& hit, const Ground& ground, std::size_t i, LineLooks& out) {
    out.x_m[i] = static_cast<float>(hit.point_m.x);
    out.y_m[i] = static_cast<float>(hit.point_m.y);
    out.z_m[i] = static_cast<float>(hit.point_m.z);
    out.nx[i] = static_cast<float>(hit.normal.x);
    out.ny[i] = static_cast<float>(hit.normal.y);
    out.nz[i] = static_cast<float>(hit.normal.z);
    out.sky_share[i] = hit.meets == Meets::sky ? 0.0f : static_cast<float>(ground.skyShare(hit.point_m, hit.normal));
    out.material[i] = hit.material;
    out.meets[i] = hit.meets;
}

/// A line whose rays lie in one vertical plane through one origin: walking away from the nadir, no ray can meet the
/// ground nearer than the ray before it did, since it runs above it. Each search begins there.
bool lookBackFan(const Instrument& instrument, const Motion& motion, const Ground& ground, const Offset& offset, double lean,
                 int line, LineLooks& out) {
    const int samples = instrument.samples();
    const Pose pose = motion.at(instrument.lookTime_s(line, 0, offset.dwell_share));
    const Vec3 normal = pose.world_from_platform[0];  // forward: the plane's normal
    if (normal.z != 0.0 || lean != 1.0 || offset.along != 0.0) return false;
    const Vec3 level{-normal.y, normal.x, 0.0};
    std::vector<Ray> rays(static_cast<std::size_t>(samples));
    int nearest = 0;
    double least = 2.0;
    for (int s = 0; s < samples; ++s) {
        const Vec3 d = pose.world_from_platform * instrument.look(line, s, offset).direction;
        rays[static_cast<std::size_t>(s)] = {pose.position_m, d};
        if (d.z >= 0.0) return false;
        const double run = std::abs(glm::dot(d, level) / d.z);
        if (run < least || s == 0) {
            least = run;
            nearest = s;
        }
    }
    const auto walk = [&](int first, int step) {
        double reached = 0.0;  // horizontal distance from the nadir
        for (int s = first; s >= 0 && s < samples; s += step) {
            const Ray& ray = rays[static_cast<std::size_t>(s)];
            const double run = std::abs(glm::dot(ray.direction, level));
            const double from = run > 0.0 ? reached / run * (1.0 - 1e-12) : 0.0;
            const GroundHit hit = ground.intersect(ray, from, from > 0.0);
            keep(hit, ground, static_cast<std::size_t>(s), out);
            if (hit.meets != Meets::sky) reached = std::max(reached, hit.distance_m * run);
        }
    };
    walk(nearest, 1);
    walk(nearest - 1, -1);
    return true;
}

}  // namespace

void LineLooks::resize(int sample_count, int contribution_count) {
    samples = sample_count;
    contributions = contribution_count;
    const std::size_t n = static_cast<std::size_t>(sample_count) * static_cast<std::size_t>(contribution_count);
    for (std::vector<float>* v : {&x_m, &y_m, &z_m, &nx, &ny, &nz, &sky_share}) v->resize(n);
    material.resize(n);
    meets.resize(n);
}

Ray leaned(const Ray& ray, double lean) {
    if (lean == 1.0 || ray.direction.z >= 0.0) return ray;
    const double to_datum = -ray.origin_m.z / ray.direction.z;
    const Vec3 at_datum = ray.at(to_datum);
    const Vec3 direction = glm::normalize(Vec3{lean * ray.direction.x, lean * ray.direction.y, ray.direction.z});
    // Start at the same height as before, so that distances stay those of a ray from flying height.
    return {at_datum + direction * (ray.origin_m.z / direction.z), direction};
}

Ray lookRay(const Instrument& instrument, const Motion& motion, const Offset& offset, double lean, bool sweep_motion, int line,
            int sample) {
    const PlatformLook look = instrument.look(line, sample, offset);
    const Pose pose = motion.at(sweep_motion ? look.time_s : instrument.lineTime_s(line));
    return leaned({pose.position_m, pose.world_from_platform * look.direction}, lean);
}

void lookBack(const Instrument& instrument, const Motion& motion, const Ground& ground, std::span<const Offset> offsets,
              double lean, bool sweep_motion, int line, LineLooks& out) {
    const int n = static_cast<int>(offsets.size());
    out.resize(instrument.samples(), n);
    if (n == 1 && instrument.lineIsFan() && lookBackFan(instrument, motion, ground, offsets[0], lean, line, out)) return;
    std::size_t i = 0;
    for (int sample = 0; sample < instrument.samples(); ++sample) {
        for (const Offset& offset : offsets) {
            keep(ground.intersect(lookRay(instrument, motion, offset, lean, sweep_motion, line, sample)), ground, i++, out);
        }
    }
}

}  // namespace linefall
