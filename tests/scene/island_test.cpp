// The island: the same bits on any number of threads, level waters, a river that only falls, everything that the
// issue names, and true heights on ground that is level under round things.

#include "scene/island.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "base/problem.h"
#include "ground/height_field.h"
#include "scene/island_plan.h"

using namespace linefall;

namespace {

/// Numbers materials in the order of asking.
struct Names {
    std::map<std::string, std::uint8_t> index;
    MaterialByName lookup() {
        return [this](const std::string& name) {
            return index.emplace(name, static_cast<std::uint8_t>(index.size())).first->second;
        };
    }
};

struct Made {
    Names names;
    Landscape land;
    explicit Made(std::uint64_t seed, int threads = 0) : land(makeIsland(seed, names.lookup(), threads)) {}

    [[nodiscard]] bool is(int column, int row, const char* name) const {
        return land.materials.at(column, row) == names.index.at(name);
    }
    /// Heights of the corners of a cell, least and most.
    [[nodiscard]] std::pair<float, float> corners(int column, int row) const {
        const auto& h = land.posts_m;
        const auto all = {h.at(column, row), h.at(column + 1, row), h.at(column, row + 1), h.at(column + 1, row + 1)};
        return {std::min(all), std::max(all)};
    }
    [[nodiscard]] double share(const char* name) const {
        const auto cells = land.materials.values();
        return static_cast<double>(std::count(cells.begin(), cells.end(), names.index.at(name))) /
               static_cast<double>(cells.size());
    }
};

bool same(const Object& a, const Object& b) {
    return a.shape == b.shape && a.name == b.name && a.east_m == b.east_m && a.north_m == b.north_m && a.length_m == b.length_m &&
           a.width_m == b.width_m && a.height_m == b.height_m && a.heading_rad == b.heading_rad &&
           a.eaves_share == b.eaves_share && a.top_material == b.top_material && a.side_material == b.side_material;
}

}  // namespace

TEST_CASE("the island is bit for bit the same on any number of threads, and another for another seed", "[island]") {
    const Made one(5, 1);
    const Made three(5, 3);
    CHECK(one.land.posts_m == three.land.posts_m);
    CHECK(one.land.materials == three.land.materials);
    REQUIRE(one.land.objects.size() == three.land.objects.size());
    CHECK(std::equal(one.land.objects.begin(), one.land.objects.end(), three.land.objects.begin(), same));
    const Made other(6, 2);
    CHECK_FALSE(one.land.posts_m == other.land.posts_m);
}

TEST_CASE("every seed makes a whole island", "[island]") {
    for (const std::uint64_t seed : {std::uint64_t{1}, std::uint64_t{2}, std::uint64_t{77}, std::uint64_t{0xFFFFFFFFFFull}}) {
        CAPTURE(seed);
        const Made made(seed);
        const auto& h = made.land.posts_m;
        REQUIRE(h.columns() == 2001);
        REQUIRE(h.rows() == 2001);
        CHECK(made.land.spacing_m == 4.0);
        REQUIRE(made.land.materials.columns() == 2000);
        REQUIRE(made.land.materials.rows() == 2000);
        CHECK(std::all_of(h.values().begin(), h.values().end(), [](float z) { return std::isfinite(z) && z >= 0.0f; }));

        // Deep water at datum along all of the border.
        bool border = true;
        for (int k = 0; k < 2001; ++k) {
            for (const int edge : {0, 2000}) border = border && h.at(k, edge) == 0.0f && h.at(edge, k) == 0.0f;
        }
        for (int k = 0; k < 2000; ++k) {
            for (const int edge : {0, 1999}) border = border && made.is(k, edge, "water") && made.is(edge, k, "water");
        }
        CHECK(border);

        const float summit = *std::max_element(h.values().begin(), h.values().end());
        CHECK(summit > 900.0f);
        CHECK(summit < 1100.0f);

        // Everything that makes the place worth looking at is there, in shares of 64 km2.
        CHECK(made.share("medium-snow") > 0.003);
        CHECK(made.share("conifer") > 0.01);
        CHECK(made.share("deciduous") > 0.03);
        CHECK(made.share("river-water") > 0.005);
        CHECK(made.share("sand") > 0.002);
        CHECK(made.share("dune-sand") > 0.001);
        CHECK(made.share("rock") > 0.005);
        for (const char* crop : {"green-grass", "dry-grass", "black-loam", "light-clay", "ripe-grain", "young-crop"}) {
            CAPTURE(crop);
            CHECK(made.share(crop) > 0.002);
        }
        CHECK(made.share("water") > 0.25);
        CHECK(made.share("water") < 0.6);
    }
}

TEST_CASE("standing water is level and the river only falls", "[island]") {
    const Made made(1);
    bool sea_level = true;
    bool ponds_level = true;
    int lake_cells = 0;
    float steepest = 0.0f;
    for (int row = 0; row < 2000; ++row) {
        for (int column = 0; column < 2000; ++column) {
            const auto [low, high] = made.corners(column, row);
            if (made.is(column, row, "water") || made.is(column, row, "coastal-water"))
                sea_level = sea_level && low == 0.0f && high == 0.0f;
            if (made.is(column, row, "shallow-water") || made.is(column, row, "red-brine"))
                ponds_level = ponds_level && low == high;
            if (made.is(column, row, "river-water")) {
                if (low == 46.0f && high == 46.0f) ++lake_cells;
                if (low < 46.0f) steepest = std::max(steepest, high - low);
            }
        }
    }
    CHECK(sea_level);
    CHECK(ponds_level);
    CHECK(lake_cells * 16 > 300000);  // m2

    // Down the middle of the river: water all the way, and no step upwards.
    const HeightField field(made.land.posts_m, made.land.spacing_m);
    double level = 46.0;
    double worst_rise = 0.0;
    bool wet = true;
    bool at_sea = false;
    const island::Plan plan(1);
    for (const island::WayPoint& p : plan.river()) {
        const auto east = static_cast<double>(p.east);
        const auto north = static_cast<double>(p.north);
        const int column = static_cast<int>((east + 4000.0) / 4.0);
        const int row = static_cast<int>((north + 4000.0) / 4.0);
        const bool sea =
            made.is(column, row, "water") || made.is(column, row, "coastal-water") || made.is(column, row, "shallow-water");
        wet = wet && (sea || made.is(column, row, "river-water"));
        at_sea = at_sea || sea;
        const double here = field.heightAt(east, north);
        worst_rise = std::max(worst_rise, here - level);
        level = here;
    }
    CHECK(wet);
    CHECK(at_sea);
    CHECK(worst_rise < 0.02);  // posts lie beside the middle: a bend reads them a little out of order
    CHECK(level == 0.0);
}

TEST_CASE("things stand on land with their stated heights", "[island]") {
    Made made(1);
    const HeightField field(std::move(made.land.posts_m), made.land.spacing_m);
    std::map<std::string, int> count;
    bool dry = true;
    bool level = true;
    for (const Object& o : made.land.objects) {
        ++count[o.name];
        CHECK_FALSE(o.name.empty());
        CHECK(o.height_m > 0.0);
        CHECK(o.length_m > 0.0);
        CHECK(field.contains(o.east_m, o.north_m));
        if (o.name == "bridge") continue;
        const double base = field.heightAt(o.east_m, o.north_m);
        dry = dry && base > 0.5;
        if (o.shape != Shape::cylinder && o.shape != Shape::cone && o.shape != Shape::pyramid) continue;
        // Shadows and leans are measured from round things and heaps: the ground under them is flat enough to do so.
        CAPTURE(o.name);
        double most = 0.0;
        for (int k = 0; k < 16; ++k) {
            const double turn = k * 0.39269908169872414;
            most = std::max(most, std::fabs(field.heightAt(o.east_m + 0.5 * o.length_m * std::sin(turn),
                                                           o.north_m + 0.5 * o.length_m * std::cos(turn)) -
                                            base));
        }
        level = level && most < 0.5;
        CHECK(most < 0.5);
    }
    CHECK(dry);
    CHECK(level);
    CHECK(count["house"] >= 250);
    CHECK(count["house"] <= 650);
    for (const char* name :
         {"lighthouse", "church tower", "church", "town hall", "spoil heap", "crusher", "chimney", "mole light", "salt store"}) {
        CAPTURE(name);
        CHECK(count[name] == 1);
    }
    double tallest = 0.0;
    for (int k = 1; k <= 8; ++k) {
        const std::string name = "silo " + std::to_string(k);
        const auto silo =
            std::find_if(made.land.objects.begin(), made.land.objects.end(), [&](const Object& o) { return o.name == name; });
        REQUIRE(silo != made.land.objects.end());
        CHECK(silo->shape == Shape::cylinder);
        CHECK(silo->height_m > tallest);
        tallest = silo->height_m;
    }
    for (int k = 1; k <= 7; ++k) CHECK(count["salt heap " + std::to_string(k)] == 1);
    for (int k = 1; k <= 6; ++k) CHECK(count["warehouse " + std::to_string(k)] == 1);
}

TEST_CASE("an unknown material stops the island with an input error", "[island]") {
    const MaterialByName none = [](const std::string& name) -> std::uint8_t {
        throw InputError(Problem{{}, name, name, "a known material", ""});
    };
    CHECK_THROWS_AS(makeIsland(1, none, 1), InputError);
}
