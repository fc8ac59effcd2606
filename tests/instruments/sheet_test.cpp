// The fast paths of looking back and of seeing the sun against the plain search, over the whole rough island.

#include "instruments/looks.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "ground/sun_field.h"
#include "scene/scene.h"
#include "support/effort.h"

using namespace linefall;
using linefall::test::effort;

namespace {

/// One island for all tests of this file: it takes most of a second to make.
const Ground& island() {
    static const auto place = loadPlace("island");
    return *place->ground;
}

struct Difference {
    int samples = 0;
    int far = 0;      ///< points more than 0.1 m apart
    int other = 0;    ///< met another kind of thing or another object's material
};

Difference againstPlainSearch(const std::string& instrument_name, std::vector<std::string> sets, int every) {
    SceneRequest request;
    request.place = "slopes";  // only the instrument and the flight are needed
    request.needs_ground = false;
    request.instruments = {instrument_name};
    request.flight = "island";
    request.sets = std::move(sets);
    const Scene scene = loadScene(request);
    Problems problems;
    const auto instrument = makeInstrument(scene, 0, problems);
    REQUIRE(problems.empty());
    const FlightSettings flight = scene.flightSettings();
    const Motion motion(flight);
    const LookManner manner = lookManner(flight, effectKeys().read(scene.settings));
    const std::vector<Offset> offsets{Offset{}};
    Difference d;
    LineLooks looks;
    for (int line = 0; line < instrument->lines(); line += every) {
        lookBack(*instrument, motion, island(), offsets, manner, line, looks);
        for (int s = 0; s < instrument->samples(); ++s) {
            const GroundHit hit = island().intersect(lookRay(*instrument, motion, Offset{}, manner, line, s));
            const auto i = static_cast<std::size_t>(s);
            const Vec3 kept(looks.x_m[i], looks.y_m[i], looks.z_m[i]);
            ++d.samples;
            if (hit.meets != looks.meets[i] || hit.material != looks.material[i]) ++d.other;
            if (hit.meets != Meets::sky && glm::length(kept - hit.point_m) > 0.1) ++d.far;
        }
    }
    return d;
}

}  // namespace

TEST_CASE("a line walked as a sheet meets what a plain search meets, at every heading and attitude") {
    const std::vector<std::vector<std::string>> flights{
        {},
        {"flight.heading=157 deg", "flight.start_east=-400 m"},
        {"flight.heading=90 deg", "flight.start_east=-2500 m", "flight.start_north=-1800 m"},
        {"flight.roll=7 deg", "flight.yaw=-4 deg"},
        {"flight.roll=-20 deg"},
        {"flight.pitch=3 deg"},
        {"flight.roll_swing=2 deg", "flight.pitch_swing=1 deg", "flight.yaw_swing=3 deg", "flight.rough_air=0.5 deg"},
        {"flight.wind_speed=20 m/s", "flight.wind_from=250 deg"},
        {"flight.lean=3"},
        {"flight.height=1200 m"},
        {"effect.relief=false", "flight.rough_air=0.5 deg"},
        {"effect.perspective=false", "flight.roll_swing=6 deg", "flight.pitch=4 deg"},
    };
    const int every = 1100 / effort(100);
    for (const std::string instrument : {"push-broom", "whisk-broom", "frame-camera"}) {
        for (const auto& sets : flights) {
            const Difference d = againstPlainSearch(instrument, sets, every);
            CAPTURE(instrument, sets, d.samples);
            CHECK(d.far == 0);
            // A hit within a rounding error of the border of two materials may fall to either side.
            CHECK(d.other * 100000 <= d.samples);
        }
    }
}

TEST_CASE("a two-way sweep of several detectors is walked as a sheet as well") {
    const Difference d = againstPlainSearch("whisk-broom", {"instrument.detectors=8", "instrument.sweep=two-way"}, 1300 / effort(100));
    CHECK(d.far == 0);
}

TEST_CASE("the sun field answers as the walk to the sun does, but for grazing rays of fewer than one in 100 000") {
    const int side = effort(700) > 100 ? effort(700) : 100;
    for (const double azimuth_deg : {0.0, 45.0, 128.0, 200.0, 301.0}) {
        for (const double elevation_deg : {4.0, 15.0, 37.0, 70.0, 90.0}) {
            const double e = radiansFromDegrees(elevation_deg);
            const double a = radiansFromDegrees(azimuth_deg);
            const Vec3 towards{std::cos(e) * std::sin(a), std::cos(e) * std::cos(a), std::sin(e)};
            const SunField field(island(), towards, 2);
            int asked = 0, different = 0, blocked = 0;
            for (int j = 0; j < side; ++j) {
                for (int i = 0; i < side; ++i) {
                    const double step = 8100.0 / side;  // a little beyond the edges of the place
                    const GroundHit hit = island().intersect({{-4050.0 + (i + 0.31) * step, -4050.0 + (j + 0.77) * step, 3000.0}, {0.0, 0.0, -1.0}});
                    if (glm::dot(hit.normal, towards) <= 0.0) continue;
                    const bool plain = island().blocked(hit.point_m, hit.normal, towards);
                    ++asked;
                    blocked += plain ? 1 : 0;
                    different += field.blocked(hit.point_m, hit.normal) != plain ? 1 : 0;
                }
            }
            CAPTURE(azimuth_deg, elevation_deg, asked, blocked, different);
            CHECK(different * 100000 <= asked);
            if (elevation_deg < 20.0) CHECK(blocked > asked / 50);
        }
    }
}
