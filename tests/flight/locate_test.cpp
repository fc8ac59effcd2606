#include "flight/locate.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/effort.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// Everything that moves and turns a platform.
const Sets& rough() {
    static const Sets sets{"flight.roll=4 deg", "flight.pitch=-2 deg", "flight.yaw=3 deg", "flight.roll_swing=1 deg", "flight.pitch_swing=0.5 deg",
                           "flight.roll_period=6 s", "flight.rough_air=0.1 deg", "flight.wind_speed=12 m/s", "flight.wind_from=240 deg"};
    return sets;
}

double offOf(const Ray& ray, const Vec3& point) {
    return glm::length(glm::cross(point - ray.origin_m, ray.direction));
}

/// A pixel at random, and what its line of sight meets.
struct Look {
    int line, sample;
    GroundHit hit;
};
Look lookAt(const Aim& aim, Draws& draws) {
    const int line = static_cast<int>(draws.uniform() * aim.lines()), sample = static_cast<int>(draws.uniform() * aim.samples());
    return {line, sample, aim.ground().intersect(aim.ray(line, sample))};
}

/// How many of those that meet the ground are found.
struct Finds {
    int tried = 0, found = 0;
    void checkAll() const {
        CHECK(tried > 0);
        CHECK(found == tried);
    }
};

}  // namespace

TEST_CASE("the ground that a pixel met is found at that pixel again, in every place, with every instrument, in rough air", "[locate]") {
    const std::string place = GENERATE("slopes", "proving-ground", "hill-and-hollow");
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const Sets manner = GENERATE(Sets{}, Sets{"effect.sweep_motion=false"}, Sets{"effect.perspective=false"}, Sets{"flight.lean=3"}, Sets{"effect.relief=false"});
    const Locator locator(sceneOf(place, preset, rough() + manner), 0);
    const Aim& aim = locator.aim();
    Draws draws(7, 1);
    Finds finds;
    double most = 0.0;
    for (int i = 0; i < effort(300); ++i) {
        const auto [line, sample, hit] = lookAt(aim, draws);
        if (hit.meets == Meets::sky) continue;
        ++finds.tried;
        const auto at = locator.locate(hit.point_m);
        if (!at) continue;
        ++finds.found;
        most = std::max({most, std::abs(at->sample - sample - 0.5), std::abs(at->line - line - 0.5)});
        const auto seen = locator.seen(hit.point_m);
        REQUIRE(seen);
        CHECK(seen->visible);
    }
    INFO(place << ", " << preset);
    finds.checkAll();
    CHECK(most < 0.02);
}

TEST_CASE("between pixels' centres a point is found where the instrument's own look of that share passes it", "[locate]") {
    struct Kind {
        std::string preset;
        bool across, along;  // does a share of the footprint, or of the dwell, lead evenly from pixel to pixel?
        double dwell;
    };
    const Kind kind = GENERATE(Kind{"whisk-broom", false, false, 0.4}, Kind{"push-broom", true, false, 0.0}, Kind{"frame-camera", true, true, 0.0});
    const Locator locator(sceneOf("slopes", kind.preset, rough()), 0);
    const Aim& aim = locator.aim();
    Draws draws(7, 2);
    for (int i = 0; i < effort(200); ++i) {
        const int line = static_cast<int>(draws.uniform() * aim.lines()), sample = static_cast<int>(draws.uniform() * aim.samples());
        Offset offset;
        double sample_share = 0.0, line_share = 0.0;
        if (kind.across) sample_share = offset.across = draws.between(-0.5, 0.5);
        if (kind.along) line_share = offset.along = draws.between(-0.5, 0.5);
        if (kind.dwell > 0.0) sample_share = offset.dwell_share = draws.between(-0.5, 0.5);  // a mirror turns by a step in a dwell
        const GroundHit hit = aim.ground().intersect(aim.ray(line, sample, offset));
        if (hit.meets == Meets::sky) continue;
        const auto at = locator.locate(hit.point_m);
        REQUIRE(at);
        CHECK(at->sample == Approx(sample + 0.5 + sample_share).margin(0.02));
        CHECK(at->line == Approx(line + 0.5 + line_share).margin(0.02));
        CHECK(offOf(locator.rayAt(*at), hit.point_m) < 0.02 * 10.0);
    }
}

TEST_CASE("where lines fold over each other - many detectors, to and fro, rough air - the look of the place found passes the point", "[locate]") {
    const Sets more = GENERATE(Sets{"instrument.detectors=8", "instrument.sweep=two-way"}, Sets{"flight.rough_air=2 deg", "flight.rough_period=1 s"},
                               Sets{"instrument.detectors=16", "flight.roll_swing=10 deg", "flight.roll_period=4 s"});
    const Locator locator(sceneOf("slopes", "whisk-broom", more), 0);
    const Aim& aim = locator.aim();
    Draws draws(7, 3);
    Finds finds;
    for (int i = 0; i < effort(400); ++i) {
        const auto [line, sample, hit] = lookAt(aim, draws);
        if (hit.meets == Meets::sky) continue;
        ++finds.tried;
        const auto at = locator.locate(hit.point_m);
        if (!at) continue;
        ++finds.found;
        CHECK(offOf(at->ray, hit.point_m) < 1e-6);
        // Rays mixed from the looks about it pass as near as a few hundredths of the way between those looks.
        const int l = std::clamp(static_cast<int>(at->line - 0.5), 0, aim.lines() - 2), s = std::clamp(static_cast<int>(at->sample - 0.5), 0, aim.samples() - 2);
        const Vec2 from = *meetsLevel(aim.ray(l, s), hit.point_m.z), to = *meetsLevel(aim.ray(l + 1, s + 1), hit.point_m.z);
        CHECK(offOf(locator.rayAt(*at), hit.point_m) < 0.05 * glm::length(to - from) + 0.01);
    }
    finds.checkAll();
}

TEST_CASE("a point beside the swath, before its first line, or above the platform is not in the picture", "[locate]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera");
    const Locator locator(sceneOf("slopes", preset, {"flight.height=1500 m", "flight.length=1000 m", "flight.start_north=500 m"}), 0);
    const Aim& aim = locator.aim();
    Offset outer;
    outer.across = 0.5;
    const double edge_m = meetsLevel(aim.ray(aim.lines() / 2, aim.samples() - 1, outer), 0.0)->x;  // flying south: the last sample is the eastern
    REQUIRE(edge_m > 500.0);
    CHECK(locator.locate({0.0, 0.0, 0.0}));
    CHECK(locator.locate({edge_m - 5.0, 0.0, 0.0}));
    CHECK_FALSE(locator.locate({edge_m + 5.0, 0.0, 0.0}));
    CHECK_FALSE(locator.locate({0.0, 2500.0, 0.0}));
    CHECK_FALSE(locator.locate({0.0, 0.0, 1600.0}));
    // Half a footprint beyond the outermost centres is field: the edge of the field is the edge of the picture.
    const auto at = locator.locate({edge_m - 0.1, 0.0, 0.0});
    REQUIRE(at);
    CHECK(at->sample > aim.samples() - 0.2);
    CHECK(at->sample <= aim.samples());
}

TEST_CASE("a picture of one line or of one column is crossed from edge to edge", "[locate]") {
    const bool column = GENERATE(true, false);
    const std::string keys = "focal_length = \"10 mm\"\ndetector_pitch = \"100 um\"\nsamples = " + std::string(column ? "1" : "101") + "\nrows = " + (column ? "101" : "1");
    const Locator locator(sceneOf(written(levelPlace()), oneBand("frame-camera", keys), {"flight.height=1 km", "flight.start_north=2 km", "flight.length=4 km"}), 0);
    // Cells of 10 m; flying south, columns grow east and rows south.
    const Vec3 point = column ? Vec3{3.0, -104.0, 0.0} : Vec3{104.0, -3.0, 0.0};
    const auto at = locator.locate(point);
    REQUIRE(at);
    CHECK(at->sample == Approx(column ? 0.8 : 50.5 + 10.4).margin(1e-3));
    CHECK(at->line == Approx(column ? 50.5 + 10.4 : 0.8).margin(1e-3));
    CHECK_FALSE(locator.locate(column ? Vec3{5.5, 0.0, 0.0} : Vec3{0.0, 5.5, 0.0}));
}

TEST_CASE("a point behind a tower is hidden, and it is told by what", "[locate]") {
    // Seen from 1 km over the nadir, a tower of 100 m at 500 m hides the ground behind it for 500 x 100 / 900 = 55.6 m.
    const std::string place = levelPlace(tower(500, 0, 20, 100) + "name = \"chimney\"\n", "2 km");
    const Locator locator(sceneOf(written(place), oneBand("push-broom", "focal_length = \"10 mm\"\ndetector_pitch = \"20 um\"\nsamples = 1000"),
                                  {"flight.height=1 km", "flight.start_north=300 m", "flight.length=600 m"}), 0);
    const auto before = locator.seen({485.0, 0.0, 0.0}), behind = locator.seen({530.0, 0.0, 0.0}), beyond = locator.seen({570.0, 0.0, 0.0});
    const auto top = locator.seen({500.0, 0.0, 100.0}), foot = locator.seen({509.9, 0.0, 0.0}), inside = locator.seen({500.0, 0.0, 50.0});
    REQUIRE((before && behind && beyond && top && foot && inside));
    CHECK(before->visible);
    CHECK(beyond->visible);
    CHECK(top->visible);
    CHECK_FALSE(behind->visible);
    CHECK(behind->hidden_by == "chimney");
    CHECK(behind->object == 0);
    REQUIRE(behind->hidden_at_m);
    CHECK(behind->hidden_at_m->z > 30.0);
    CHECK_FALSE(foot->visible);
    CHECK_FALSE(inside->visible);
    // The top leans outwards to where the ground behind by 55.6 m is seen.
    const auto ground = locator.locate({500.0 + 500.0 * 100.0 / 900.0, 0.0, 0.0});
    REQUIRE(ground);
    CHECK(top->at.sample == Approx(ground->sample).margin(1e-6));
    CHECK(top->at.line == Approx(ground->line).margin(1e-6));
}
