#include "measure/profile.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

#include "support/picks.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("a profile over a cone shows the ground that the picture saw and the ground that is there", "[profile]") {
    // The slopes' cone: middle at (900, 900) m, 260 m high, 520 m radius. Flying south along its east-west section.
    Formation formation(sceneOf("slopes", "push-broom", bare() + Sets{"flight.heading=180 deg", "flight.start_east=900 m", "flight.start_north=1000 m", "flight.length=200 m", "flight.height=3000 m"}), 0);
    formation.formAll();
    const int line = static_cast<int>(placeOf(formation, {900.0, 900.0, 260.0}).line);
    const int last = formation.samples() - 1;
    const Profile profile = profileAlong(formation, centreOf(0, line), centreOf(last, line), Scale::counts);
    REQUIRE(profile.samples.size() == static_cast<std::size_t>(formation.samples()));
    double highest = 0.0;
    for (std::size_t i = 0; i < profile.samples.size(); ++i) {
        const ProfileSample& s = profile.samples[i];
        REQUIRE(s.ground_m.has_value());
        REQUIRE(s.formed);
        CHECK(s.sample == static_cast<int>(i));
        CHECK(s.along_pixels == Approx(static_cast<double>(i)));
        CHECK(s.values[0] == formation.image().counts[0].at(s.sample, s.line));
        // The kept point lies on the terrain, and is the formation's own.
        CHECK(glm::length(*s.ground_m - *formation.groundPoint(line, s.sample)) < 1e-3);
        CHECK(s.ground_m->z == Approx(formation.place().ground->terrain().heightAt(s.ground_m->x, s.ground_m->y)).margin(0.01));
        // The cone under the straight line on the map: 260 (1 - r / 520), to what posts 4 m apart leave. West of it lies the dome.
        const double east = profile.samples.front().ground_m->x + s.section_m * (profile.samples.back().ground_m->x > profile.samples.front().ground_m->x ? 1.0 : -1.0);
        const double north = s.ground_m->y;
        const double r = std::hypot(east - 900.0, north - 900.0);
        if (east > 200.0) CHECK(s.terrain_m == Approx(std::max(0.0, 260.0 * (1.0 - r / 520.0))).margin(1.5));
        CHECK(s.surface_m == Approx(s.terrain_m).margin(1e-9));
        highest = std::max(highest, s.ground_m->z);
        if (i > 0) CHECK(s.distance_m > profile.samples[i - 1].distance_m);
    }
    CHECK(highest == Approx(260.0).margin(3.0));
    CHECK(profile.samples.back().distance_m == Approx(profile.samples.back().section_m));
}

TEST_CASE("a profile's radiance and reflectance are those of its pixels, and night has none", "[profile]") {
    Formation formation(sceneOf("proving-ground", "frame-camera", {}), 0);
    const PicturePlace from{20.5, 30.5}, to{220.5, 180.5};
    formation.form(30, 181);
    for (const Scale scale : {Scale::radiance, Scale::reflectance}) {
        const Profile profile = profileAlong(formation, from, to, scale, 2.0);
        CHECK(profile.samples.size() == 126);  // 250 pixels in steps of 2
        for (const ProfileSample& s : profile.samples) {
            for (std::size_t b = 0; b < profile.bands.size(); ++b) {
                CHECK(s.values[b] == LineScale(formation, scale, s.line).valueOf(static_cast<int>(b), s.sample, formation.image().counts[b].at(s.sample, s.line)));
            }
        }
    }
    Formation night(sceneOf("proving-ground", "frame-camera", {"sun.elevation=-2 deg"}), 0);
    night.form(30, 40);
    CHECK(std::isnan(profileAlong(night, from, to, Scale::reflectance).samples[3].values[0]));
}

TEST_CASE("over a tower the surface stands above the terrain", "[profile]") {
    Formation formation(sceneOf(written(levelPlace(tower(0.0, 0.0, 40.0, 30.0), "2 km")), oneBand("push-broom", "samples = 400\nfocal_length = \"100 mm\"\ndetector_pitch = \"100 um\""),
                                bare() + Sets{"flight.height=1000 m", "flight.heading=180 deg", "flight.start_north=50 m", "flight.length=100 m"}), 0);
    formation.formAll();
    const Profile profile = profileAlong(formation, centreOf(100, 50), centreOf(300, 50), Scale::counts);
    bool on = false, off = false;
    for (const ProfileSample& s : profile.samples) {
        CHECK(s.terrain_m == 0.0);
        on = on || s.surface_m == Approx(30.0);
        off = off || s.surface_m == 0.0;
    }
    CHECK(on);
    CHECK(off);
}

TEST_CASE("lines that are not formed have their ground and no values", "[profile]") {
    Formation formation(sceneOf("proving-ground", "push-broom", {}), 0);
    formation.form(0, 10);
    const Profile profile = profileAlong(formation, centreOf(40, 5), centreOf(40, 15), Scale::counts);
    REQUIRE(profile.samples.size() == 11);
    CHECK(profile.samples[4].formed);
    CHECK_FALSE(profile.samples[5].formed);
    CHECK(std::isnan(profile.samples[5].values[0]));
    CHECK(profile.samples[5].ground_m.has_value());
    CHECK(profileAlong(formation, centreOf(4, 4), centreOf(4, 4), Scale::counts).samples.size() == 1);
}

TEST_CASE("a profile's CSV has a header with units, one row a step, and empty cells for what is not there", "[profile]") {
    Profile profile;
    profile.scale = Scale::counts;
    profile.unit = "counts";
    profile.bands = {"red", "near \"infrared\", wide"};
    ProfileSample s;
    s.sample = 3;
    s.line = 7;
    s.along_pixels = 1.5;
    s.formed = true;
    s.values = {812.0, std::nan("")};
    s.ground_m = Vec3{10.25, -3.5, 2.0};
    s.distance_m = 12.345;
    s.section_m = 12.0;
    s.terrain_m = std::nan("");
    s.surface_m = 4.0;
    profile.samples.push_back(s);
    s.ground_m.reset();
    s.distance_m = std::nan("");
    profile.samples.push_back(s);
    CHECK(csvText(profile) ==
          "sample,line,along_pixels,distance_m,east_m,north_m,elevation_m,section_m,terrain_m,surface_m,red (counts),\"near \"\"infrared\"\", wide (counts)\"\n"
          "3,7,1.500,12.35,10.25,-3.50,2.00,12.00,,4.00,812,\n"
          "3,7,1.500,,,,,12.00,,4.00,812,\n");
}
