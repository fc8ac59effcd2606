// The ground as it is lit: the same map whether its sun field is its own or an instrument's.

#include "flight/lit_ground.h"

#include <catch2/catch.hpp>

#include "flight/formation.h"
#include "flight/shared_sun_field.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("a sun field that an instrument holds lights the same ground as one made for it", "[shadow]") {
    const Scene scene = sceneOf("proving-ground", "push-broom", Sets{"sun.azimuth=140 deg", "sun.elevation=20 deg"});
    const auto& ground = scene.place->ground;
    const std::vector<Band> bands{scene.instruments.front().bands};
    MapRequest request;
    request.cell_m = 3.0;
    request.columns = 90;
    request.rows = 70;
    const Vec3 towards = sunlight(sunKeys().read(scene.settings), scene.place->site, bands).towards;
    REQUIRE(heldSunField(ground, towards) == nullptr);
    const auto own = litGround(scene, bands, request, 1);
    const Formation formation(scene, 0);
    const auto held = heldSunField(ground, towards);
    REQUIRE(held != nullptr);
    CHECK(sharedSunField(ground, towards) == held);
    CHECK(heldSunField(ground, glm::normalize(Vec3(0.1, 0.2, 0.3))) == nullptr);
    CHECK(litGround(scene, bands, request, 1) == own);
}
