// What every instrument promises, asked of all of them.

#include "instruments/instrument.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

std::unique_ptr<Instrument> made(const std::string& preset, const Sets& sets = {}) {
    Problems problems;
    auto instrument = makeInstrument(sceneOf("slopes", preset, sets, false), 0, problems);
    REQUIRE(problems.empty());
    return instrument;
}

}  // namespace

TEST_CASE("looks are unit vectors downwards whose time is the look's time", "[instrument]") {
    const auto i = made(GENERATE("whisk-broom", "push-broom", "frame-camera", "eye"));
    for (const int line : {0, i->lines() / 2, i->lines() - 1}) {
        for (const int sample : {0, i->samples() / 3, i->samples() - 1}) {
            for (const Offset& o : {Offset{}, Offset{0.4, -0.3, 0.25}, Offset{-0.5, 0.5, -0.5}}) {
                const PlatformLook look = i->look(line, sample, o);
                CHECK(glm::length(look.direction) == Approx(1.0).epsilon(1e-14));
                CHECK(look.direction.z > 0.0);
                CHECK(look.time_s == i->lookTime_s(line, sample, o.dwell_share));
                CHECK(look.time_s >= 0.0);
            }
            CHECK(i->detectorOf(line, sample) >= 0);
            CHECK(i->detectorOf(line, sample) < i->derived().detectors);
            CHECK(i->lookTime_s(line, sample, 0.5) - i->lookTime_s(line, sample, -0.5) == Approx(i->derived().dwell_s).epsilon(1e-9));
            CHECK(i->lookTime_s(line, sample, 0.5) <= i->lineDone_s(line) * (1.0 + 1e-12));
        }
    }
}

TEST_CASE("an offset of one pitch is the place of the neighbour: footprints touch", "[instrument]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const auto i = made(preset);
    const int line = i->lines() / 2, sample = i->samples() / 4;
    const Vec3 across = i->look(line, sample, {1.0, 0.0, 0.0}).direction, next = i->look(line, sample + 1, {}).direction;
    CHECK(glm::length(across - next) < 1e-9);
    const double step = std::acos(std::min(1.0, glm::dot(i->look(line, i->samples() / 2, {}).direction, i->look(line, i->samples() / 2 + 1, {}).direction)));
    CHECK(step == Approx(i->derived().ifov_rad).epsilon(1e-3));
    if (preset == "frame-camera") CHECK(glm::length(i->look(line, sample, {0.0, 1.0, 0.0}).direction - i->look(line + 1, sample, {}).direction) < 1e-9);
}

TEST_CASE("the field's edge is half an IFOV beyond the outer sample's centre", "[instrument]") {
    const auto i = made(GENERATE("push-broom", "frame-camera"));
    const double height = 3000.0;
    const Vec3 outer = i->look(i->lines() / 2, 0, {-0.5, 0.0, 0.0}).direction;
    CHECK(i->field(1.0, false)->ground_distance_m == Approx(height * outer.y / outer.z).epsilon(1e-9));
    CHECK(i->field(0.0, false)->ground_distance_m == 0.0);
    CHECK(i->field(0.0, true)->cell.across_m == Approx(i->field(0.0, false)->cell.across_m).epsilon(1e-12));
}

TEST_CASE("on a sphere the sine law gives zenith angle - distance and footprint of the edge", "[instrument]") {
    // sin z = (R + H) / R sin t; g = z - t; slant D = R sin g / sin t; across = b D / cos z; along = b D (optical.md, Whisk broom).
    const auto i = made("whisk-broom", {"flight.height=705 km", "flight.speed=6.7 km/s", "flight.length=100 km", "instrument.fov=110 deg"});
    const double r = 6378137.0, t = 0.5 * i->derived().fov_rad, b = i->derived().ifov_rad;
    const double z = std::asin((r + 705e3) / r * std::sin(t)), g = z - t, d = r * std::sin(g) / std::sin(t);
    const auto edge = i->field(1.0, true);
    REQUIRE(edge.has_value());
    CHECK(edge->zenith_rad == Approx(z).epsilon(1e-12));
    CHECK(edge->ground_distance_m == Approx(r * g).epsilon(1e-12));
    CHECK(edge->cell.across_m == Approx(b * d / std::cos(z)).epsilon(1e-12));
    CHECK(edge->cell.along_m == Approx(b * d).epsilon(1e-12));
    // The same triangle by the cosine law.
    CHECK(d * d == Approx(r * r + (r + 705e3) * (r + 705e3) - 2.0 * r * (r + 705e3) * std::cos(g)).epsilon(1e-9));
}
