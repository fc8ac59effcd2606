// Things on the terrain: hits worked out by hand, and every shape against a plain test of what lies inside it.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "ground/object.h"
#include "support/effort.h"
#include "support/terrain.h"

using namespace linefall;
using test::Draws;

namespace {

const std::vector<Shape> all_shapes{Shape::box,  Shape::gable, Shape::pyramid, Shape::cone,
                                    Shape::cylinder, Shape::dome,  Shape::wall};

/// 10 m long east-west, 6 m wide, 8 m high (a round shape: 10 m across), at the origin.
Object sample(Shape shape) {
    Object o;
    o.shape = shape;
    o.length_m = 10.0;
    o.width_m = 6.0;
    o.height_m = 8.0;
    o.heading_rad = radiansFromDegrees(90.0);
    return o;
}

/// Whether a point lies inside, straight from the words that describe each shape.
bool inside(const Object& o, const Vec3& p) {
    const double dx = p.x - o.east_m;
    const double dy = p.y - o.north_m;
    const double z = p.z - o.base_m;
    const double along = std::abs(dx * std::sin(o.heading_rad) + dy * std::cos(o.heading_rad));
    const double across = std::abs(dx * std::cos(o.heading_rad) - dy * std::sin(o.heading_rad));
    const double from_axis = std::hypot(dx, dy);
    if (z < -o.foundation_m || z > o.height_m) return false;
    const double up = std::max(0.0, z) / o.height_m;  // 0 at and below the base, 1 at the top
    const double l = 0.5 * o.length_m;
    const double w = 0.5 * o.width_m;
    switch (o.shape) {
        case Shape::box:
        case Shape::wall: return along <= l && across <= w;
        case Shape::gable:
            return along <= l && across <= w && (up <= o.eaves_share || across <= w * (1.0 - up) / (1.0 - o.eaves_share));
        case Shape::pyramid: return along <= l * (1.0 - up) && across <= w * (1.0 - up);
        case Shape::cone: return from_axis <= l * (1.0 - up);
        case Shape::cylinder: return from_axis <= l;
        case Shape::dome: return from_axis <= l * std::sqrt(1.0 - up * up);
    }
    return false;
}

void checkHit(const Object& o, const Vec3& origin, const Vec3& direction, double distance, const Vec3& normal, bool side) {
    INFO(nameOf(o.shape) << " from (" << origin.x << ", " << origin.y << ", " << origin.z << ")");
    const auto hit = intersect(o, {origin, glm::normalize(direction)});
    REQUIRE(hit);
    CHECK(hit->distance_m == Approx(distance).epsilon(1e-12));
    CHECK(glm::length(hit->normal - glm::normalize(normal)) < 1e-12);
    CHECK(hit->side == side);
}

void checkMiss(const Object& o, const Vec3& origin, const Vec3& direction) {
    INFO(nameOf(o.shape) << " from (" << origin.x << ", " << origin.y << ", " << origin.z << ")");
    CHECK_FALSE(intersect(o, {origin, glm::normalize(direction)}));
}

}  // namespace

TEST_CASE("a box is met on each of its faces, with the normal outward") {
    for (const Shape shape : {Shape::box, Shape::wall}) {
        const Object o = sample(shape);
        checkHit(o, {20, 0, 4}, {-1, 0, 0}, 15, {1, 0, 0}, true);
        checkHit(o, {-20, 0, 4}, {1, 0, 0}, 15, {-1, 0, 0}, true);
        checkHit(o, {0, 20, 4}, {0, -1, 0}, 17, {0, 1, 0}, true);
        checkHit(o, {0, -20, 4}, {0, 1, 0}, 17, {0, -1, 0}, true);
        checkHit(o, {1, 1, 30}, {0, 0, -1}, 22, {0, 0, 1}, false);
        checkHit(o, {20, 0, 4}, {-1, 0.1, 0}, 15 * std::sqrt(1.01), {1, 0, 0}, true);
        checkMiss(o, {20, 0, 8.001}, {-1, 0, 0});
        checkMiss(o, {20, 3.001, 4}, {-1, 0, 0});
        checkMiss(o, {5.001, 0, 30}, {0, 0, -1});
        checkMiss(o, {20, 0, 4}, {1, 0, 0});
    }
}

TEST_CASE("a heading turns an object clockwise from north") {
    Object o = sample(Shape::box);
    o.heading_rad = 0.0;  // the 10 m now run north
    checkHit(o, {0, 20, 4}, {0, -1, 0}, 15, {0, 1, 0}, true);
    checkHit(o, {20, 0, 4}, {-1, 0, 0}, 17, {1, 0, 0}, true);
    o.heading_rad = radiansFromDegrees(30.0);  // the end face looks along (sin 30, cos 30)
    const Vec3 end{std::sin(o.heading_rad), std::cos(o.heading_rad), 0.0};
    checkHit(o, 20.0 * end + Vec3{0, 0, 1}, -end, 15, end, true);
}

TEST_CASE("the roof of a gable slopes from the ridge to the eaves") {
    const Object o = sample(Shape::gable);  // eaves at 4.8 m, ridge at 8 m, half width 3 m
    const Vec3 roof{0.0, 3.2, 3.0};
    checkHit(o, {0, 1.5, 30}, {0, 0, -1}, 30 - 6.4, roof, false);
    checkHit(o, {4, -1.5, 30}, {0, 0, -1}, 30 - 6.4, {0.0, -3.2, 3.0}, false);
    checkHit(o, {0, 20, 4.7}, {0, -1, 0}, 17, {0, 1, 0}, true);
    checkHit(o, {0, 20, 6.4}, {0, -1, 0}, 18.5, roof, false);
    checkHit(o, {20, 1.5, 6.39}, {-1, 0, 0}, 15, {1, 0, 0}, true);  // the triangular end wall
    checkMiss(o, {20, 1.5, 6.41}, {-1, 0, 0});
}

TEST_CASE("a pyramid is met on its four slopes and its apex") {
    const Object o = sample(Shape::pyramid);
    checkHit(o, {2.5, 0, 30}, {0, 0, -1}, 26, {8, 0, 5}, false);
    checkHit(o, {0, -1.5, 30}, {0, 0, -1}, 26, {0, -8, 3}, false);
    checkHit(o, {20, 0, 4}, {-1, 0, 0}, 17.5, {8, 0, 5}, false);
    checkHit(o, {0, 20, 4}, {0, -1, 0}, 18.5, {0, 8, 3}, false);
    CHECK(o.surfaceOver(0, 0) == Approx(8.0));
    checkMiss(o, {2.51, 0, 4.0}, {0, 1, 0});
}

TEST_CASE("a cone is met on its mantle, at its apex, and not above it") {
    const Object o = sample(Shape::cone);
    checkHit(o, {2.5, 0, 30}, {0, 0, -1}, 26, {8, 0, 5}, false);
    checkHit(o, {0, -20, 4}, {0, 1, 0}, 17.5, {0, -8, 5}, false);
    checkHit(o, {0, 0, 30}, {0, 0, -1}, 22, {0, 0, 1}, false);
    checkMiss(o, {20, 0, 8.5}, {-1, 0, 0});       // the mirrored upper half of the cone is not there
    checkMiss(o, {20, 0, 12}, {-1, 0, 0});
    checkMiss(o, {5.001, 0, 30}, {0, 0, -1});
    // A ray as steep as the mantle: its equation has one root only.
    checkHit(o, {-7.5, 0, 14}, {5, 0, -8}, 1.125 * std::hypot(5.0, 8.0), {-8, 0, 5}, false);
}

TEST_CASE("a cylinder is met on its wall and its top") {
    const Object o = sample(Shape::cylinder);
    checkHit(o, {20, 0, 4}, {-1, 0, 0}, 15, {1, 0, 0}, true);
    checkHit(o, {20, 3, 4}, {-1, 0, 0}, 16, {4, 3, 0}, true);
    checkHit(o, {3, 3.9, 30}, {0, 0, -1}, 22, {0, 0, 1}, false);
    checkMiss(o, {20, 5.001, 4}, {-1, 0, 0});
    checkMiss(o, {20, 0, 8.001}, {-1, 0, 0});
    checkMiss(o, {4, 4, 30}, {0, 0, -1});
}

TEST_CASE("a dome is half an ellipsoid") {
    const Object o = sample(Shape::dome);
    checkHit(o, {0, 0, 30}, {0, 0, -1}, 22, {0, 0, 1}, false);
    checkHit(o, {3, 0, 30}, {0, 0, -1}, 30 - 6.4, {3.0 / 25.0, 0, 6.4 / 64.0}, false);
    checkHit(o, {0, 20, 4.8}, {0, -1, 0}, 16, {0, 4.0 / 25.0, 4.8 / 64.0}, false);
    checkMiss(o, {20, 0, 8.001}, {-1, 0, 0});
    Object sphere = o;
    sphere.height_m = 5.0;
    checkHit(sphere, {30, 0, 30}, {-1, 0, -1}, 30 * std::sqrt(2.0) - 5.0, {1, 0, 1}, false);
}

TEST_CASE("foundations reach straight down from the outline of the base") {
    for (const Shape shape : all_shapes) {
        Object o = sample(shape);
        o.foundation_m = 3.0;
        checkHit(o, {20, 0, -2}, {-1, 0, 0}, 15, {1, 0, 0}, true);
        checkMiss(o, {20, 0, -3.001}, {-1, 0, 0});
        checkMiss(o, {5.001, 0, 30}, {0, 0, -1});
        CHECK_FALSE(o.surfaceOver(5.001, 0));
    }
}

TEST_CASE("a ray that starts inside an object or behind it meets nothing") {
    for (const Shape shape : all_shapes) {
        const Object o = sample(shape);
        checkMiss(o, {0.1, 0.2, 3.0}, {0.3, -0.5, 0.2});
        checkMiss(o, {-6, 0, 4}, {-1, 0, 0});
        const auto hit = intersect(o, {{20, 0, 2}, {-1, 0, 0}});
        REQUIRE(hit);
        CHECK_FALSE(intersect(o, {{20, 0, 2}, {-1, 0, 0}}, hit->distance_m + 1e-9));
        CHECK(intersect(o, {{20, 0, 2}, {-1, 0, 0}}, hit->distance_m - 1e-9));
    }
}

TEST_CASE("the height over a point is the top of what stands there") {
    for (const Shape shape : all_shapes) {
        Object o = sample(shape);
        o.east_m = 100.0;
        o.north_m = -50.0;
        o.base_m = 12.0;
        INFO(nameOf(shape));
        CHECK(o.top_m() == 20.0);
        REQUIRE(o.surfaceOver(100.0, -50.0));
        CHECK(*o.surfaceOver(100.0, -50.0) == Approx(20.0));
        CHECK_FALSE(o.surfaceOver(107.0, -50.0));
        Draws draws(8, static_cast<std::uint32_t>(shape));
        for (int i = 0; i < 500; ++i) {
            const double east = 100.0 + draws.between(-6.0, 6.0);
            const double north = -50.0 + draws.between(-6.0, 6.0);
            const auto over = o.surfaceOver(east, north);
            CHECK(over.has_value() == inside(o, {east, north, 12.0}));
            if (!over) continue;
            CHECK(inside(o, {east, north, *over - 1e-9}));
            CHECK_FALSE(inside(o, {east, north, *over + 1e-9}));
            CHECK(std::hypot(east - 100.0, north + 50.0) <= o.radius_m());
        }
    }
}

TEST_CASE("every shape has its name") {
    const std::vector<std::string> names = shapeNames();
    REQUIRE(names.size() == all_shapes.size());
    for (std::size_t i = 0; i < names.size(); ++i) CHECK(names[i] == nameOf(static_cast<Shape>(i)));
    CHECK(nameOf(Shape::dome) == "dome");
}

TEST_CASE("random rays meet every shape exactly where small steps first find themselves inside") {
    const double step = 0.02;
    for (const Shape shape : all_shapes) {
        Draws draws(5, static_cast<std::uint32_t>(shape));
        const int rays = test::effort(5000);
        int hits = 0;
        for (int i = 0; i < rays; ++i) {
            Object o = sample(shape);
            o.east_m = draws.between(-5, 5);
            o.north_m = draws.between(-5, 5);
            o.base_m = draws.between(-2, 2);
            o.heading_rad = draws.between(-4, 4);
            o.foundation_m = draws.between(0, 3);
            o.eaves_share = draws.between(0.2, 0.9);
            const Vec3 centre{o.east_m, o.north_m, o.base_m + 3.0};
            const Vec3 origin = centre + 25.0 * draws.direction();
            const Vec3 aim = centre + 6.0 * draws.uniform() * draws.direction();
            const Ray ray{origin, glm::normalize(aim - origin)};

            double stepped = -1.0;
            for (double t = 0.0; t < 45.0; t += step) {
                if (!inside(o, ray.at(t))) continue;
                double out = t - step;
                double in = t;
                for (int k = 0; k < 50; ++k) (inside(o, ray.at(0.5 * (out + in))) ? in : out) = 0.5 * (out + in);
                stepped = in;
                break;
            }
            const auto hit = intersect(o, ray);
            INFO(nameOf(shape) << " ray " << i << ": stepped " << stepped << ", hit " << (hit ? hit->distance_m : -1.0));
            if (stepped < 0.0) {  // the steps may have jumped over a corner, but a hit must then be a true corner
                if (hit) {
                    CHECK_FALSE(inside(o, ray.at(hit->distance_m + step)));
                    CHECK(inside(o, ray.at(hit->distance_m) - 1e-7 * hit->normal));
                }
                continue;
            }
            // A foundation's underside lies in the ground, and round shapes have none.
            const bool from_below = ray.at(stepped).z < o.base_m - o.foundation_m + 1e-6;
            if (from_below) continue;
            ++hits;
            REQUIRE(hit);
            if (std::abs(hit->distance_m - stepped) > 1e-9) {  // or jumped over a corner before
                REQUIRE(hit->distance_m < stepped);
                CHECK_FALSE(inside(o, ray.at(hit->distance_m + step)));
            }
            CHECK(glm::length(hit->normal) == Approx(1.0).epsilon(1e-12));
            CHECK(glm::dot(hit->normal, ray.direction) < 0.0);
            CHECK(inside(o, ray.at(hit->distance_m) - 1e-7 * hit->normal));
            CHECK_FALSE(inside(o, ray.at(hit->distance_m) + 1e-7 * hit->normal));
        }
        CHECK(hits > rays / 4);
    }
}
