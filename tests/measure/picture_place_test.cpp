#include "measure/picture_place.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Scene overIsland(const std::string& preset, const Sets& sets = {}) {
    return sceneOf("hill-and-hollow", preset, Sets{"flight.length=400 m", "flight.roll_swing=2 deg", "flight.roll_period=7 s"} + sets);
}

}  // namespace

TEST_CASE("at a pixel's centre a place looks where the kept look does", "[place]") {
    const std::string preset = GENERATE("push-broom", "whisk-broom", "frame-camera");
    const std::string quality = GENERATE("quality.contributions=1", "quality.contributions=9");
    Formation formation(overIsland(preset, {quality}), 0);
    for (int line = 0; line < formation.lines(); line += 1 + formation.lines() / 7) {
        for (int sample = 0; sample < formation.samples(); sample += 1 + formation.samples() / 11) {
            const auto kept = formation.groundPoint(line, sample);
            const auto here = groundAt(formation, centreOf(sample, line));
            REQUIRE(kept.has_value());
            REQUIRE(here.has_value());
            REQUIRE(glm::length(*kept - *here) < 1e-3);  // kept points are of single precision
            CHECK(lookTimeAt_s(formation, centreOf(sample, line)) == formation.lookTime_s(line, sample));
        }
    }
}

TEST_CASE("between centres a place looks where a displaced look does", "[place]") {
    // A frame's detectors lie on a plane: a place between pixels is a look with an offset, which the frame can make itself.
    const Formation formation(overIsland("frame-camera"), 0);
    for (const double across : {0.0, 0.25, 0.5, 0.75}) {
        for (const double along : {0.0, 0.4}) {
            const Ray between = rayAt(formation, {123.5 + across, 40.5 + along});
            const Ray displaced = formation.ray(40, 123, {across, along, 0.0});
            CHECK(glm::length(between.direction - displaced.direction) < 1e-7);
            CHECK(glm::length(between.direction) == Approx(1.0).epsilon(1e-14));
        }
    }
    // At the picture's edge the look is carried on by half a pixel.
    CHECK(glm::length(rayAt(formation, {0.0, 0.0}).direction - formation.ray(0, 0, {-0.5, -0.5, 0.0}).direction) < 1e-7);
    const Ray corner = formation.ray(formation.lines() - 1, formation.samples() - 1, {0.5, 0.5, 0.0});
    CHECK(glm::length(rayAt(formation, {1.0 * formation.samples(), 1.0 * formation.lines()}).direction - corner.direction) < 1e-7);
}

TEST_CASE("between the lines of a push broom the platform has moved on by a share of the line", "[place]") {
    const Formation formation(overIsland("push-broom"), 0);
    const Vec3 before = rayAt(formation, {300.5, 20.5}).origin_m;
    const Vec3 after = rayAt(formation, {300.5, 21.5}).origin_m;
    const Vec3 between = rayAt(formation, {300.5, 20.75}).origin_m;
    CHECK(glm::length(between - (0.75 * before + 0.25 * after)) < 1e-9);
    CHECK(glm::length(sensorAt(formation, {300.5, 20.75}) - between) < 1e-9);
}

TEST_CASE("a picture of one line lets a place move within the footprint", "[place]") {
    const Formation formation(sceneOf(written(levelPlace()), oneBand("frame-camera", "samples = 11\nrows = 1\nfocal_length = \"100 mm\"\ndetector_pitch = \"1 mm\""),
                                      bare() + Sets{"flight.height=1000 m"}), 0);
    const Vec3 low = *levelAt(formation, {5.5, 0.0}, 0.0);
    const Vec3 high = *levelAt(formation, {5.5, 1.0}, 0.0);
    CHECK(glm::length(high - low) == Approx(10.0).epsilon(1e-6));
}

TEST_CASE("a level plane is met where the look crosses it, and not from below", "[place]") {
    const Formation formation(overIsland("frame-camera"), 0);
    const PicturePlace place{200.2, 100.9};
    const auto at = levelAt(formation, place, 25.0);
    REQUIRE(at.has_value());
    CHECK(at->z == Approx(25.0).margin(1e-9));
    const Ray ray = rayAt(formation, place);
    CHECK(glm::length(glm::cross(glm::normalize(*at - ray.origin_m), ray.direction)) < 1e-12);
    CHECK_FALSE(levelAt(formation, place, ray.origin_m.z + 1.0).has_value());
}

TEST_CASE("a place belongs to the pixel that holds it, and outside to the nearest", "[place]") {
    const Formation formation(overIsland("frame-camera"), 0);
    CHECK(pixelAt(formation, {7.0, 3.999}) == PixelIndex{7, 3});
    CHECK(pixelAt(formation, {-4.0, 1e9}) == PixelIndex{0, formation.lines() - 1});
    CHECK(inPicture(formation, {0.0, 0.0}));
    CHECK_FALSE(inPicture(formation, {-0.01, 0.0}));
}
