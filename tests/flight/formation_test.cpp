// The same image always, and no more work than a change makes necessary.

#include "flight/formation.h"

#include <algorithm>
#include <atomic>
#include <catch2/catch.hpp>
#include <cmath>

#include "support/effort.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// A small piece of broken ground with things on it; every effect acts.
const std::string& place() {
    static const std::string path = written(levelPlace(
        tower(40, 20, 20, 45) + tower(-120, -60, 30, 30) + paint("sine", 0, -80, 160, 60, "heading = \"90 deg\"\nperiod = \"20 m\"\nlow = \"5 %\"\nhigh = \"75 %\"") +
            paint("solid", 100, -150, 120, 100, "material = \"water\"") +
            "[[terrain.landform]]\nkind = \"cone\"\neast = \"-150 m\"\nnorth = \"60 m\"\nheight = \"70 m\"\nradius = \"140 m\"\n",
        "800 m", "8 m"));
    return path;
}

const std::vector<std::pair<std::string, std::string>>& formedKinds() {
    static const std::vector<std::pair<std::string, std::string>> all{
        {"whisk-broom", "ifov = \"8 mrad\"\nfov = \"60 deg\"\nfocal_length = \"20 mm\"\ndetectors = 3\nsweep = \"two-way\"\nf_number = 11"},
        {"push-broom", "focal_length = \"5 mm\"\ndetector_pitch = \"40 um\"\nsamples = 130\nf_number = 32\npattern_gain = \"3 %\""},
        {"frame-camera", "focal_length = \"5 mm\"\ndetector_pitch = \"40 um\"\nsamples = 130\nrows = 90\nexposure = \"10 ms\"\nf_number = 16"}};
    return all;
}

Scene sceneFor(const std::pair<std::string, std::string>& kind, const Sets& more = {}) {
    return sceneOf(place(), oneBand(kind.first, kind.second),
                   Sets{"flight.height=500 m", "flight.start_north=180 m", "flight.length=360 m", "flight.roll_swing=2 deg", "flight.rough_air=0.5 deg",
                        "flight.wind_speed=15 m/s", "flight.wind_from=240 deg", "instrument.full_well=200000 e", "instrument.read_noise=50 e", "effect.glint=true"} + more);
}

bool same(const Image& a, const Image& b) { return a.counts == b.counts && a.sky == b.sky && a.step_e == b.step_e && a.most_count == b.most_count; }

}  // namespace

TEST_CASE("the image is bit for bit the same on 1, 2, 3 and 7 threads", "[formation]") {
    const auto& kind = GENERATE(from_range(formedKinds()));
    const std::string contributions = GENERATE("1", "4");
    const Scene scene = sceneFor(kind, {"quality.contributions=" + contributions, "sun.disc=true"});
    const Image one = imageOf(scene, 1);
    const auto counts = one.counts[0].values();
    REQUIRE(*std::max_element(counts.begin(), counts.end()) > 1000);  // a picture, not a dark or a full one
    REQUIRE(*std::min_element(counts.begin(), counts.end()) < 400);
    for (const int threads : {2, 3, 7}) CHECK(same(imageOf(scene, threads), one));
}

TEST_CASE("lines formed backwards - in pieces - or one by one make the image that they make at once", "[formation]") {
    const Scene scene = sceneFor(GENERATE(from_range(formedKinds())));
    const Image whole = imageOf(scene);
    Formation backwards(scene, 0);
    for (int l = backwards.lines() - 1; l >= 0; --l) {
        CHECK_FALSE(backwards.ready(l));
        backwards.form(l, l + 1, 1);
        CHECK(backwards.ready(l));
    }
    CHECK(same(backwards.image(), whole));
    Formation pieces(scene, 0);
    Draws draws(3, 1);
    for (int i = 0; i < 20; ++i) {
        const int first = static_cast<int>(draws.between(-5, pieces.lines()));
        pieces.form(first, first + 11, 2);
    }
    (void)pieces.why(pieces.lines() / 2, 3);
    pieces.form(0, 1000000);
    CHECK(same(pieces.image(), whole));
}

TEST_CASE("a changed scene keeps what still holds, and ends in the image of a fresh formation", "[formation]") {
    const Scene scene = sceneFor(GENERATE(from_range(formedKinds())));
    struct Change {
        std::string set;
        Ready from;  ///< the stage from which lines are walked again
    };
    const std::vector<Change> changes{
        {"noise.seed=9", Ready::radiance},         {"instrument.bits=8", Ready::radiance},       {"instrument.read_noise=400 e", Ready::radiance},
        {"instrument.gain=20 e", Ready::radiance}, {"instrument.transmission=20 %", Ready::radiance}, {"instrument.f_number=12", Ready::radiance},
        {"instrument.seed=4", Ready::radiance},    {"instrument.pattern_gain=20 %", Ready::radiance}, {"instrument.dark_current=100000 e/s", Ready::radiance},
        {"effect.shot_noise=false", Ready::radiance}, {"effect.quantisation=false", Ready::radiance},
        {"air.aerosol_depth=0.5", Ready::sun_seen}, {"air.on=false", Ready::sun_seen},           {"sun.distance=1.05", Ready::sun_seen},
        {"effect.skylight=false", Ready::sun_seen}, {"effect.slope_shading=false", Ready::sun_seen}, {"effect.glint=false", Ready::sun_seen},
        {"sun.elevation=20 deg", Ready::looks},    {"sun.azimuth=300 deg", Ready::looks},        {"sun.disc=true", Ready::looks},
        {"effect.cast_shadow=false", Ready::looks}, {"sun.time=2026-06-21T09:00:00Z", Ready::looks},
        {"flight.height=600 m", Ready::nothing},   {"flight.roll=3 deg", Ready::nothing},        {"flight.lean=3", Ready::nothing},
        {"flight.seed=5", Ready::nothing},         {"quality.contributions=2", Ready::nothing},  {"effect.sweep_motion=false", Ready::nothing},
        {"instrument.focal_length=6 mm", Ready::nothing}};
    Formation formation(scene, 0);
    formation.formAll(1);
    const Image before = formation.image();
    for (const Change& change : changes) {
        INFO(change.set);
        const Scene changed = with(scene, {change.set});
        // A whisk broom's IFOV is given, so its focal length alone changes the detector's size; it too is geometry.
        CHECK(formation.update(changed) == change.from);
        CHECK_FALSE(formation.ready(0));
        formation.formAll(1);
        CHECK(same(formation.image(), imageOf(changed, 1)));
        CHECK(formation.update(changed) == Ready::counts);  // nothing to do
        CHECK(formation.ready(0));
        formation.update(scene);
        formation.formAll(1);
        CHECK(same(formation.image(), before));
    }
}

TEST_CASE("a change of the earth's radius touches no image", "[formation]") {
    const Scene scene = sceneFor(formedKinds()[0]);
    Formation formation(scene, 0);
    CHECK(formation.update(with(scene, {"earth.radius=3000 km"})) == Ready::counts);
}

TEST_CASE("with several contributions the f-number and the blur reach the looks", "[formation]") {
    const Scene scene = sceneFor(formedKinds()[1], {"quality.contributions=4"});
    Formation formation(scene, 0);
    CHECK(formation.update(with(scene, {"instrument.f_number=6"})) == Ready::nothing);
    CHECK(formation.update(with(scene, {"instrument.f_number=6", "instrument.blur=1"})) == Ready::nothing);
    CHECK(formation.update(with(scene, {"instrument.f_number=6", "instrument.blur=1", "noise.seed=3"})) == Ready::radiance);
}

TEST_CASE("updates in any order end in the image of a fresh formation", "[formation]") {
    const auto& kind = GENERATE(from_range(formedKinds()));
    const Scene start = sceneFor(kind);
    const Sets pool{"sun.elevation=12 deg", "sun.elevation=60 deg", "noise.seed=3", "air.on=false", "air.on=true", "instrument.bits=6", "instrument.bits=12",
                    "flight.height=450 m", "effect.cast_shadow=false", "effect.cast_shadow=true", "sun.disc=true", "sun.disc=false", "quality.contributions=3", "quality.contributions=1"};
    Formation formation(start, 0);
    Scene scene = start;
    Draws draws(8, 2);
    for (int i = 0; i < effort(25); ++i) {
        scene = with(scene, {pool[static_cast<std::size_t>(draws.between(0.0, 0.999) * static_cast<double>(pool.size()))]});
        formation.update(scene);
        // Some lines are formed between two changes, others are left behind at an older stage.
        const int first = static_cast<int>(draws.between(0, formation.lines()));
        formation.form(first, first + 20, 1);
    }
    formation.formAll();
    CHECK(same(formation.image(), imageOf(scene)));
}

TEST_CASE("a cancelled formation forms part of the lines and goes on later", "[formation]") {
    const Scene scene = sceneFor(formedKinds()[1]);
    Formation formation(scene, 0);
    Cancel cancel{false};
    std::atomic<int> most{0};
    const bool finished = formation.form(0, formation.lines(), 2, &cancel, [&](int done) {
        most = std::max(most.load(), done);
        if (done >= 5) cancel = true;
    });
    CHECK_FALSE(finished);
    CHECK(most < formation.lines());
    int ready = 0;
    for (int l = 0; l < formation.lines(); ++l) ready += formation.ready(l) ? 1 : 0;
    CHECK(ready >= 5);
    CHECK(ready < formation.lines());
    CHECK(formation.formAll());
    CHECK(same(formation.image(), imageOf(scene)));
}

TEST_CASE("lines may be shown when their last light is gathered", "[formation]") {
    Formation push(sceneFor(formedKinds()[1]), 0);
    const Derived& d = push.instrument().derived();
    CHECK(push.linesBy(-1.0) == 0);
    CHECK(push.linesBy(0.99 * d.line_period_s) == 0);
    CHECK(push.linesBy(1.01 * d.line_period_s) == 1);
    CHECK(push.linesBy(10.5 * d.line_period_s) == 10);
    CHECK(push.linesBy(1e9) == push.lines());
    Formation whisk(sceneFor(formedKinds()[0]), 0);
    const double scan = whisk.instrument().derived().scan_period_s;
    CHECK(whisk.linesBy(0.85 * scan) == 0);  // duty 80 %: the sweep ends at 90 % of the period
    CHECK(whisk.linesBy(0.95 * scan) == 3);  // three detectors, three lines at once
    Formation frame(sceneFor(formedKinds()[2]), 0);
    const double instant = frame.instrument().lineTime_s(0);
    CHECK(frame.linesBy(instant - 0.1) == 0);
    CHECK(frame.linesBy(instant + 0.1) == frame.lines());
}
