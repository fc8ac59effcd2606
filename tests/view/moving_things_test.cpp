// Things that move as the flight view shows them: where the core says they stand, and their shadows where it finds them.
#include "view/moving_things.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Scene trainScene(const Sets& more = {}) {
    return sceneOf(written(levelPlace("[[object]]\nshape = \"box\"\neast = \"0 m\"\nnorth = \"0 m\"\nlength = \"60 m\"\nwidth = \"4 m\"\nheight = \"10 m\"\nmaterial = \"white\"\n"
                                      "speed = \"20 m/s\"\ntrack = \"90 deg\"\n")),
                   "push-broom", Sets{"sun.azimuth=180 deg", "sun.elevation=30 deg"} + more);
}

}  // namespace

TEST_CASE("The flight view shows a moving thing and its shadow where they are at the clock's time") {
    const Scene scene = trainScene();
    MovingThings things(scene);
    for (const double time : {0.0, 7.5}) {
        const Mesh mesh = things.at(time);
        int of_thing = 0, of_shadow = 0;
        double area = 0.0, west = 1e9, east = -1e9, north = -1e9;
        for (std::size_t t = 0; t + 2 < mesh.triangles.size(); t += 3) {
            const MeshVertex* v[3];
            for (std::size_t k = 0; k < 3; ++k) v[k] = &mesh.vertices[mesh.triangles[t + k]];
            const bool flat = v[0]->z_m == v[1]->z_m && v[0]->z_m == v[2]->z_m;
            if (flat && v[0]->z_m > 0.0f && v[0]->z_m < 1.0f) {
                ++of_shadow;
                area += 0.5 * std::abs((v[1]->x_m - v[0]->x_m) * (v[2]->y_m - v[0]->y_m) - (v[2]->x_m - v[0]->x_m) * (v[1]->y_m - v[0]->y_m));
                for (const MeshVertex* p : v) north = std::max(north, static_cast<double>(p->y_m));
                CHECK(v[0]->green < 100);  // the sky's light alone
            } else {
                ++of_thing;
                for (const MeshVertex* p : v) {
                    west = std::min(west, static_cast<double>(p->x_m));
                    east = std::max(east, static_cast<double>(p->x_m));
                }
            }
        }
        CHECK(of_thing > 0);
        CHECK(west == Approx(20.0 * time - 2.0));
        CHECK(east == Approx(20.0 * time + 2.0));
        // The sun in the south: the shadow reaches 10 m / tan 30 beyond its northern end.
        const double reach = 10.0 / std::tan(radiansFromDegrees(30.0));
        CHECK(north == Approx(30.0 + reach).margin(1.0));
        CHECK(area == Approx(4.0 * reach).epsilon(0.1));
    }
    MovingThings unshaded(trainScene({"effect.cast_shadow=false"}));
    CHECK(unshaded.at(0.0).triangles.size() < things.at(0.0).triangles.size());
    MovingThings none(sceneOf(written(levelPlace()), "push-broom"));
    CHECK(none.at(3.0).triangles.empty());
}
