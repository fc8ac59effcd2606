#include "physics/effects.h"

#include <catch2/catch.hpp>
#include <set>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("every effect has a switch that is on, but for glint", "[effects]") {
    std::set<std::string> off;
    int flags = 0;
    for (const Parameter& row : effectKeys().rows()) {
        if (row.kind != Kind::flag) continue;
        ++flags;
        if (!std::get<bool>(row.default_value)) off.insert(row.key);
    }
    CHECK(flags == 15);
    CHECK(off == std::set<std::string>{"effect.glint"});
}

TEST_CASE("every switch changes the image of a scene that has its cause", "[effects]") {
    // A tower on a slope beside a pond, two contributions a sample, noise, pattern, coarse bits and a small well.
    const std::string place = levelPlace(tower(0, 0, 60, 80) + paint("solid", 0, -150, 200, 200, "material = \"water\"") +
                                             "[[terrain.landform]]\nkind = \"ridge\"\neast = \"-200 m\"\nheight = \"60 m\"\nslope = \"25 deg\"\n",
                                         "1 km");
    const bool push = GENERATE(true, false);
    const Scene scene = sceneOf(written(place), oneBand(push ? "push-broom" : "whisk-broom", push ? "focal_length = \"1 mm\"\nsamples = 120\ndetector_pitch = \"4 um\"\nf_number = 16" : "ifov = \"6 mrad\"\nfov = \"50 deg\"\nfocal_length = \"5 mm\"\nf_number = 8"),
                                {"flight.height=1200 m", "flight.start_north=400 m", "flight.length=800 m", "sun.elevation=30 deg",
                                 "quality.contributions=3", "instrument.bits=8", "instrument.pattern_gain=5 %", "instrument.pattern_offset=900 e",
                                 push ? "instrument.dark_current=50000 e/s" : "instrument.dark_current=5000000 e/s", "instrument.full_well=50000 e", "instrument.read_noise=400 e",
                                 "effect.glint=true", "effect.glint_wind=15 m/s", "instrument.gain=250 e"});
    const Image image = imageOf(scene);
    for (const Parameter& row : effectKeys().rows()) {
        if (row.kind != Kind::flag) continue;
        // The sweep's motion and cos^4 each belong to one kind of scanner.
        if (row.key == (push ? "effect.sweep_motion" : "effect.cos4")) continue;
        INFO(row.key << (push ? ", push broom" : ", whisk broom"));
        CHECK(imageOf(with(scene, {row.key + "=false"})).counts != image.counts);
    }
    if (push) CHECK(imageOf(with(scene, {"effect.sweep_motion=false", "quality.contributions=1"})).counts ==
                    imageOf(with(scene, {"quality.contributions=1"})).counts);
    else CHECK(imageOf(with(scene, {"effect.cos4=false"})).counts == image.counts);
}
