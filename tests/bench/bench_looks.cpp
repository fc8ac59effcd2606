// Looks and sun visibility against Embree on the same terrain: 1024 x 1024 posts of the island, no objects, 1024 x 1024
// looks of a push broom and of a whisk broom. Embree gets two triangles a cell, its best quality and coherent rays, and
// is tried one ray at a time and in packets of 4, 8 and 16; rays are made beforehand and not counted. Ours counts
// everything up to the kept look: rays, hit in double precision, normal, material and share of the sky.

#include <embree3/rtcore.h>

#include <array>
#include <cmath>
#include <cstring>
#include <functional>
#include <memory>

#include "base/angle.h"
#include "base/threads.h"
#include "bench.h"
#include "ground/sun_field.h"
#include "instruments/light_walk.h"
#include "instruments/looks.h"
#include "instruments/registry.h"
#include "scene/scene.h"

namespace linefall {

namespace {

constexpr int size = 1024;

/// The middle of the island: 1024 x 1024 posts at 4 m, without objects.
std::unique_ptr<Ground> middleOfIsland() {
    const auto place = loadPlace("island");
    const Raster<float>& all = place->ground->terrain().posts();
    const int margin_columns = (all.columns() - size) / 2;
    const int margin_rows = (all.rows() - size) / 2;
    Raster<float> posts(size, size);
    for (int row = 0; row < size; ++row) {
        for (int column = 0; column < size; ++column) posts.at(column, row) = all.at(column + margin_columns, row + margin_rows);
    }
    return std::make_unique<Ground>(HeightField(std::move(posts), 4.0), Raster<std::uint8_t>(), std::vector<Object>(), 0);
}

class Embree {
public:
    explicit Embree(const HeightField& terrain) {
        device_ = rtcNewDevice("threads=1");
        scene_ = rtcNewScene(device_);
        rtcSetSceneBuildQuality(scene_, RTC_BUILD_QUALITY_HIGH);
        RTCGeometry mesh = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(mesh, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 12, size * size));
        for (int row = 0; row < size; ++row) {
            for (int column = 0; column < size; ++column) {
                *vertices++ = static_cast<float>(terrain.west_m() + column * terrain.spacing_m());
                *vertices++ = static_cast<float>(terrain.south_m() + row * terrain.spacing_m());
                *vertices++ = terrain.posts().at(column, row);
            }
        }
        auto* indices = static_cast<unsigned*>(rtcSetNewGeometryBuffer(mesh, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 12,
                                                                       2 * (size - 1) * (size - 1)));
        for (unsigned row = 0; row + 1 < size; ++row) {
            for (unsigned column = 0; column + 1 < size; ++column) {
                const unsigned a = row * size + column;
                for (const unsigned index : {a, a + 1, a + size, a + 1, a + size + 1, a + size}) *indices++ = index;
            }
        }
        rtcCommitGeometry(mesh);
        rtcAttachGeometry(scene_, mesh);
        rtcReleaseGeometry(mesh);
        rtcCommitScene(scene_);
    }
    ~Embree() {
        rtcReleaseScene(scene_);
        rtcReleaseDevice(device_);
    }
    Embree(const Embree&) = delete;
    Embree& operator=(const Embree&) = delete;

    /// Traces rays [first, last) in packets of `width` (1, 4, 8, 16); `any`: visibility only. Returns the number that hit.
    std::size_t trace(const std::vector<Ray>& rays, std::size_t first, std::size_t last, int width, bool any) const {
        RTCIntersectContext context;
        rtcInitIntersectContext(&context);
        context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
        switch (width) {
            case 4: return packets<RTCRayHit4, RTCRay4, 4>(rays, first, last, any, context, rtcIntersect4, rtcOccluded4);
            case 8: return packets<RTCRayHit8, RTCRay8, 8>(rays, first, last, any, context, rtcIntersect8, rtcOccluded8);
            case 16: return packets<RTCRayHit16, RTCRay16, 16>(rays, first, last, any, context, rtcIntersect16, rtcOccluded16);
            default: break;
        }
        std::size_t hits = 0;
        for (std::size_t i = first; i < last; ++i) {
            RTCRayHit r{};
            fill(r.ray, rays[i]);
            r.hit.geomID = RTC_INVALID_GEOMETRY_ID;
            if (any) {
                rtcOccluded1(scene_, &context, &r.ray);
                hits += r.ray.tfar < 0.0f ? 1 : 0;
            } else {
                rtcIntersect1(scene_, &context, &r);
                hits += r.hit.geomID != RTC_INVALID_GEOMETRY_ID ? 1 : 0;
            }
        }
        return hits;
    }

private:
    static void fill(RTCRay& r, const Ray& ray) {
        r.org_x = static_cast<float>(ray.origin_m.x);
        r.org_y = static_cast<float>(ray.origin_m.y);
        r.org_z = static_cast<float>(ray.origin_m.z);
        r.dir_x = static_cast<float>(ray.direction.x);
        r.dir_y = static_cast<float>(ray.direction.y);
        r.dir_z = static_cast<float>(ray.direction.z);
        r.tnear = 0.0f;
        r.tfar = 1e9f;
        r.mask = 0xFFFFFFFFu;
    }
    template <class Hit, class Rays, int width, class Intersect, class Occluded>
    std::size_t packets(const std::vector<Ray>& rays, std::size_t first, std::size_t last, bool any, RTCIntersectContext& context,
                        Intersect intersect, Occluded occluded) const {
        std::size_t hits = 0;
        alignas(64) std::array<int, width> valid;
        for (std::size_t i = first; i < last; i += width) {
            alignas(64) Hit r{};
            for (int k = 0; k < width; ++k) {
                const std::size_t at = std::min(i + static_cast<std::size_t>(k), last - 1);
                valid[static_cast<std::size_t>(k)] = i + static_cast<std::size_t>(k) < last ? -1 : 0;
                RTCRay one{};
                fill(one, rays[at]);
                r.ray.org_x[k] = one.org_x;
                r.ray.org_y[k] = one.org_y;
                r.ray.org_z[k] = one.org_z;
                r.ray.dir_x[k] = one.dir_x;
                r.ray.dir_y[k] = one.dir_y;
                r.ray.dir_z[k] = one.dir_z;
                r.ray.tnear[k] = 0.0f;
                r.ray.tfar[k] = 1e9f;
                r.ray.mask[k] = 0xFFFFFFFFu;
                r.hit.geomID[k] = RTC_INVALID_GEOMETRY_ID;
            }
            if (any) occluded(valid.data(), scene_, &context, &r.ray);
            else intersect(valid.data(), scene_, &context, &r);
            for (int k = 0; k < width; ++k) {
                if (valid[static_cast<std::size_t>(k)] == 0) continue;
                hits += any ? (r.ray.tfar[k] < 0.0f ? 1 : 0) : (r.hit.geomID[k] != RTC_INVALID_GEOMETRY_ID ? 1 : 0);
            }
        }
        return hits;
    }

    RTCDevice device_ = nullptr;
    RTCScene scene_ = nullptr;
};

/// Millions of rays a second of Embree's best packet width, and which it was.
std::pair<double, int> bestOf(const Embree& embree, const std::vector<Ray>& rays, bool any, int threads, int runs, bool packets) {
    std::pair<double, int> best{0.0, 1};
    const std::vector<int> widths = packets ? std::vector<int>{4, 8, 16} : std::vector<int>{1};
    const std::size_t chunk = size;
    for (const int width : widths) {
        const double seconds = medianSeconds(runs, [&] {
            parallelFor(static_cast<int>(rays.size() / chunk), threads, [&](int i) {
                const std::size_t first = static_cast<std::size_t>(i) * chunk;
                (void)embree.trace(rays, first, first + chunk, width, any);
            });
        });
        const double rate = static_cast<double>(rays.size()) / seconds / 1e6;
        if (rate > best.first) best = {rate, width};
    }
    return best;
}

void compare(const std::string& kind, const std::vector<std::string>& sets, double heading_deg, const Ground& ground,
             const Embree& embree, int runs, std::vector<BenchRow>& rows) {
    SceneRequest request;
    request.place = "slopes";
    request.needs_ground = false;
    request.instruments = {kind};
    request.sets = sets;
    request.sets.insert(request.sets.end(), {"flight.height=2050 m", "flight.length=4200 m",
                                             "flight.heading=" + std::to_string(heading_deg) + " deg"});
    const double heading = radiansFromDegrees(heading_deg);
    request.sets.push_back("flight.start_east=" + std::to_string(-2000.0 * std::sin(heading)) + " m");
    request.sets.push_back("flight.start_north=" + std::to_string(-2000.0 * std::cos(heading)) + " m");
    const Scene scene = loadScene(request);
    Problems problems;
    const auto instrument = makeInstrument(scene, 0, problems);
    const Motion motion(scene.flightSettings());
    const int lines = std::min(size, instrument->lines());
    const std::vector<Offset> offsets{Offset{}};
    std::vector<Ray> rays;
    for (int line = 0; line < lines; ++line) {
        for (int s = 0; s < instrument->samples(); ++s) rays.push_back(lookRay(*instrument, motion, Offset{}, LookManner{}, line, s));
    }
    const double elevation = radiansFromDegrees(30.0);
    const double azimuth = radiansFromDegrees(128.0);
    const Vec3 sun{std::cos(elevation) * std::sin(azimuth), std::cos(elevation) * std::cos(azimuth), std::sin(elevation)};
    const std::string where = kind + ", heading " + std::to_string(static_cast<int>(heading_deg)) + " deg";
    for (const int threads : {1, 2}) {
        std::vector<LineLooks> kept(static_cast<std::size_t>(lines));
        const double seconds = medianSeconds(runs, [&] {
            parallelFor(lines, threads, [&](int line) {
                lookBack(*instrument, motion, ground, offsets, LookManner{}, line, kept[static_cast<std::size_t>(line)]);
            });
        });
        const double rate = static_cast<double>(rays.size()) / seconds / 1e6;
        const auto single = bestOf(embree, rays, false, threads, runs, false);
        const auto packet = bestOf(embree, rays, false, threads, runs, true);
        rows.push_back({"looks, " + where, "kept looks", rate, "Embree, one ray at a time", single.first, "million/s", true, threads});
        rows.push_back({"looks, " + where, "kept looks", rate, "Embree, packets of " + std::to_string(packet.second), packet.first, "million/s", true, threads});

        // Sun visibility of the points just looked at that face the sun.
        std::vector<Ray> to_sun;
        std::array<std::vector<float>, 6> facing;  // point and normal, as kept
        for (const LineLooks& line : kept) {
            for (std::size_t i = 0; i < line.meets.size(); ++i) {
                const Vec3 normal(line.nx[i], line.ny[i], line.nz[i]);
                if (line.meets[i] != Meets::terrain || glm::dot(normal, sun) <= 0.0) continue;
                const Vec3 point(line.x_m[i], line.y_m[i], line.z_m[i]);
                const std::array<float, 6> numbers{line.x_m[i], line.y_m[i], line.z_m[i], line.nx[i], line.ny[i], line.nz[i]};
                for (std::size_t k = 0; k < numbers.size(); ++k) facing[k].push_back(numbers[k]);
                to_sun.push_back({point + ground.lift_m() * normal, sun});
            }
        }
        const std::size_t usable = to_sun.size() / size * size;
        to_sun.resize(usable);
        std::vector<std::uint8_t> seen(usable);
        const double sun_seconds = medianSeconds(runs, [&] {
            const SunField field(ground, sun, threads);  // building it is counted
            parallelFor(static_cast<int>(usable / size), threads, [&](int chunk) {
                const std::size_t first = static_cast<std::size_t>(chunk) * size;
                const auto part = [&](std::size_t k) { return std::span<const float>(facing[k]).subspan(first, size); };
                const std::span<std::uint8_t> out = std::span(seen).subspan(first, size);
                std::fill(out.begin(), out.end(), std::uint8_t{1});
                field.look({part(0), part(1), part(2), part(3), part(4), part(5)}, out);
            });
        });
        const double sun_rate = static_cast<double>(usable) / sun_seconds / 1e6;
        const auto sun_single = bestOf(embree, to_sun, true, threads, runs, false);
        const auto sun_packet = bestOf(embree, to_sun, true, threads, runs, true);
        rows.push_back({"sun visibility at 30 deg, " + where, "field and exact walk", sun_rate, "Embree, one ray at a time", sun_single.first, "million/s", true, threads});
        rows.push_back({"sun visibility at 30 deg, " + where, "field and exact walk", sun_rate, "Embree, packets of " + std::to_string(sun_packet.second), sun_packet.first, "million/s", true, threads});
    }
}

}  // namespace

void benchLooks(std::vector<BenchRow>& rows, bool quick) {
    const std::unique_ptr<Ground> ground = middleOfIsland();
    const Embree embree(ground->terrain());
    const int runs = quick ? 1 : 5;
    const std::vector<std::string> push{"instrument.samples=1024", "instrument.focal_length=5.12 mm", "instrument.detector_pitch=10 um"};
    const std::vector<std::string> whisk{"instrument.samples=1024", "instrument.ifov=0.0015339 rad"};
    compare("push-broom", push, 180.0, *ground, embree, runs, rows);
    compare("push-broom", push, 157.0, *ground, embree, runs, rows);
    compare("whisk-broom", whisk, 157.0, *ground, embree, runs, rows);
}

}  // namespace linefall
