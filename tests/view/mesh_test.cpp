#include <catch2/catch.hpp>

#include <cmath>

#include "base/angle.h"
#include "view/mesh.h"

namespace linefall {

namespace {

HeightField hill() {
    Raster<float> posts(65, 65);
    for (int r = 0; r < 65; ++r) {
        for (int c = 0; c < 65; ++c) posts.at(c, r) = static_cast<float>(80.0 * std::exp(-((c - 32) * (c - 32) + (r - 20) * (r - 20)) / 90.0));
    }
    return HeightField(std::move(posts), 4.0);
}

Vec3 at(const Mesh& mesh, std::uint32_t i) {
    const MeshVertex& v = mesh.vertices[i];
    return {v.x_m, v.y_m, v.z_m};
}

}  // namespace

TEST_CASE("The terrain mesh lies on the terrain, covers it once and faces up") {
    const HeightField field = hill();
    const Mesh mesh = terrainMesh(field, 33);
    CHECK(mesh.vertices.size() == 33 * 33);
    CHECK(mesh.triangles.size() == 32 * 32 * 6);
    for (std::uint32_t i = 0; i < mesh.vertices.size(); ++i) {
        const Vec3 p = at(mesh, i);
        REQUIRE(p.z == Approx(field.heightAt(p.x, p.y)).margin(1e-4));
    }
    double area = 0.0;
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3) {
        const Vec3 a = at(mesh, mesh.triangles[i]), b = at(mesh, mesh.triangles[i + 1]), c = at(mesh, mesh.triangles[i + 2]);
        const double up = glm::cross(b - a, c - a).z;
        REQUIRE(up > 0.0);
        area += 0.5 * up;
    }
    CHECK(area == Approx(256.0 * 256.0).epsilon(1e-6));
}

TEST_CASE("The sea begins at the place's edge and never covers the place") {
    const HeightField field = hill();
    const Mesh sea = seaMesh(field, 5000.0, {10, 20, 30, 255}, {{200, 200, 200, 255}, {100, 100, 100, 255}});
    double nearest = 1e9, farthest = 0.0;
    for (std::uint32_t i = 0; i < sea.vertices.size(); ++i) {
        const Vec3 p = at(sea, i);
        REQUIRE(p.z == 0.0);
        nearest = std::min(nearest, std::max(std::abs(p.x), std::abs(p.y)));
        farthest = std::max(farthest, std::hypot(p.x, p.y));
    }
    CHECK(nearest == Approx(128.0).margin(1e-3));
    CHECK(farthest > 5000.0);
    CHECK(sea.vertices.front().red == 10);  // at the edge the sea's own colour, far away the sky's
    CHECK(sea.vertices.back().red >= 100);
}

TEST_CASE("Every face of every shape looks outward, and its corners lie on the object") {
    for (const Shape shape : {Shape::box, Shape::gable, Shape::pyramid, Shape::cone, Shape::cylinder, Shape::dome, Shape::wall}) {
        Object object;
        object.shape = shape;
        object.east_m = 40.0;
        object.north_m = -25.0;
        object.length_m = 24.0;
        object.width_m = shape == Shape::wall ? 1.0 : 12.0;
        object.height_m = 15.0;
        object.heading_rad = radiansFromDegrees(27.0);
        object.base_m = 100.0;
        object.foundation_m = 2.0;
        CAPTURE(std::string(nameOf(shape)));
        const Vec3 middle{40.0, -25.0, 103.0};
        int faces = 0;
        Mesh mesh;
        appendObject(mesh, object, 12, [&](const Vec3& point, const Vec3& normal, std::uint16_t) {
            ++faces;
            CHECK(glm::dot(point - middle, normal) > 0.0);
            CHECK(glm::length(normal) == Approx(1.0));
            return Colour{1, 2, 3, 255};
        });
        CHECK(faces >= 5);
        double top = 0.0;
        for (const MeshVertex& v : mesh.vertices) {
            top = std::max(top, static_cast<double>(v.z_m));
            CHECK(v.z_m >= 98.0f - 1e-3f);
            CHECK(std::hypot(v.x_m - 40.0, v.y_m + 25.0) <= object.radius_m() + 1e-3);
        }
        CHECK(top == Approx(115.0).margin(1e-3));
    }
}

}  // namespace linefall
