#include "instruments/looks.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// All that a line needs to look, made from a scene.
struct Setup {
    Scene scene;
    std::unique_ptr<Instrument> instrument;
    Motion motion;
    explicit Setup(const Scene& s) : scene(s), motion(s.flightSettings()) {
        Problems problems;
        instrument = makeInstrument(scene, 0, problems);
        REQUIRE(problems.empty());
    }
    [[nodiscard]] LineLooks look(int line, const std::vector<Offset>& offsets, double lean = 1.0, bool sweep_motion = true) const {
        LineLooks out;
        lookBack(*instrument, motion, *scene.place->ground, offsets, lean, sweep_motion, line, out);
        return out;
    }
};

}  // namespace

TEST_CASE("the quick walk along a fan of looks ends where each look ends by itself", "[looks]") {
    // A push broom's line on broken ground with towers, level and rolled, against one search a ray.
    const std::string place = GENERATE("slopes", "proving-ground", "hill-and-hollow");
    const std::string attitude = GENERATE("flight.roll=0 deg", "flight.roll=14 deg", "flight.roll=-30 deg", "flight.yaw=25 deg");
    const Setup s(sceneOf(place, "push-broom", {attitude, "flight.height=900 m", "instrument.samples=1000"}));
    const std::vector<Offset> centre{{}};
    for (int line = 3; line < s.instrument->lines(); line += s.instrument->lines() / 12) {
        const LineLooks looks = s.look(line, centre);
        int elsewhere = 0;
        double most_apart_m = 0.0;
        for (int i = 0; i < s.instrument->samples(); ++i) {
            const GroundHit hit = s.scene.place->ground->intersect(lookRay(*s.instrument, s.motion, {}, 1.0, true, line, i));
            const auto k = static_cast<std::size_t>(i);
            if (looks.meets[k] != hit.meets || (hit.meets != Meets::sky && looks.material[k] != hit.material)) ++elsewhere;
            if (hit.meets == Meets::sky || looks.meets[k] == Meets::sky) continue;
            most_apart_m = std::max(most_apart_m, glm::length(hit.point_m - Vec3(looks.x_m[k], looks.y_m[k], looks.z_m[k])));
        }
        CHECK(elsewhere == 0);
        CHECK(most_apart_m < 5e-4);  // the points are kept in single precision
    }
}

TEST_CASE("contributions stand sample by sample, and none of them moves another", "[looks]") {
    const Setup s(sceneOf("slopes", "push-broom", {"instrument.samples=50", "flight.height=2 km"}));
    const std::vector<Offset> three{{0.3, -0.2, 0.1}, {-0.3, 0.2, -0.1}, {}};
    const LineLooks looks = s.look(7, three), centre = s.look(7, {{}});
    REQUIRE(looks.contributions == 3);
    REQUIRE(looks.x_m.size() == 150);
    for (std::size_t i = 0; i < 50; ++i) {
        CHECK(looks.x_m[3 * i + 2] == Approx(centre.x_m[i]).margin(1e-3));
        CHECK(looks.y_m[3 * i + 2] == Approx(centre.y_m[i]).margin(1e-3));
    }
    // An offset of one pitch across is the neighbour's centre; growing columns.
    const LineLooks next = s.look(7, {{1.0, 0.0, 0.0}});
    for (std::size_t i = 0; i + 1 < 50; ++i) CHECK(next.x_m[i] == Approx(centre.x_m[i + 1]).margin(1e-3));
}

TEST_CASE("a leaning ray meets the datum where the true ray meets it, and starts at the same height", "[looks]") {
    const Vec3 d = glm::normalize(Vec3{0.3, -0.5, -1.0});
    const Ray ray{{100.0, 200.0, 3000.0}, d};
    for (const double k : {0.0, 0.5, 2.0, 20.0}) {
        const Ray lean = leaned(ray, k);
        const Vec3 true_datum = ray.at(-ray.origin_m.z / ray.direction.z), datum = lean.at(-lean.origin_m.z / lean.direction.z);
        CHECK(datum.x == Approx(true_datum.x).epsilon(1e-9));
        CHECK(datum.y == Approx(true_datum.y).epsilon(1e-9));
        CHECK(lean.origin_m.z == Approx(3000.0).epsilon(1e-12));
        // 100 m above the datum the ray has run k times as far.
        const Vec3 above = lean.at(-(lean.origin_m.z - 100.0) / lean.direction.z), true_above = ray.at(-(ray.origin_m.z - 100.0) / ray.direction.z);
        CHECK(above.x - datum.x == Approx(k * (true_above.x - true_datum.x)).margin(1e-6));
    }
    const Ray up{{0.0, 0.0, 100.0}, glm::normalize(Vec3{1.0, 0.0, 0.2})};
    CHECK(leaned(up, 5.0).direction == up.direction);  // a look into the sky has no datum point
}

TEST_CASE("looks are pure: the same line twice gives the same looks", "[looks]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera");
    const Setup s(sceneOf("slopes", preset, {"flight.rough_air=1 deg"}));
    const LineLooks a = s.look(5, {{}}), b = s.look(5, {{}});
    CHECK(a.x_m == b.x_m);
    CHECK(a.z_m == b.z_m);
    CHECK(a.sky_share == b.sky_share);
}
