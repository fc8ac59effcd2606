#include "instruments/focal_plane.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("focal length, pitch and samples settle IFOV and FOV, and the other way round", "[focal plane]") {
    const std::string kind = GENERATE("push-broom", "frame-camera");
    const auto derived = [&](const Sets& sets) { return factsOfScene(sceneOf("slopes", oneBand(kind), sets, false), 0).derived; };
    const Derived given = derived({"instrument.focal_length=50 mm", "instrument.detector_pitch=10 um", "instrument.samples=2000"});
    CHECK(given.ifov_rad == Approx(2e-4));
    CHECK(given.fov_rad == Approx(2.0 * std::atan(0.2)));
    const Derived turned = derived({"instrument.ifov=0.2 mrad", "instrument.detector_pitch=10 um", "instrument.fov=" + std::to_string(degreesFromRadians(2.0 * std::atan(0.2))) + " deg"});
    CHECK(turned.focal_length_m == Approx(0.05));
    CHECK(turned.samples == 2000);
    CHECK(turned.fov_rad == Approx(given.fov_rad).epsilon(1e-6));
}

TEST_CASE("both of two keys that follow from each other are an error, in the same layer", "[focal plane]") {
    const std::string kind = GENERATE("push-broom", "frame-camera");
    CHECK_THAT(complaintsOf("slopes", oneBand(kind), {"instrument.ifov=0.2 mrad", "instrument.focal_length=50 mm"}), Catch::Contains("instrument.focal_length") && Catch::Contains("not both"));
    CHECK_THAT(complaintsOf("slopes", oneBand(kind), {"instrument.fov=20 deg", "instrument.samples=100"}), Catch::Contains("not both"));
    CHECK_THAT(complaintsOf("slopes", oneBand(kind, "ifov = \"0.2 mrad\"\nfocal_length = \"50 mm\""), {}), Catch::Contains("not both"));
    // A later layer replaces what the preset gave.
    CHECK(complaintsOf("slopes", oneBand(kind, "focal_length = \"50 mm\""), {"instrument.ifov=0.2 mrad"}).empty());
}

TEST_CASE("a field of no detector or of too many is refused by its name", "[focal plane]") {
    CHECK_THAT(complaintsOf("slopes", oneBand("push-broom"), {"instrument.fov=160 deg", "instrument.ifov=0.001 mrad"}), Catch::Contains("instrument.fov"));
    CHECK_THAT(complaintsOf("slopes", oneBand("push-broom"), {"instrument.fov=0.00001 deg", "instrument.ifov=1 mrad"}), Catch::Contains("instrument.fov"));
}

TEST_CASE("a direction of the focal plane is a unit vector through the lens", "[focal plane]") {
    const Vec3 d = focalPlaneDirection(0.03, -0.04, 0.12);
    CHECK(glm::length(d) == Approx(1.0));
    CHECK(d.x == Approx(-0.04 / 0.13));
    CHECK(d.y == Approx(0.03 / 0.13));
    CHECK(d.z == Approx(0.12 / 0.13));
}
