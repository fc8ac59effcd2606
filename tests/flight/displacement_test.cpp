#include "flight/displacement.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

constexpr double focal_m = 0.1524;
constexpr double pitch_m = 50e-6;

/// A frame camera over a tower whose top appears at `top_m` from the nadir in the focal plane; it stands to the east.
Scene photograph(double height_m, double flying_height_m, double ground_height_m, double top_m) {
    const double above = flying_height_m - ground_height_m;
    const double away = top_m * (above - height_m) / focal_m;
    const std::string place = levelPlace(tower(away, 0, 10, height_m), metres(3.0 * away), "20 m", metres(ground_height_m));
    const std::string keys = "focal_length = \"" + metres(focal_m) + "\"\ndetector_pitch = \"50 um\"\nsamples = 6000\nrows = 40";
    return sceneOf(written(place), oneBand("frame-camera", keys),
                   {"flight.height=" + metres(flying_height_m), "flight.start_north=1000 m", "flight.length=2000 m"});
}

}  // namespace

TEST_CASE("published relief displacements, d = r h / H, measured from the arrows", "[displacement]") {
    // The same examples as in relief_displacement_test.cpp (optical.md, Vertical photograph), here through places that are
    // searched for: the top, and the foot under it.
    struct Example {
        double height_m, flying_m, ground_m, r_m, d_m, tolerance_m;
    };
    const Example e = GENERATE(Example{72.0, 1000.0, 0.0, 0.1, 7.2e-3, 1e-6}, Example{115.0, 1340.0, 0.0, 0.06455, 5.54e-3, 5e-6},
                               Example{130.0, 2840.0, 0.0, 0.08, 3.66e-3, 5e-6}, Example{123.0, 535.0, 259.0, 0.1217, 54.1e-3, 0.2e-3});
    const TwoPictures pictures = picturesBy(photograph(e.height_m, e.flying_m, e.ground_m, e.r_m), 0);
    const std::vector<Displacement> all = displacements(pictures);
    const auto top = std::find_if(all.begin(), all.end(), [](const Displacement& d) { return d.object == 0; });
    REQUIRE(top != all.end());
    CHECK(top->visible);
    const auto foot = pictures.with.locate({top->true_m.x, top->true_m.y, e.ground_m});
    REQUIRE(foot);
    const double middle = 3000.0;
    CHECK(std::abs(top->seen.sample - middle) * pitch_m == Approx(e.r_m).epsilon(1e-6));
    CHECK(std::abs(top->seen.sample - foot->sample) * pitch_m == Approx(e.d_m).margin(e.tolerance_m));
    // On the map at datum the same law holds with the height over datum: the vector is r h / H, r from the nadir to the top.
    const double over_datum = e.ground_m + e.height_m;
    CHECK(glm::length(top->vector_m) == Approx(top->map_m.x * over_datum / e.flying_m).epsilon(1e-9));
    CHECK(top->vector_m.x > 0.0);  // outwards
    CHECK(top->vector_m.y == Approx(0.0).margin(1e-6));
    // Home is the true place: where a map of the datum has it.
    CHECK((top->home.sample - middle) * pitch_m * e.flying_m / focal_m == Approx(top->true_m.x).epsilon(1e-6));
}

TEST_CASE("arrows of the proving ground point away from the nadir, lengthen with height and distance, and the largest come first", "[displacement]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera");
    const Scene scene = sceneOf("proving-ground", preset);
    const TwoPictures pictures = picturesBy(scene, 0);
    const std::vector<Displacement> all = displacements(pictures);
    REQUIRE(all.size() >= 4);
    const double height = scene.flightSettings().height_m;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Displacement& d = all[i];
        if (i > 0) CHECK(all[i - 1].pixels() >= d.pixels());
        // Flying south over the middle: the nadir of a line is x = 0, of the frame the middle of the place.
        const Vec2 out = preset == "frame-camera" ? Vec2{d.map_m.x, d.map_m.y} : Vec2{d.map_m.x, 0.0};
        CHECK(glm::length(d.vector_m - out * (d.true_m.z / height)) < 0.02 * glm::length(d.vector_m) + 0.05);
    }
    CHECK(all.front().object >= 0);
    DisplacementRequest few;
    few.most_objects = 2;
    few.most_points = 0;
    CHECK(displacements(pictures, few).size() == 2);
}

TEST_CASE("without relief nothing is displaced, and a cause of light displaces nothing", "[displacement]") {
    CHECK(displacements(picturesBy(sceneOf("proving-ground", "push-broom", {"effect.relief=false"}), 0)).empty());
    CHECK(displacements(picturesBy(sceneOf("proving-ground", "whisk-broom"), 0, Cause::cast_shadow)).empty());
}

TEST_CASE("arrows of attitude: a roll of 2 degrees moves the picture by tan 2 degrees of the focal length", "[displacement]") {
    const Scene scene = sceneOf(written(levelPlace("", "2 km")), oneBand("push-broom", "focal_length = \"10 mm\"\ndetector_pitch = \"10 um\"\nsamples = 1000"),
                                {"flight.height=1 km", "flight.start_north=400 m", "flight.length=800 m", "flight.roll=2 deg"});
    const std::vector<Displacement> all = displacements(picturesBy(scene, 0, Cause::attitude));
    REQUIRE(all.size() > 10);
    for (const Displacement& d : all) {
        // Starboard goes down: the picture looks to port, and what lies below appears nearer to starboard, to column 0. A point
        // that was seen at an angle a is seen at a + 2 degrees.
        const double before = std::atan((500.0 - d.home.sample) / 1000.0);
        CHECK((500.0 - d.seen.sample) / 1000.0 == Approx(std::tan(before + radiansFromDegrees(2.0))).margin(1e-4));
        CHECK(d.seen.line == Approx(d.home.line).margin(1e-3));
        CHECK(glm::length(d.vector_m) < 1e-6);  // the map knows the attitude
    }
}

TEST_CASE("arrows of the sweep's motion and of perspective are those of their formulas", "[displacement]") {
    const Scene scene = sceneOf(written(levelPlace("", "2 km")), oneBand("whisk-broom", "focal_length = \"10 mm\"\nifov = \"2 mrad\"\nfov = \"60 deg\"\nduty_cycle = \"100 %\""),
                                {"flight.height=1 km", "flight.start_north=400 m", "flight.length=800 m"});
    DisplacementRequest request;
    request.least_pixels = 0.05;
    const std::vector<Displacement> swept = displacements(picturesBy(scene, 0, Cause::sweep_motion), request);
    REQUIRE(swept.size() > 10);
    const double samples = 523.0;
    for (const Displacement& d : swept) {
        // From the first to the last sample the aircraft flies one line: the last samples look ahead, so a thing lies on an
        // earlier line there.
        CHECK(d.home.line - d.seen.line == Approx(d.seen.sample / samples - 0.5).margin(2e-3));
        CHECK(d.home.sample == Approx(d.seen.sample).margin(1e-3));
    }
    const std::vector<Displacement> panoramic = displacements(picturesBy(with(scene, {"effect.sweep_motion=false"}), 0, Cause::perspective), request);
    REQUIRE(panoramic.size() > 10);
    for (const Displacement& d : panoramic) {
        // x = H tan(a) with perspective, x = H a' without: samples of 2 mrad against cells of 2 m.
        const double a = (d.seen.sample - 0.5 * samples) * 2e-3, x = (d.home.sample - 0.5 * samples) * 2e-3;
        CHECK(x == Approx(std::tan(a)).margin(1e-4));
    }
}

TEST_CASE("a ghost is the true outline: with relief the top stands beside it, as far as the arrow says", "[displacement]") {
    const TwoPictures pictures = picturesBy(sceneOf(written(levelPlace(tower(300, 0, 40, 100) + "[[object]]\nshape = \"box\"\neast = \"-300 m\"\nnorth = \"0 m\"\nlength = \"60 m\"\nwidth = \"20 m\"\nheight = \"50 m\"\nheading = \"30 deg\"\nmaterial = \"white\"\n"
                                                                       "[[object]]\nshape = \"pyramid\"\neast = \"-150 m\"\nnorth = \"0 m\"\nlength = \"60 m\"\nwidth = \"60 m\"\nheight = \"50 m\"\nmaterial = \"white\"\n")),
                                            oneBand("frame-camera", "focal_length = \"10 mm\"\ndetector_pitch = \"20 um\"\nsamples = 801\nrows = 801"),
                                            {"flight.height=1 km", "flight.start_north=400 m", "flight.length=800 m"}), 0);
    const std::vector<int> both{0, 1, 2};
    const std::vector<Ghost> ghosts = ghostOutlines(pictures, both);
    REQUIRE(ghosts.size() == 3);
    for (const Ghost& g : ghosts) {
        INFO(g.name);
        const Object& object = pictures.with.aim().ground().objects()[static_cast<std::size_t>(g.object)];
        REQUIRE(g.truth.size() == g.truth_m.size());
        REQUIRE(g.foot.size() == g.truth_m.size());
        for (std::size_t i = 0; i < g.truth_m.size(); ++i) {
            // Cells of 2 m about the middle pixel; the foot lies at datum, so it is where the truth is. Columns grow east, rows south.
            CHECK(g.truth[i].sample == Approx(400.5 + 0.5 * g.truth_m[i].x).margin(1e-3));
            CHECK(g.truth[i].line == Approx(400.5 - 0.5 * g.truth_m[i].y).margin(1e-3));
            CHECK(g.foot[i].sample == Approx(g.truth[i].sample).margin(1e-3));
            CHECK(glm::length(g.foot_map_m[i] - g.truth_m[i]) < 1e-6);
        }
        if (g.object == 2) {
            REQUIRE(g.top.size() == 1);
            CHECK(g.top_map_m[0].x == Approx(-150.0 / 0.95).epsilon(1e-9));
            continue;
        }
        REQUIRE(g.top.size() == g.truth_m.size());
        for (std::size_t i = 0; i < g.truth_m.size(); ++i) {
            CHECK(glm::length(g.top_map_m[i] - g.truth_m[i] / (1.0 - object.height_m / 1000.0)) < 1e-6);
            CHECK(object.surfaceOver(object.east_m + 0.999 * (g.truth_m[i].x - object.east_m), object.north_m + 0.999 * (g.truth_m[i].y - object.north_m)));
            CHECK_FALSE(object.surfaceOver(object.east_m + 1.06 * (g.truth_m[i].x - object.east_m), object.north_m + 1.06 * (g.truth_m[i].y - object.north_m)));
        }
    }
}
