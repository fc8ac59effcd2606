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
    [[nodiscard]] LineLooks look(int line, const std::vector<Offset>& offsets, const LookManner& manner = {}) const {
        LineLooks out;
        lookBack(*instrument, motion, *scene.place->ground, offsets, manner, line, out);
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
            const GroundHit hit = s.scene.place->ground->intersect(lookRay(*s.instrument, s.motion, {}, LookManner{}, line, i));
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
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const Setup s(sceneOf("slopes", preset, {"flight.rough_air=1 deg"}));
    const LineLooks a = s.look(5, {{}}), b = s.look(5, {{}});
    CHECK(a.x_m == b.x_m);
    CHECK(a.z_m == b.z_m);
    CHECK(a.sky_share == b.sky_share);
}

namespace {

/// Level ground under a level flight of 1 km height; every kind of instrument, a whisk broom of several detectors to and fro.
std::pair<std::string, std::string> instrumentOver(int which) {
    static const std::vector<std::pair<std::string, std::string>> all{
        {"whisk-broom", "focal_length = \"10 mm\"\nifov = \"1 mrad\"\nfov = \"110 deg\""},
        {"whisk-broom", "focal_length = \"10 mm\"\nifov = \"2 mrad\"\nsample_step = \"1.5 mrad\"\nfov = \"90 deg\"\ndetectors = 4\nsweep = \"two-way\""},
        {"push-broom", "focal_length = \"10 mm\"\ndetector_pitch = \"10 um\"\nsamples = 1500"},
        {"frame-camera", "focal_length = \"10 mm\"\ndetector_pitch = \"20 um\"\nsamples = 400\nrows = 300"}};
    return all.at(static_cast<std::size_t>(which));
}

Vec3 datumOf(const Ray& ray) { return ray.at(-ray.origin_m.z / ray.direction.z); }

}  // namespace

TEST_CASE("without perspective the cells on level ground are the same over the whole swath", "[looks]") {
    const int which = GENERATE(0, 1, 2, 3);
    const auto kind = instrumentOver(which);
    const Setup s(sceneOf(written(levelPlace("", "4 km")), oneBand(kind.first, kind.second), {"flight.height=1 km", "flight.length=200 m", "effect.perspective=false", "effect.sweep_motion=false"}));
    const LookManner manner = lookManner(s.scene.flightSettings(), effectKeys().read(s.scene.settings));
    CHECK_FALSE(manner.perspective);
    const FieldPoint nadir = *s.instrument->field(0.0, false);
    const LookManner with_it{1.0, false, true};
    double edge = 0.0, edge_with = 0.0;
    for (const int line : {0, 7}) {
        for (int i = 0; i + 1 < s.instrument->samples(); ++i) {
            const auto cell = [&](const LookManner& m) {
                return s.scene.place->ground->intersect(lookRay(*s.instrument, s.motion, {}, m, line, i + 1)).point_m -
                       s.scene.place->ground->intersect(lookRay(*s.instrument, s.motion, {}, m, line, i)).point_m;
            };
            // Flying south, columns grow to the east.
            const Vec3 to_next = cell(manner);
            REQUIRE(std::abs(to_next.x - nadir.cell.spacing_across_m) < 1e-9);
            REQUIRE(std::abs(to_next.y) < 1e-9);
            edge = to_next.x;
            edge_with = cell(with_it).x;
        }
    }
    if (which < 2) CHECK(edge_with > 1.9 * edge);  // the growth that the switch takes away
    // An offset is a share of the footprint, and a mirror turns by one step in a dwell.
    const auto datum = [&](const Offset& offset, int line = 1) { return datumOf(lookRay(*s.instrument, s.motion, offset, manner, line, 20)); };
    CHECK(datum({0.5, 0.0, 0.0}).x - datum({}).x == Approx(0.5 * nadir.cell.across_m).epsilon(1e-9));
    CHECK(datum({}).y - datum({0.0, 0.5, 0.0}).y == Approx(0.5 * nadir.cell.along_m).epsilon(1e-9));
    const double turned = s.instrument->hasMirror() ? 0.5 * nadir.cell.spacing_across_m : 0.0;
    CHECK(datum({0.0, 0.0, 0.5}).x - datum({}).x == Approx(turned).margin(1e-9));
    if (which == 1) CHECK(datum({0.0, 0.0, 0.5}, 5).x - datum({}, 5).x == Approx(-turned).margin(1e-9));  // the sweep back
}

TEST_CASE("without perspective all looks of an instant are parallel to the downward axis and begin at flying height", "[looks]") {
    const auto kind = instrumentOver(GENERATE(0, 1, 2, 3));
    const Setup s(sceneOf("slopes", oneBand(kind.first, kind.second),
                          {"flight.height=1500 m", "flight.roll=8 deg", "flight.pitch=-3 deg", "flight.yaw=10 deg", "flight.rough_air=1 deg"}));
    for (const double lean : {1.0, 0.0}) {
        const LookManner manner{lean, true, false};
        for (const int line : {0, 9}) {
            for (const int sample : {0, 100, s.instrument->samples() - 1}) {
                const Ray ray = lookRay(*s.instrument, s.motion, {}, manner, line, sample);
                const Mat3 turned = s.motion.at(s.instrument->lookTime_s(line, sample, 0.0)).world_from_platform;
                CHECK(glm::length(ray.direction - (lean == 0.0 ? Vec3{0.0, 0.0, -1.0} : turned[2])) < 1e-12);
                CHECK(ray.origin_m.z == Approx(1500.0).epsilon(1e-12));
            }
        }
    }
    // In the middle of the field the two agree.
    const LookManner with_it{}, without{1.0, true, false};
    const int n = s.instrument->samples(), lines = s.instrument->derived().lines_at_once;
    if (n % 2 == 1 && lines % 2 == 1) {
        const Vec3 apart = datumOf(lookRay(*s.instrument, s.motion, {}, with_it, lines / 2, n / 2)) - datumOf(lookRay(*s.instrument, s.motion, {}, without, lines / 2, n / 2));
        CHECK(glm::length(apart) < 1e-6);
    }
}
