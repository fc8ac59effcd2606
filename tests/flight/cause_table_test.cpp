#include "flight/cause_table.h"

#include <catch2/catch.hpp>
#include <set>

#include "flight/light_stops.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

const std::vector<std::pair<std::string, std::string>>& causeKinds() {
    static const std::vector<std::pair<std::string, std::string>> all{
        {"whisk-broom", "ifov = \"6 mrad\"\nfov = \"50 deg\"\nfocal_length = \"5 mm\"\nf_number = 8"},
        {"push-broom", "focal_length = \"1 mm\"\nsamples = 120\ndetector_pitch = \"4 um\"\nf_number = 16"},
        {"frame-camera", "focal_length = \"1 mm\"\nsamples = 120\nrows = 90\ndetector_pitch = \"4 um\"\nf_number = 16"}};
    return all;
}

/// A tower on a slope in rolling flight through air: everything that any cause needs.
Scene full(const std::pair<std::string, std::string>& kind, const Sets& more = {}) {
    const std::string place = levelPlace(tower(0, 0, 60, 80) + "[[terrain.landform]]\nkind = \"ridge\"\neast = \"-200 m\"\nheight = \"60 m\"\nslope = \"25 deg\"\n", "1 km");
    return sceneOf(written(place), oneBand(kind.first, kind.second),
                   Sets{"flight.height=1200 m", "flight.start_north=200 m", "flight.length=400 m", "flight.roll=3 deg", "flight.pitch_swing=1 deg",
                        "sun.elevation=30 deg", "quality.contributions=3", "instrument.bits=8", "instrument.pattern_gain=5 %",
                        "instrument.pattern_offset=900 e", "instrument.full_well=50000 e", "instrument.read_noise=400 e", "instrument.gain=250 e"} + more);
}

/// The share of counts that differ, and the largest difference.
struct Apart {
    double share = 0.0;
    int most = 0;
};
Apart apart(const Image& a, const Image& b) {
    Apart out;
    REQUIRE(a.samples() == b.samples());
    REQUIRE(a.lines() == b.lines());
    for (int l = 0; l < a.lines(); ++l) {
        for (int s = 0; s < a.samples(); ++s) {
            const int d = std::abs(static_cast<int>(a.counts[0].at(s, l)) - static_cast<int>(b.counts[0].at(s, l)));
            out.share += d != 0 ? 1.0 / (a.lines() * a.samples()) : 0.0;
            out.most = std::max(out.most, d);
        }
    }
    return out;
}

}  // namespace

TEST_CASE("every cause has a name, a sentence, a stop, and switches that are declared flags", "[causes]") {
    std::set<std::string> names, words, keys;
    for (std::size_t i = 0; i < cause_count; ++i) {
        const CauseRow& row = causeTable()[i];
        INFO(row.name);
        CHECK(static_cast<std::size_t>(row.cause) == i);
        CHECK(std::string(row.sentence).size() > 30);
        CHECK(std::string(row.sentence).back() == '.');
        REQUIRE(stopOfCause(row.cause) < stop_count);
        CHECK(std::string(lightStops()[static_cast<std::size_t>(stopOfCause(row.cause))].name) == row.stage);
        names.insert(row.name);
        words.insert(row.word);
        for (const char* key : row.keys) {
            const Parameter* declared = findSceneRow(key);
            REQUIRE(declared != nullptr);
            CHECK(declared->kind == Kind::flag);
            CHECK(keys.insert(key).second);
        }
        CHECK(causeNamed(row.name) == row.cause);
        CHECK(causeNamed(row.word) == row.cause);
    }
    CHECK(names.size() == cause_count);
    CHECK(words.size() == cause_count);
    CHECK_FALSE(causeNamed("gravity"));
}

TEST_CASE("the words by which a state names the cause that is looked at are those of the causes", "[causes]") {
    REQUIRE(causeWords().size() == cause_count);
    for (std::size_t i = 0; i < cause_count; ++i) CHECK(causeWords()[i] == causeTable()[i].word);
}

TEST_CASE("a cause that is switched off is off, alone, and comes back", "[causes]") {
    const Scene scene = full(causeKinds()[0]);
    for (const CauseRow& row : causeTable()) {
        INFO(row.name);
        CHECK(isOn(scene, row.cause));
        const Scene without = switched(scene, row.cause, false);
        for (const CauseRow& other : causeTable()) CHECK(isOn(without, other.cause) == (other.cause != row.cause));
        CHECK_FALSE(acts(without, 0, row.cause));
        CHECK(imageOf(switched(without, row.cause, true)).counts == imageOf(scene).counts);
    }
}

TEST_CASE("in a scene that has all of them, each of the twelve causes acts in the image of every instrument", "[causes]") {
    const Scene scene = full(GENERATE(from_range(causeKinds())));
    const Image image = imageOf(scene);
    for (const CauseRow& row : causeTable()) {
        INFO(row.name);
        CHECK(whyIdle(scene, 0, row.cause).empty());
        CHECK(acts(scene, 0, row.cause));
        CHECK(apart(image, imageOf(switched(scene, row.cause, false))).most > 0);
    }
}

TEST_CASE("a cause that is said to be idle changes no count", "[causes]") {
    struct Case {
        Cause cause;
        int kind;  // of causeKinds()
        Sets sets;
        bool level;
        std::string says;
    };
    const Sets upright{"flight.roll=0 deg", "flight.pitch_swing=0 deg"};
    const std::vector<Case> cases{
        {Cause::relief, 0, {"flight.lean=0"}, false, "lean"},
        {Cause::relief, 1, {}, true, "level"},
        {Cause::relief, 2, upright + Sets{"effect.perspective=false"}, false, "straight down"},
        {Cause::attitude, 0, upright, false, "flies level"},
        {Cause::sweep_motion, 1, {"quality.contributions=1"}, false, "one instant"},
        {Cause::sweep_motion, 2, {"effect.blur=false"}, false, "one instant"},
        {Cause::air, 0, {"sun.elevation=-5 deg"}, false, "horizon"},
        {Cause::skylight, 0, {"sun.elevation=-5 deg"}, false, "horizon"},
        {Cause::skylight, 1, {"air.on=false"}, false, "air"},
        {Cause::cast_shadow, 1, {"sun.elevation=-5 deg"}, false, "horizon"},
        {Cause::cast_shadow, 0, {}, true, "level"},
        {Cause::slope_shading, 0, {"sun.elevation=-1 deg"}, false, "horizon"},
        {Cause::slope_shading, 2, {"sun.elevation=-1 deg", "air.on=false"}, false, "horizon"},
        {Cause::slope_shading, 2, {}, true, "level"},
        {Cause::blur, 0, {"quality.contributions=1"}, false, "One look"},
        {Cause::quantisation, 1, {"instrument.bits=16"}, false, "16 bits"},
        {Cause::pattern, 1, {"instrument.pattern_gain=0 %", "instrument.pattern_offset=0 e"}, false, "alike"},
    };
    const Case c = GENERATE_COPY(from_range(cases));
    INFO(rowOf(c.cause).name);
    const auto& kind = causeKinds()[static_cast<std::size_t>(c.kind)];
    Scene scene = full(kind, c.sets);
    if (c.level) {
        const Scene level = sceneOf(written(levelPlace("", "1 km")), oneBand(kind.first, kind.second));
        scene.place = level.place;
    }
    CHECK_FALSE(acts(scene, 0, c.cause));
    CHECK(whyIdle(scene, 0, c.cause).find(c.says) != std::string::npos);
    CHECK(whyIdle(switched(scene, c.cause, false), 0, c.cause) == whyIdle(scene, 0, c.cause));
    // Relief on level ground goes through other roundings of the same places.
    const Apart found = apart(imageOf(scene), imageOf(switched(scene, c.cause, false)));
    if (c.cause == Cause::relief && c.says != "lean") {
        CHECK(found.most <= 1);
        CHECK(found.share < 1e-3);
    } else {
        CHECK(found.most == 0);
    }
}
