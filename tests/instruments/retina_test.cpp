#include "instruments/retina.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

RetinaPlan plan() {
    RetinaPlan p;
    p.reach = 300.0;
    return p;
}

}  // namespace

TEST_CASE("no S cone lies in the foveola and no rod in the rod-free zone", "[retina]") {
    const Retina retina(plan());
    CHECK(retina.count("S", plan().foveola - 1.0) == 0);
    CHECK(retina.count("rod", plan().rod_free - 1.0) == 0);
    CHECK(retina.count("S", 60.0) > 0);
    CHECK(retina.count("rod", 90.0) > 0);
    const auto s = retina.nearest("S", 0.0, 0.0), rod = retina.nearest("rod", 3.0, -4.0);
    REQUIRE((s && rod));
    CHECK(std::hypot(s->x, s->y) >= plan().foveola);
    CHECK(std::hypot(rod->x, rod->y) >= plan().rod_free);
    CHECK(retina.nearest("", 0.0, 0.0)->id == 0);
}

TEST_CASE("the shares of the cones are those asked for, within four standard deviations", "[retina]") {
    const Retina retina(plan());
    const double l = retina.count("L", 300.0), m = retina.count("M", 300.0), all = retina.count("", 300.0);
    const double inside = retina.count("", 19.9), s = retina.count("S", 300.0);
    CHECK(l + m + s == all);
    CHECK(std::abs(s / (all - inside) - 0.06) < 4.0 * std::sqrt(0.06 * 0.94 / (all - inside)));
    CHECK(std::abs(l / (l + m) - 0.66) < 4.0 * std::sqrt(0.66 * 0.34 / (l + m)));
}

TEST_CASE("cones are one pitch apart in the fovea and two at the angle of doubling", "[retina]") {
    const Retina retina(plan());
    CHECK(retina.spacing(0.0) == 1.0);
    CHECK(retina.spacing(127.0) == 2.0);
    // Counted: a hexagonal lattice of spacing s has 2 / (sqrt(3) s^2) places a unit of area.
    const auto density = [&](double from, double to) {
        return (retina.count("", to) - retina.count("", from)) / (3.14159265358979 * (to * to - from * from));
    };
    // Between 5 and 40 pitches: the sum of 2 / (sqrt(3) s^2) over rings of a thousandth of a pitch.
    double cones = 0.0;
    for (double e = 5.0; e < 40.0; e += 1e-3) cones += 2.0 * 3.14159265358979 * e * 1e-3 * 2.0 / std::sqrt(3.0) / std::pow(1.0 + e / 127.0, 2.0);
    CHECK(retina.count("", 40.0) - retina.count("", 5.0) == Approx(cones).epsilon(0.04));
    CHECK(density(120.0, 134.0) == Approx(2.0 / std::sqrt(3.0) / 4.0).epsilon(0.06));
    CHECK(Retina::countOf(plan()) == Approx(retina.count("", 1e9) + retina.count("rod", 1e9)).epsilon(0.1));
}

TEST_CASE("the nearest receptor of a kind is the one that a search of all finds", "[retina]") {
    RetinaPlan p = plan();
    p.reach = 60.0;
    const Retina retina(p);
    // All receptors of a kind, gathered by asking at a fine grid of places.
    Draws draws(5, 1);
    for (const std::string kind : {"", "L", "M", "S", "rod"}) {
        std::vector<Receptor> all;
        for (double x = -110.0; x <= 110.0; x += 0.5) {
            for (double y = -110.0; y <= 110.0; y += 0.5) {
                const auto at = retina.nearest(kind, x, y);
                REQUIRE(at);
                if (std::hypot(at->x - x, at->y - y) < 0.4) all.push_back(*at);
            }
        }
        for (int i = 0; i < 200; ++i) {
            const double x = draws.between(-60.0, 60.0), y = draws.between(-60.0, 60.0);
            const auto found = retina.nearest(kind, x, y);
            for (const Receptor& other : all) CHECK_FALSE(std::hypot(other.x - x, other.y - y) < std::hypot(found->x - x, found->y - y) - 1e-9);
        }
    }
}

TEST_CASE("the same seed lays out the same receptors and another seed others", "[retina]") {
    RetinaPlan other = plan();
    other.seed = 2;
    const Retina a(plan()), b(plan()), c(other);
    int same = 0;
    for (int i = 0; i < 50; ++i) {
        const auto x = a.nearest("S", 5.0 * i - 120.0, 40.0), y = b.nearest("S", 5.0 * i - 120.0, 40.0), z = c.nearest("S", 5.0 * i - 120.0, 40.0);
        CHECK(x->x == y->x);
        CHECK(x->y == y->y);
        CHECK(x->id == y->id);
        same += x->x == z->x ? 1 : 0;
    }
    CHECK(same == 0);
}
