#include "ground/object.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace linefall {

namespace {

constexpr std::array<std::string_view, 7> names{"box", "gable", "pyramid", "cone", "cylinder", "dome", "wall"};
constexpr double beyond = std::numeric_limits<double>::infinity();

/// The object's own frame: x along the length, y across to the right of it, z up; origin at the base's centre.
struct Frame {
    double sin_heading, cos_heading;
    explicit Frame(const Object& o) : sin_heading(std::sin(o.heading_rad)), cos_heading(std::cos(o.heading_rad)) {}
    [[nodiscard]] Vec3 toObject(const Vec3& v) const {
        return {v.x * sin_heading + v.y * cos_heading, v.x * cos_heading - v.y * sin_heading, v.z};
    }
    [[nodiscard]] Vec3 toWorld(const Vec3& v) const {
        return {v.x * sin_heading + v.y * cos_heading, v.x * cos_heading - v.y * sin_heading, v.z};
    }
};

/// One side of a convex body: points with dot(normal, p) <= offset are inside.
struct HalfSpace {
    Vec3 normal;
    double offset;
    bool side;
};

struct Faces {
    std::array<HalfSpace, 9> list;
    int count = 0;
    void add(const Vec3& outward, double offset, bool side) {
        const double length = glm::length(outward);
        list[static_cast<std::size_t>(count++)] = {outward / length, offset / length, side};
    }
};

Faces facesOf(const Object& o) {
    const double l = 0.5 * o.length_m;
    const double w = 0.5 * o.width_m;
    const double h = o.height_m;
    Faces f;
    f.add({0, 0, -1}, o.foundation_m, true);
    f.add({1, 0, 0}, l, true);  // of a pyramid only the foundation
    f.add({-1, 0, 0}, l, true);
    f.add({0, 1, 0}, w, true);
    f.add({0, -1, 0}, w, true);
    switch (o.shape) {
        case Shape::pyramid:
            f.add({h, 0, l}, l * h, false);
            f.add({-h, 0, l}, l * h, false);
            f.add({0, h, w}, w * h, false);
            f.add({0, -h, w}, w * h, false);
            break;
        case Shape::gable: {
            const double rise = h * (1.0 - o.eaves_share);
            f.add({0, rise, w}, w * h, false);
            f.add({0, -rise, w}, w * h, false);
            break;
        }
        default: f.add({0, 0, 1}, h, false); break;
    }
    return f;
}

struct Local {
    double distance = beyond;
    Vec3 normal{0.0, 0.0, 1.0};
    bool side = false;
};

std::optional<Local> hitConvex(const Object& o, const Vec3& p, const Vec3& d, double from) {
    const Faces faces = facesOf(o);
    Local entry;
    entry.distance = -beyond;
    double leave = beyond;
    for (int i = 0; i < faces.count; ++i) {
        const HalfSpace& face = faces.list[static_cast<std::size_t>(i)];
        const double slope = glm::dot(face.normal, d);
        const double gap = face.offset - glm::dot(face.normal, p);
        if (slope == 0.0) {
            if (gap < 0.0) return std::nullopt;
            continue;
        }
        const double t = gap / slope;
        if (slope < 0.0) {
            if (t > entry.distance) entry = {t, face.normal, face.side};
        } else {
            leave = std::min(leave, t);
        }
    }
    if (entry.distance > leave || entry.distance <= from) return std::nullopt;
    return entry;
}

/// First root of a t^2 + 2 b t + c = 0 that `accept` takes, in rising order.
template <class Accept>
void roots(double a, double b, double c, const Accept& accept) {
    if (a == 0.0) {
        if (b != 0.0) accept(-0.5 * c / b);
        return;
    }
    const double discriminant = b * b - a * c;
    if (discriminant < -1e-15 * b * b) return;  // a touch may come out a rounding error below zero
    const double q = -(b + std::copysign(std::sqrt(std::max(0.0, discriminant)), b));
    const double first = q / a;
    const double second = q != 0.0 ? c / q : first;
    accept(std::min(first, second));
    accept(std::max(first, second));
}

std::optional<Local> hitRound(const Object& o, const Vec3& p, const Vec3& d, double from) {
    const double r = 0.5 * o.length_m;
    const double h = o.height_m;
    Local best;
    const auto take = [&](double t, const Vec3& normal, bool side) {
        if (t > from && t < best.distance && glm::dot(normal, d) < 0.0) best = {t, normal, side};
    };
    if (o.shape == Shape::cone) {
        const double k = r / h;  // radius lost a metre of height
        const auto depth = [&](double z) { return h - z; };
        const double speck = 1e-12 * h;  // the apex itself, met straight from above, is a double root
        roots(d.x * d.x + d.y * d.y - k * k * d.z * d.z,
              p.x * d.x + p.y * d.y + k * k * depth(p.z) * d.z,
              p.x * p.x + p.y * p.y - k * k * depth(p.z) * depth(p.z), [&](double t) {
                  const Vec3 q = p + t * d;
                  if (q.z < 0.0 || depth(q.z) < -speck) return;
                  const double radius = k * depth(q.z);
                  const Vec3 outward = radius > k * speck ? Vec3{q.x / radius, q.y / radius, k} : Vec3{0.0, 0.0, 1.0};
                  take(t, glm::normalize(outward), false);
              });
    } else if (o.shape == Shape::dome) {
        const Vec3 scale{1.0 / r, 1.0 / r, 1.0 / h};
        const Vec3 sp = p * scale;
        const Vec3 sd = d * scale;
        roots(glm::dot(sd, sd), glm::dot(sp, sd), glm::dot(sp, sp) - 1.0, [&](double t) {
            const Vec3 q = sp + t * sd;
            if (q.z >= 0.0) take(t, glm::normalize(q * scale), false);
        });
    }
    // The wall of a cylinder; of a cone or dome only its foundation.
    const double wall_top = o.shape == Shape::cylinder ? h : 0.0;
    roots(d.x * d.x + d.y * d.y, p.x * d.x + p.y * d.y, p.x * p.x + p.y * p.y - r * r, [&](double t) {
        const Vec3 q = p + t * d;
        if (q.z >= -o.foundation_m && q.z <= wall_top) take(t, Vec3{q.x / r, q.y / r, 0.0}, true);
    });
    if (o.shape == Shape::cylinder && d.z != 0.0) {
        const double t = (h - p.z) / d.z;
        const Vec3 q = p + t * d;
        if (q.x * q.x + q.y * q.y <= r * r) take(t, Vec3{0, 0, 1}, false);
    }
    if (best.distance == beyond) return std::nullopt;
    return best;
}

bool isRound(Shape shape) { return shape == Shape::cone || shape == Shape::cylinder || shape == Shape::dome; }

}  // namespace

std::string_view nameOf(Shape shape) { return names[static_cast<std::size_t>(shape)]; }

std::vector<std::string> shapeNames() { return {names.begin(), names.end()}; }

double Object::radius_m() const {
    return isRound(shape) ? 0.5 * length_m : 0.5 * std::hypot(length_m, width_m);
}

std::optional<double> Object::surfaceOver(double east, double north) const {
    const double above = top_m() + 1.0;
    const Ray down{{east, north, above}, {0.0, 0.0, -1.0}};
    if (const auto hit = intersect(*this, down)) return above - hit->distance_m;
    return std::nullopt;
}

std::optional<ObjectHit> intersect(const Object& object, const Ray& ray, double from_m) {
    const Frame frame(object);
    const Vec3 p = frame.toObject(ray.origin_m - Vec3{object.east_m, object.north_m, object.base_m});
    const Vec3 d = frame.toObject(ray.direction);
    const auto local = isRound(object.shape) ? hitRound(object, p, d, from_m) : hitConvex(object, p, d, from_m);
    if (!local) return std::nullopt;
    return ObjectHit{local->distance, frame.toWorld(local->normal), local->side};
}

}  // namespace linefall
