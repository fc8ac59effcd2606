#include "view/camera.h"

#include <algorithm>
#include <cmath>
#include <glm/ext/matrix_clip_space.hpp>

#include "base/angle.h"

namespace linefall {

Vec3 Camera::forward() const {
    const double level = std::cos(elevation_rad);
    return {level * std::sin(azimuth_rad), level * std::cos(azimuth_rad), -std::sin(elevation_rad)};
}

Vec3 Camera::right() const { return {std::cos(azimuth_rad), -std::sin(azimuth_rad), 0.0}; }

Vec3 Camera::up() const { return glm::cross(right(), forward()); }

Vec3 Camera::eye_m() const { return target_m - distance_m * forward(); }

double Camera::near_m() const { return std::max(2.0, 0.01 * distance_m); }

double Camera::far_m() const { return 6.0 * distance_m + 120000.0; }

glm::dmat4 Camera::clipFromEye(double aspect) const {
    const Vec3 r = right();
    const Vec3 u = up();
    const Vec3 f = forward();
    const glm::dmat4 view{{r.x, u.x, -f.x, 0.0}, {r.y, u.y, -f.y, 0.0}, {r.z, u.z, -f.z, 0.0}, {0.0, 0.0, 0.0, 1.0}};
    return glm::perspective(opening_rad, aspect, near_m(), far_m()) * view;
}

std::optional<ScreenPoint> Camera::project(const Vec3& point_m, double width, double height) const {
    const Vec3 seen = point_m - eye_m();
    const double depth = glm::dot(seen, forward());
    if (depth < 0.5 * near_m()) return std::nullopt;
    const double scale = 0.5 * height / std::tan(0.5 * opening_rad) / depth;
    return ScreenPoint{0.5 * width + scale * glm::dot(seen, right()), 0.5 * height - scale * glm::dot(seen, up()), depth};
}

Ray Camera::ray(double x, double y, double width, double height) const {
    const double scale = std::tan(0.5 * opening_rad) / (0.5 * height);
    const Vec3 direction = forward() + scale * (x - 0.5 * width) * right() + scale * (0.5 * height - y) * up();
    return {eye_m(), glm::normalize(direction)};
}

bool Camera::clip(Vec3& from_m, Vec3& to_m) const {
    const Vec3 f = forward();
    const double least = near_m();
    const double a = glm::dot(from_m - eye_m(), f) - least;
    const double b = glm::dot(to_m - eye_m(), f) - least;
    if (a < 0.0 && b < 0.0) return false;
    if (a < 0.0) from_m += (to_m - from_m) * (a / (a - b));
    else if (b < 0.0) to_m += (from_m - to_m) * (b / (b - a));
    return true;
}

Camera fitted(Camera camera, const std::vector<Vec3>& points, double aspect, double margin) {
    if (points.empty()) return camera;
    const double half_tall = std::tan(0.5 * camera.opening_rad) * (1.0 - 2.0 * margin);
    const double half_wide = half_tall * aspect;
    const Vec3 r = camera.right(), u = camera.up(), f = camera.forward();
    // In each of the two planes the nearest eye that sees all points lies where the two extreme edges meet.
    double left = 1e300, right = -1e300, low = 1e300, high = -1e300;
    for (const Vec3& p : points) {
        const double x = glm::dot(p, r), y = glm::dot(p, u), z = glm::dot(p, f);
        right = std::max(right, x - half_wide * z);
        left = std::min(left, x + half_wide * z);
        high = std::max(high, y - half_tall * z);
        low = std::min(low, y + half_tall * z);
    }
    // right = ex - half_wide * ez and left = ex + half_wide * ez hold at that eye.
    const double wide_z = (left - right) / (2.0 * half_wide), tall_z = (low - high) / (2.0 * half_tall);
    const Vec3 eye = 0.5 * (left + right) * r + 0.5 * (low + high) * u + std::min(wide_z, tall_z) * f;
    camera.target_m = eye + camera.distance_m * f;
    double middle = 0.0;  // the orbit turns about the middle of the points
    for (const Vec3& p : points) middle += glm::dot(p - eye, f) / static_cast<double>(points.size());
    camera.distance_m = std::max(1.0, middle);
    camera.target_m = eye + camera.distance_m * f;
    return camera;
}

Camera blend(const Camera& from, const Camera& to, double share) {
    Camera camera = to;
    double turn = std::fmod(to.azimuth_rad - from.azimuth_rad, 2.0 * constants::pi);
    if (turn > constants::pi) turn -= 2.0 * constants::pi;
    if (turn < -constants::pi) turn += 2.0 * constants::pi;
    camera.target_m = from.target_m + share * (to.target_m - from.target_m);
    camera.distance_m = from.distance_m * std::pow(to.distance_m / from.distance_m, share);
    camera.azimuth_rad = from.azimuth_rad + share * turn;
    camera.elevation_rad = from.elevation_rad + share * (to.elevation_rad - from.elevation_rad);
    return camera;
}

}  // namespace linefall
