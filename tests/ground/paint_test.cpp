// Patterns painted on the terrain, point by point.
#include <catch2/catch.hpp>

#include <cmath>
#include <map>

#include "base/angle.h"
#include "ground/ground.h"
#include "ground/paint.h"
#include "support/terrain.h"

using namespace linefall;

namespace {

/// 40 m long northwards, 20 m wide, centred 100 m east and 50 m north.
Paint sample(Pattern pattern) {
    Paint p;
    p.pattern = pattern;
    p.east_m = 100.0;
    p.north_m = 50.0;
    p.length_m = 40.0;
    p.width_m = 20.0;
    p.material = 5;
    p.other = 9;
    return p;
}

}  // namespace

TEST_CASE("a paint lies on its rectangle and nowhere else") {
    Paint p = sample(Pattern::solid);
    CHECK(p.at(100, 50) == 5);
    CHECK(p.at(109.9, 69.9) == 5);
    CHECK(p.at(110, 70) == 5);
    CHECK_FALSE(p.at(110.1, 50));
    CHECK_FALSE(p.at(100, 70.1));
    p.heading_rad = radiansFromDegrees(90.0);  // the length now runs east
    CHECK(p.at(119.9, 50) == 5);
    CHECK_FALSE(p.at(100, 60.1));
    p.heading_rad = radiansFromDegrees(45.0);  // and now north-east
    CHECK(p.at(100 + 19.9 * std::sqrt(0.5), 50 + 19.9 * std::sqrt(0.5)) == 5);
    CHECK_FALSE(p.at(100 + 19.9 * std::sqrt(0.5), 50 - 19.9 * std::sqrt(0.5)));
}

TEST_CASE("bars take turns along the length, half a period each, beginning with the first material") {
    Paint p = sample(Pattern::bars);
    p.period_m = 8.0;
    for (double along = -19.99; along < 20.0; along += 0.1) {
        const int half = static_cast<int>((along + 20.0) / 4.0);
        CHECK(p.at(100, 50 + along) == (half % 2 == 0 ? 5 : 9));
    }
}

TEST_CASE("a sine grating uses every material of its scale as often as the sine dwells there") {
    Paint p = sample(Pattern::sine);
    p.period_m = 10.0;
    p.count = 8;
    std::map<int, int> counts;
    const int draws = 40000;
    for (int i = 0; i < draws; ++i) {
        const double along = -20.0 + 40.0 * (i + 0.5) / draws;
        const auto material = p.at(100, 50 + along);
        REQUIRE(material);
        REQUIRE(*material >= 5);
        REQUIRE(*material < 13);
        ++counts[*material - 5];
    }
    // The share of a period that (1 + sin x) / 2 spends between k / 8 and (k + 1) / 8.
    for (int k = 0; k < 8; ++k) {
        const double share = (std::asin((k + 1) / 4.0 - 1.0) - std::asin(k / 4.0 - 1.0)) / constants::pi;
        CHECK(static_cast<double>(counts[k]) / draws == Approx(share).margin(2e-4));
    }
    CHECK(p.at(100, 52.5) == 12);  // a quarter period past the centre: the brightest
    CHECK(p.at(100, 47.5) == 5);
}

TEST_CASE("a grid paints its lines and leaves the rest") {
    Paint p = sample(Pattern::grid);
    p.period_m = 5.0;
    p.line_width_m = 1.0;
    CHECK(p.at(100, 50) == 5);
    CHECK(p.at(102.5, 50.4) == 5);   // on a line across the length
    CHECK(p.at(100.4, 52.5) == 5);   // on a line along it
    CHECK_FALSE(p.at(102.5, 52.5));  // between lines
    CHECK_FALSE(p.at(100.6, 52.5));
    CHECK(p.at(105, 53) == 5);
    CHECK_FALSE(p.at(110.4, 50));  // outside
}

TEST_CASE("later paints lie on earlier ones, and holes show what is beneath") {
    Paint below = sample(Pattern::solid);
    below.east_m = below.north_m = 0.0;
    Paint above = below;
    above.pattern = Pattern::grid;
    above.period_m = 5.0;
    above.material = 7;
    const Ground ground(test::shapedTerrain(11, 11, 10.0, [](double, double) { return 3.0; }), {}, {}, 2, {below, above});
    CHECK(ground.paints().size() == 2);
    CHECK(ground.materialAt(0, 0) == 7);
    CHECK(ground.materialAt(2.5, 2.5) == 5);
    CHECK(ground.materialAt(30, 2.5) == 2);
    CHECK(ground.intersect({{2.5, 2.5, 100}, {0, 0, -1}}).material == 5);
    CHECK(ground.intersect({{5.1, 2.5, 100}, {0, 0, -1}}).material == 7);
}

TEST_CASE("every pattern has its name") {
    CHECK(patternNames() == std::vector<std::string>{"solid", "bars", "sine", "grid"});
    CHECK(nameOf(Pattern::sine) == "sine");
}
