// What scanners do to a grid of roads, 100 m apart, measured in the pictures: a whisk broom presses them together away
// from the nadir (panoramic distortion), a push broom keeps them evenly apart.

#include <catch2/catch.hpp>
#include <cmath>

#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// A grid of black lines, 6 m wide, every 100 m, under a flight due south at 1 km.
Scene overGrid(const std::string& kind, const std::string& keys, const Sets& more = {}) {
    return exposed(sceneOf(written(levelPlace(paint("grid", 0, 0, 4400, 4400, "period = \"100 m\"\nline_width = \"6 m\"\nmaterial = \"black\""), "4.6 km", "20 m")),
                           oneBand(kind, keys),
                           bare() + Sets{"flight.height=1 km", "flight.start_north=55 m", "flight.length=110 m", "sun.elevation=70 deg", "effect.sweep_motion=false"} + more));
}

const std::string whisk_keys = "focal_length = \"10 mm\"\nifov = \"1 mrad\"\nfov = \"110 deg\"";                                       // 1919 samples, +-55 degrees
const std::string push_keys = "focal_length = \"10 mm\"\ndetector_pitch = \"10 um\"\nsamples = 2856";  // 1 m cells, +-55 degrees

}  // namespace

TEST_CASE("a whisk broom presses the roads together: each lies at its angle atan(x / H)", "[distortion]") {
    const Image image = imageOf(overGrid("whisk-broom", whisk_keys));
    REQUIRE(image.samples() == 1919);
    // Between two roads that cross the track, only the roads along the track show.
    const auto roads = darkMiddles(lineOf(image, 5), 4000.0);
    REQUIRE(roads.size() == 29);  // -1400 m .. 1400 m: 1 km x tan 55 deg is 1428 m
    for (int i = 0; i < 29; ++i) {
        const double x = 100.0 * (i - 14);  // flying south: column 0 is starboard, the west; columns grow to the east
        INFO("road at " << x << " m");
        // A road of 6 m covers 1.9 to 6 pixels.
        CHECK(roads[static_cast<std::size_t>(i)] == Approx(0.5 * 1919 + std::atan(x / 1000.0) / 1e-3).epsilon(0.0).margin(0.6));
    }
    // The cell on the ground grows as sec^2: the road spacing at the edge in pixels is cos^2 of that at nadir.
    const double nadir = roads[15] - roads[14];
    const double edge = roads[28] - roads[27];
    CHECK(edge / nadir == Approx((std::atan(1.4) - std::atan(1.3)) / std::atan(0.1)).epsilon(0.05));
    CHECK(nadir / edge == Approx(1.0 / std::pow(std::cos(std::atan(1.35)), 2.0)).epsilon(0.05));  // 2.82
}

TEST_CASE("a push broom keeps the roads evenly apart: its ground cell is the same everywhere", "[distortion]") {
    const Image image = imageOf(overGrid("push-broom", push_keys));
    const auto roads = darkMiddles(lineOf(image, 5), 4000.0);
    REQUIRE(roads.size() == 29);
    for (int i = 0; i < 29; ++i) CHECK(roads[static_cast<std::size_t>(i)] == Approx(0.5 * 2856 + 100.0 * (i - 14)).epsilon(0.0).margin(0.6));
}

TEST_CASE("facts and pictures agree on how a whisk broom's cell grows", "[distortion]") {
    const Scene scene = overGrid("whisk-broom", whisk_keys);
    const Facts facts = factsOfScene(scene, 0);
    Formation formation(scene, 0);
    const int middle = 959, last = 1918;
    const double nadir_m = formation.groundPoint(5, middle + 1)->x - formation.groundPoint(5, middle)->x;
    const double edge_m = formation.groundPoint(5, last)->x - formation.groundPoint(5, last - 1)->x;
    CHECK(nadir_m == Approx(facts.flat.nadir.cell.spacing_across_m).epsilon(1e-3));
    CHECK(edge_m == Approx(facts.flat.edge.cell.spacing_across_m).epsilon(5e-3));  // a sample and a half inside the edge
    CHECK(facts.flat.edge.cell.across_m / facts.flat.nadir.cell.across_m == Approx(1.0 / std::pow(std::cos(0.5 * 1.919862), 2.0)).epsilon(1e-4));
    CHECK(facts.flat.edge.cell.along_m / facts.flat.nadir.cell.along_m == Approx(1.0 / std::cos(0.5 * 1.919862)).epsilon(1e-4));
}

TEST_CASE("a straight diagonal road becomes an S under a whisk broom and stays straight under a push broom", "[distortion]") {
    const std::string road = levelPlace(paint("solid", 0, 0, 4000, 8, "heading = \"45 deg\"\nmaterial = \"black\""), "4.6 km", "20 m");
    const auto bend = [&](const std::string& kind, const std::string& keys) {
        const Scene scene = exposed(sceneOf(written(road), oneBand(kind, keys),
                                            bare() + Sets{"flight.height=1 km", "flight.start_north=1200 m", "flight.length=2400 m", "sun.elevation=70 deg", "effect.sweep_motion=false"}));
        Formation formation(scene, 0);
        // Columns where the road crosses the lines of 1000 m and 500 m north, and of the middle.
        const auto at = [&](double north) {
            const int line = static_cast<int>((1200.0 - north) / 2400.0 * formation.lines());
            formation.form(line, line + 1);
            const auto found = darkMiddles(lineOf(formation.image(), line), 4000.0);
            REQUIRE(found.size() == 1);
            return found[0] - 0.5 * formation.samples();
        };
        const double share = at(500.0) / at(1000.0);
        CHECK(at(-1000.0) == Approx(-at(1000.0)).epsilon(0.01));  // point-symmetric: an S, no bow
        return share;
    };
    CHECK(bend("push-broom", push_keys) == Approx(0.5).epsilon(0.01));
    CHECK(bend("whisk-broom", whisk_keys) == Approx(std::atan(0.5) / std::atan(1.0)).epsilon(0.01));  // 0.590
}

TEST_CASE("while the mirror sweeps the aircraft moves: the end of a sweep lies ahead of its beginning", "[distortion]") {
    // One-way, duty cycle 100 %: a scan period is 1 mrad x 1 km / 70 m/s, so from first to last sample the aircraft flies
    // nearly one cell; with a tenth of the line rate ten cells.
    const Scene scene = with(overGrid("whisk-broom", whisk_keys + "\nduty_cycle = \"100 %\""), {"effect.sweep_motion=true", "instrument.line_rate=7 Hz"});
    Formation formation(scene, 0);
    const double first = formation.groundPoint(3, 0)->y;
    const double last = formation.groundPoint(3, formation.samples() - 1)->y;
    CHECK(first - last == Approx(10.0 * 1918.0 / 1919.0).epsilon(1e-3));  // flying south
    Formation still(with(scene, {"effect.sweep_motion=false"}), 0);
    CHECK(still.groundPoint(3, 0)->y == Approx(still.groundPoint(3, 1918)->y).margin(1e-3));
    CHECK(still.groundPoint(3, 0)->y == Approx(0.5 * (first + last)).margin(0.02));
}

TEST_CASE("the proving ground's own roads: even under the push broom, crowding at the edges under the whisk broom", "[distortion]") {
    const auto roadsOf = [](const std::string& preset) {
        Formation formation(exposed(sceneOf("proving-ground", preset, bare() + Sets{"quality.contributions=9", "flight.height=1500 m"})), 0);
        // A line half way between two roads that cross the track: 900 + 350 m north is 100 m after the start at 1350 m.
        const int line = static_cast<int>(100.0 / 2700.0 * formation.lines());
        formation.form(line, line + 1);
        // In infrared, the last band, asphalt is darker than the field.
        const auto counts = lineOf(formation.image(), line, 0);
        const double ground = counts[counts.size() / 2 + 5];
        std::vector<double> roads;
        for (double road : darkMiddles(counts, 0.8 * ground)) roads.push_back(road - 0.5 * static_cast<double>(counts.size()));
        return roads;
    };
    const auto push = roadsOf("push-broom");
    REQUIRE(push.size() >= 22);
    for (std::size_t i = 1; i + 2 < push.size(); ++i) CHECK(push[i + 1] - push[i] == Approx(100.0 / (1500.0 * 13.0 / 11000.0)).epsilon(0.0).margin(1.2));
    const auto whisk = roadsOf("whisk-broom");
    REQUIRE(whisk.size() >= 20);
    const std::size_t n = whisk.size();
    CHECK(whisk[n / 2] - whisk[n / 2 - 1] > 1.3 * (whisk[n - 2] - whisk[n - 3]));
}
