#include <catch2/catch.hpp>

#include <cmath>

#include "base/angle.h"
#include "view/camera.h"

namespace linefall {

namespace {

Camera someCamera() {
    Camera camera;
    camera.target_m = {100.0, -200.0, 300.0};
    camera.distance_m = 5000.0;
    camera.azimuth_rad = radiansFromDegrees(33.0);
    camera.elevation_rad = radiansFromDegrees(24.0);
    return camera;
}

}  // namespace

TEST_CASE("The camera's axes are level, upright and at right angles") {
    const Camera camera = someCamera();
    CHECK(glm::dot(camera.forward(), camera.right()) == Approx(0.0).margin(1e-12));
    CHECK(glm::dot(camera.forward(), camera.up()) == Approx(0.0).margin(1e-12));
    CHECK(camera.right().z == 0.0);
    CHECK(camera.up().z > 0.0);
    CHECK(glm::length(camera.up()) == Approx(1.0));
    // Looking north the east is on the right.
    Camera north;
    CHECK(north.right().x == Approx(1.0));
    CHECK(north.forward().y > 0.0);
}

TEST_CASE("The target is in the middle of the screen, and a pixel's ray goes back to the point") {
    const Camera camera = someCamera();
    const std::optional<ScreenPoint> middle = camera.project(camera.target_m, 800, 600);
    REQUIRE(middle);
    CHECK(middle->x == Approx(400.0));
    CHECK(middle->y == Approx(300.0));
    CHECK(middle->depth_m == Approx(5000.0));
    for (const Vec3& point : {Vec3(900.0, 400.0, 0.0), Vec3(-700.0, 1500.0, 900.0), Vec3(0.0, 0.0, 2600.0)}) {
        const std::optional<ScreenPoint> seen = camera.project(point, 800, 600);
        REQUIRE(seen);
        const Ray ray = camera.ray(seen->x, seen->y, 800, 600);
        const double distance = glm::dot(point - ray.origin_m, ray.direction);
        CHECK(glm::length(ray.at(distance) - point) < 1e-6);
    }
}

TEST_CASE("Projection on the processor and the matrix for OpenGL agree") {
    const Camera camera = someCamera();
    const double width = 800, height = 600;
    for (const Vec3& point : {Vec3(900.0, 400.0, 0.0), Vec3(-700.0, 1500.0, 900.0)}) {
        const glm::dvec4 clip = camera.clipFromEye(width / height) * glm::dvec4(point - camera.eye_m(), 1.0);
        const std::optional<ScreenPoint> seen = camera.project(point, width, height);
        REQUIRE(seen);
        CHECK(0.5 * width * (1.0 + clip.x / clip.w) == Approx(seen->x));
        CHECK(0.5 * height * (1.0 - clip.y / clip.w) == Approx(seen->y));
    }
}

TEST_CASE("What lies behind the eye is not projected, and lines are cut in front of it") {
    const Camera camera = someCamera();
    const Vec3 behind = camera.eye_m() - 100.0 * camera.forward();
    CHECK_FALSE(camera.project(behind, 800, 600));
    Vec3 a = camera.target_m, b = behind;
    REQUIRE(camera.clip(a, b));
    CHECK(camera.project(b, 800, 600));
    CHECK(glm::dot(b - camera.eye_m(), camera.forward()) == Approx(camera.near_m()));
    Vec3 c = behind, d = behind - 10.0 * camera.forward();
    CHECK_FALSE(camera.clip(c, d));
}

TEST_CASE("A fitted camera sees every point, and two of them touch the margin") {
    std::vector<Vec3> points;
    for (int i = 0; i < 12; ++i) points.push_back({3600.0 * std::cos(i * 0.5236), 3600.0 * std::sin(i * 0.5236), 0.0});
    points.push_back({700.0, 2400.0, 2600.0});
    for (const double aspect : {0.7, 1.4, 3.2}) {
        const Camera camera = fitted(someCamera(), points, aspect, 0.05);
        double most = 0.0;
        for (const Vec3& point : points) {
            const std::optional<ScreenPoint> seen = camera.project(point, 100.0 * aspect, 100.0);
            REQUIRE(seen);
            most = std::max({most, std::abs(seen->x / (50.0 * aspect) - 1.0), std::abs(seen->y / 50.0 - 1.0)});
        }
        CHECK(most == Approx(0.9).margin(1e-6));
    }
}

TEST_CASE("A change of view begins and ends exactly, and turns the short way") {
    Camera a = someCamera(), b = someCamera();
    a.azimuth_rad = radiansFromDegrees(350.0);
    b.azimuth_rad = radiansFromDegrees(10.0);
    b.distance_m = 20000.0;
    CHECK(blend(a, b, 0.0).distance_m == Approx(a.distance_m));
    CHECK(blend(a, b, 1.0).distance_m == Approx(b.distance_m));
    CHECK(std::cos(blend(a, b, 0.5).azimuth_rad) == Approx(1.0));
    CHECK(blend(a, b, 0.5).distance_m == Approx(10000.0));
}

}  // namespace linefall
