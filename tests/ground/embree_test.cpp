// The ground against an independent ray tracer, Embree, on the same terrain diced into triangles.
#include <catch2/catch.hpp>
#include <embree3/rtcore.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "ground/ground.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

constexpr int dice = 8;  // triangles along a cell's side

/// A bilinear terrain cut into small triangles, traced by Embree in single precision.
class Diced {
public:
    explicit Diced(const HeightField& field) : device_(rtcNewDevice("threads=1")), scene_(rtcNewScene(device_)) {
        rtcSetSceneFlags(scene_, RTC_SCENE_FLAG_ROBUST);
        const unsigned columns = static_cast<unsigned>(field.cellColumns() * dice + 1);
        const unsigned rows = static_cast<unsigned>(field.cellRows() * dice + 1);
        RTCGeometry mesh = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* points = static_cast<float*>(rtcSetNewGeometryBuffer(mesh, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                                                   3 * sizeof(float), std::size_t{columns} * rows));
        for (unsigned row = 0; row < rows; ++row) {
            for (unsigned column = 0; column < columns; ++column) {
                const double east = field.west_m() + column * field.spacing_m() / dice;
                const double north = field.south_m() + row * field.spacing_m() / dice;
                *points++ = static_cast<float>(east);
                *points++ = static_cast<float>(north);
                *points++ = static_cast<float>(field.heightAt(east, north));
            }
        }
        auto* corners = static_cast<unsigned*>(rtcSetNewGeometryBuffer(
            mesh, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof(unsigned), std::size_t{columns - 1} * (rows - 1) * 2));
        for (unsigned row = 0; row + 1 < rows; ++row) {
            for (unsigned column = 0; column + 1 < columns; ++column) {
                const unsigned a = row * columns + column;
                for (const unsigned corner : {a, a + 1, a + columns, a + columns + 1, a + columns, a + 1}) *corners++ = corner;
            }
        }
        rtcCommitGeometry(mesh);
        rtcAttachGeometry(scene_, mesh);
        rtcReleaseGeometry(mesh);
        rtcCommitScene(scene_);
    }
    Diced(const Diced&) = delete;
    Diced& operator=(const Diced&) = delete;
    ~Diced() {
        rtcReleaseScene(scene_);
        rtcReleaseDevice(device_);
    }

    /// Distance to the first triangle, or infinity.
    [[nodiscard]] double distance(const Ray& ray) const {
        RTCIntersectContext context;
        rtcInitIntersectContext(&context);
        RTCRayHit query{};
        query.ray.org_x = static_cast<float>(ray.origin_m.x);
        query.ray.org_y = static_cast<float>(ray.origin_m.y);
        query.ray.org_z = static_cast<float>(ray.origin_m.z);
        query.ray.dir_x = static_cast<float>(ray.direction.x);
        query.ray.dir_y = static_cast<float>(ray.direction.y);
        query.ray.dir_z = static_cast<float>(ray.direction.z);
        query.ray.tfar = std::numeric_limits<float>::infinity();
        query.ray.mask = 0xffffffffu;
        query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
        rtcIntersect1(scene_, &context, &query);
        return query.hit.geomID == RTC_INVALID_GEOMETRY_ID ? std::numeric_limits<double>::infinity()
                                                           : static_cast<double>(query.ray.tfar);
    }

private:
    RTCDevice device_;
    RTCScene scene_;
};

}  // namespace

TEST_CASE("rays end where an independent ray tracer ends them") {
    const HeightField field = test::roughTerrain(65, 65, 4.0, 15.0, 21);
    const Ground ground(field, {}, {}, 0);
    const Diced diced(field);
    // A cell's bend e = h00 - h10 - h01 + h11 is at most this; two triangles of a diced square leave its surface by at
    // most e / (4 dice^2).
    double bend = 0.0;
    for (int row = 0; row < field.cellRows(); ++row) {
        for (int column = 0; column < field.cellColumns(); ++column) {
            bend = std::max(bend, std::abs(field.post_m(column, row) - field.post_m(column + 1, row) -
                                           field.post_m(column, row + 1) + field.post_m(column + 1, row + 1)));
        }
    }
    const double cut_m = bend / (4.0 * dice * dice);

    const int rays = test::effort(200000);
    int grazing = 0;
    int hits = 0;
    double worst = 0.0;
    for (int i = 0; i < rays; ++i) {
        Draws draws(31, static_cast<std::uint32_t>(i));
        const double east = draws.between(0.95 * field.west_m(), 0.95 * field.east_m());
        const double north = draws.between(0.95 * field.south_m(), 0.95 * field.north_m());
        const double tilt = draws.between(0.0, 1.2);
        const double azimuth = draws.between(0.0, 2.0 * constants::pi);
        const Vec3 up{std::sin(tilt) * std::sin(azimuth), std::sin(tilt) * std::cos(azimuth), std::cos(tilt)};
        const Ray ray{Vec3{east, north, field.heightAt(east, north)} + 500.0 * up, -up};
        const GroundHit hit = ground.intersect(ray);
        const double other = diced.distance(ray);
        if (hit.meets != Meets::terrain) continue;  // it passed a lower place outside
        ++hits;
        // A height off by cut_m moves the hit by cut_m over the cosine of the local incidence; a grazing ray may pass or
        // strike a crest by that much.
        const double cosine = -glm::dot(hit.normal, ray.direction);
        const double difference = std::abs(hit.distance_m - other);
        if (difference > 4.0 * (cut_m + 1e-3) / std::max(cosine, 0.05)) ++grazing;
        else worst = std::max(worst, difference * cosine);
    }
    INFO("diced to " << cut_m << " m, worst " << worst << " m off the surface, " << grazing << " grazing of " << hits);
    CHECK(hits > rays * 9 / 10);
    CHECK(grazing <= hits / 500);
}
