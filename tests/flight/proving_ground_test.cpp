// The proving ground is what its file says: panels, targets and towers that keep clear of one another.

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

const Ground& ground() {
    static const std::shared_ptr<const PlaceData> place = loadPlace("proving-ground");
    return *place->ground;
}

const Materials& materials() {
    static const std::shared_ptr<const PlaceData> place = loadPlace("proving-ground");
    return place->materials;
}

std::vector<Paint> paintsNamed(const std::string& beginning) {
    std::vector<Paint> out;
    for (const Paint& p : ground().paints()) {
        if (p.name.rfind(beginning, 0) == 0) out.push_back(p);
    }
    return out;
}

/// Whether two rectangles keep apart: by the separating axis theorem on their four axes.
bool apart(const Paint& a, const Paint& b) {
    for (const Paint* axis_of : {&a, &b}) {
        for (const double turn : {0.0, 0.5 * constants::pi}) {
            const double t = axis_of->heading_rad + turn;
            const Vec2 axis{std::sin(t), std::cos(t)};
            const auto reach = [&](const Paint& p) {
                const Vec2 u{std::sin(p.heading_rad), std::cos(p.heading_rad)}, v{std::cos(p.heading_rad), -std::sin(p.heading_rad)};
                return 0.5 * p.length_m * std::abs(glm::dot(u, axis)) + 0.5 * p.width_m * std::abs(glm::dot(v, axis));
            };
            const Vec2 between{b.east_m - a.east_m, b.north_m - a.north_m};
            if (std::abs(glm::dot(between, axis)) > reach(a) + reach(b)) return true;
        }
    }
    return false;
}

}  // namespace

TEST_CASE("seven panels have the reflectance that they state, in every band", "[proving ground]") {
    for (const auto& [percent, east] : std::vector<std::pair<int, double>>{{2, -270}, {5, -180}, {10, -90}, {20, 0}, {40, 90}, {60, 180}, {80, 270}}) {
        const Material& m = materials()[ground().materialAt(east, -540.0)];
        CHECK(m.name == "grey-" + std::to_string(percent));
        for (const double w : {0.48, 0.56, 0.66, 0.83, 1.65, 2.2}) CHECK(m.reflectance.at(w) == Approx(0.01 * percent));
    }
    CHECK(paintsNamed("panel").size() == 7);
}

TEST_CASE("the ground is level", "[proving ground]") {
    CHECK(ground().terrain().least_m() == 0.0);
    CHECK(ground().terrain().most_m() == 0.0);
}

TEST_CASE("nine towers stand on rays of nine azimuths at nine distances - boxes and cylinders of nine heights - and one in the centre", "[proving ground]") {
    std::set<int> azimuths, radii, heights;
    std::set<Shape> shapes;
    for (const Object& o : ground().objects()) {
        const double r = std::hypot(o.east_m, o.north_m);
        if (r < 1.0) continue;
        // The name states azimuth and height: "ray 40, 45 m".
        const double azimuth = degreesFromRadians(wrappedToTurn(std::atan2(o.east_m, o.north_m)));
        char name[40];
        std::snprintf(name, sizeof name, "ray %.0f, %.0f m", azimuth > 359.5 ? 0.0 : azimuth, o.height_m);
        CHECK(o.name == name);
        CHECK(o.base_m == 0.0);
        azimuths.insert(static_cast<int>(std::lround(azimuth)));
        radii.insert(static_cast<int>(std::lround(r)));
        heights.insert(static_cast<int>(std::lround(o.height_m)));
        shapes.insert(o.shape);
    }
    CHECK(azimuths.size() == 9);
    CHECK(radii.size() == 9);
    CHECK(heights.size() == 9);
    CHECK(shapes == std::set<Shape>{Shape::box, Shape::cylinder});
    CHECK(ground().objects().size() == 10);
}

TEST_CASE("bars of nine widths lie in both directions, and sine panels of five periods", "[proving ground]") {
    for (const auto& [name, along] : {std::pair{"across", false}, std::pair{"along", true}}) {
        int bars = 0, sines = 0;
        for (const Paint& p : ground().paints()) {
            if (p.name.find(name) == std::string::npos) continue;
            CHECK((std::abs(std::cos(p.heading_rad)) > 0.5) == along);  // the pattern changes along its length
            if (p.pattern == Pattern::bars) {
                ++bars;
                CHECK(p.length_m == Approx(2.5 * p.period_m));  // three bars and two gaps, five bars long
                CHECK(p.width_m == Approx(p.length_m));
            }
            if (p.pattern == Pattern::sine) {
                ++sines;
                CHECK(p.length_m / p.period_m == Approx(std::round(p.length_m / p.period_m)));
            }
        }
        CHECK(bars == 9);
        CHECK(sines == 5);
    }
}

TEST_CASE("two edges are slanted by five degrees, one each way", "[proving ground]") {
    std::multiset<long> slants;
    for (const Paint& p : paintsNamed("slanted edge")) slants.insert(std::lround(degreesFromRadians(p.heading_rad)));
    CHECK(slants == std::multiset<long>{-5, 5});
}

TEST_CASE("no target lies over another, and no tower or shadow of the flight's own sun touches a target", "[proving ground]") {
    std::vector<Paint> targets;
    for (const char* kind : {"panel", "field of the bars", "sine", "dark of the edge", "road grid"}) {
        const auto found = paintsNamed(kind);
        REQUIRE_FALSE(found.empty());
        targets.insert(targets.end(), found.begin(), found.end());
    }
    for (std::size_t i = 0; i < targets.size(); ++i) {
        for (std::size_t j = i + 1; j < targets.size(); ++j) {
            INFO(targets[i].name << " and " << targets[j].name);
            CHECK(apart(targets[i], targets[j]));
        }
    }
    std::vector<Paint> bars = paintsNamed("bars");
    for (std::size_t i = 0; i < bars.size(); ++i) {
        for (std::size_t j = i + 1; j < bars.size(); ++j) CHECK(apart(bars[i], bars[j]));
    }
    const double azimuth = radiansFromDegrees(140.0), elevation = radiansFromDegrees(40.0);
    for (const Object& o : ground().objects()) {
        const double shadow = o.height_m / std::tan(elevation);
        Paint strip;  // from the far side of the tower to the tip of its shadow
        strip.heading_rad = azimuth;
        strip.length_m = shadow + 2.0 * o.radius_m();
        strip.width_m = 2.0 * o.radius_m();
        strip.east_m = o.east_m - 0.5 * shadow * std::sin(azimuth);
        strip.north_m = o.north_m - 0.5 * shadow * std::cos(azimuth);
        for (const Paint& target : targets) {
            INFO(o.name << " and " << target.name);
            CHECK(apart(strip, target));
        }
    }
}

TEST_CASE("the proving ground's own flight sees all of it with both scanners", "[proving ground]") {
    for (const char* preset : {"whisk-broom", "push-broom"}) {
        Formation f(sceneOf("proving-ground", preset), 0);
        CHECK(f.groundPoint(0, f.samples() / 2)->y > 1304.0);
        CHECK(f.groundPoint(f.lines() - 1, f.samples() / 2)->y < -1245.0);
        CHECK(f.groundPoint(0, 0)->x < -1100.0);
        CHECK(f.groundPoint(0, f.samples() - 1)->x > 1100.0);
    }
}
