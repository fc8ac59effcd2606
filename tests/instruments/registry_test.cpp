#include "instruments/registry.h"

#include <catch2/catch.hpp>
#include <set>

#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("every kind of instrument has a preset of its name, which loads and can be flown", "[registry]") {
    REQUIRE(instrumentKinds().size() >= 3);
    for (const InstrumentKind& kind : instrumentKinds()) {
        INFO(kind.name);
        CHECK(findInstrumentKind(kind.name) == &kind);
        CHECK_FALSE(kind.title.empty());
        CHECK_FALSE(kind.help.empty());
        const Scene scene = sceneOf("slopes", kind.name, {}, false);
        CHECK(scene.instruments[0].kind == kind.name);
        CHECK(factsOfScene(scene, 0).derived.samples > 100);
    }
    CHECK(findInstrumentKind("telescope") == nullptr);
}

TEST_CASE("every key of a kind has a help, a range and a name under instrument - once", "[registry]") {
    for (const InstrumentKind& kind : instrumentKinds()) {
        std::set<std::string> keys;
        for (const Parameter& row : kind.rows) {
            INFO(kind.name << " " << row.key);
            CHECK(row.key.rfind("instrument.", 0) == 0);
            CHECK(keys.insert(row.key).second);
            CHECK(row.help.size() > 8);
            if (row.kind != Kind::text && row.kind != Kind::choice && row.kind != Kind::flag) CHECK(row.least < row.most);
            for (const std::string& partner : row.partners) CHECK(findInstrumentRow(kind, partner) != nullptr);
        }
        for (const char* common : {"instrument.bits", "instrument.full_well", "instrument.read_noise", "instrument.seed"}) CHECK(keys.count(common) == 1);
        // An aperture is given once: as an f-number, or as the pupil of an eye.
        CHECK(keys.count("instrument.f_number") + keys.count("instrument.pupil") == 1);
    }
}
