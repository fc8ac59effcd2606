#include <catch2/catch.hpp>

#include "scene/scene.h"
#include "view/outline.h"

namespace linefall {

namespace {

/// A flight over a small place of the program's own, with few samples.
Scene smallScene(const std::string& instrument, const std::string& setting) {
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {instrument};
    request.sets = {setting, "flight.height=800 m", "flight.length=400 m"};
    request.threads = 1;
    return loadScene(request);
}

}  // namespace

TEST_CASE("The nearest sample to the ground point of a sample is that sample") {
    Formation formation(smallScene("push-broom", "A.instrument.samples=90"), 0);
    formation.formAll(1);
    for (const Pixel& pixel : {Pixel{3, 4}, Pixel{20, 45}, Pixel{formation.lines() - 2, 88}}) {
        const std::optional<Vec3> ground = formation.groundPoint(pixel.line, pixel.sample);
        REQUIRE(ground);
        const std::optional<Nearest> found = nearestSample(formation, formation.lines(), *ground);
        REQUIRE(found);
        CHECK(found->off_m == Approx(0.0).margin(1e-3));
        CHECK(found->pixel == pixel);
    }
    CHECK_FALSE(nearestSample(formation, 0, {0.0, 0.0, 0.0}));
}

TEST_CASE("Lines on the ground end where the kept looks end, and the swath's edges are the outer samples") {
    Formation formation(smallScene("push-broom", "A.instrument.samples=90"), 0);
    const LookManner manner;
    const std::vector<Vec3> points = lineOnGround(formation, manner, 10, 2);
    const std::optional<Vec3> first = formation.groundPoint(10, 0), last = formation.groundPoint(10, 89);
    REQUIRE(first);
    REQUIRE(last);
    CHECK(glm::length(points[0] - *first) < 0.01);
    CHECK(glm::length(points[1] - *last) < 0.01);
    const SwathEdges edges = swathEdges(formation, manner, 8);
    CHECK(edges.lines.front() == 0);
    CHECK(edges.lines.back() == formation.lines() - 1);
    const std::vector<Vec3> cell = footprint(formation, manner, 10, 45);
    REQUIRE(cell.size() == 4);
    const std::optional<Vec3> middle = formation.groundPoint(10, 45);
    REQUIRE(middle);
    for (const Vec3& corner : cell) CHECK(glm::length(corner - *middle) < 10.0);
}

}  // namespace linefall
