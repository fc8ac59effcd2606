// What an instrument does at one instant: its own look times are the judge, sample by sample.

#include "instruments/moment.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

std::unique_ptr<Instrument> madeOf(const std::string& kind, const Sets& sets) {
    Problems problems;
    auto instrument = makeInstrument(sceneOf("slopes", oneBand(kind), sets, false), 0, problems);
    REQUIRE(problems.empty());
    return instrument;
}

const Sets flight{"flight.height=800 m", "flight.length=60 m", "instrument.samples=40"};

/// Every way of sweeping that there is.
std::vector<std::unique_ptr<Instrument>> all() {
    std::vector<std::unique_ptr<Instrument>> list;
    const Sets whisk = flight + Sets{"instrument.ifov=5 mrad"};
    list.push_back(madeOf("whisk-broom", whisk));
    list.push_back(madeOf("whisk-broom", whisk + Sets{"instrument.sweep=two-way"}));
    list.push_back(madeOf("whisk-broom", whisk + Sets{"instrument.sweep=two-way", "instrument.detectors=3", "instrument.duty_cycle=40 %"}));
    list.push_back(madeOf("whisk-broom", whisk + Sets{"instrument.facets=20"}));
    list.push_back(madeOf("whisk-broom", whisk + Sets{"instrument.duty_cycle=100 %"}));
    list.push_back(madeOf("push-broom", flight + Sets{"instrument.duty_cycle=30 %"}));
    list.push_back(madeOf("frame-camera", flight + Sets{"instrument.rows=30"}));
    return list;
}

}  // namespace

TEST_CASE("In the middle of a dwell the moment names that line and sample, half way through", "[moment]") {
    for (const auto& instrument : all()) {
        const int together = std::max(1, instrument->derived().lines_at_once);
        for (const int line : {0, instrument->lines() / 2, instrument->lines() - 1}) {
            for (const int sample : {0, 17, 39}) {
                const Moment now = momentAt(*instrument, instrument->lookTime_s(line, sample, 0.0));
                CHECK(now.line == line - line % together);
                CHECK(now.lines == together);
                CHECK(now.gathering);
                CHECK(now.sample.has_value() == instrument->hasMirror());
                if (now.sample) CHECK(*now.sample == sample);
                CHECK(now.dwell == Approx(0.5).epsilon(1e-6));
            }
        }
    }
}

TEST_CASE("What had been gathered by a time is every sample whose dwell is over, counted one by one", "[moment]") {
    for (const auto& instrument : all()) {
        const int line = instrument->lines() / 2;
        const SweepTimes sweep = sweepOf(*instrument, line);
        for (int i = -3; i <= 43; ++i) {
            const double time_s = sweep.begins_s + (sweep.ends_s - sweep.begins_s) * (i + 0.37) / 40.0;
            const SampleRun run = gatheredBy(*instrument, line, time_s);
            for (int sample = 0; sample < 40; ++sample) {
                INFO("sample " << sample << ", step " << i);
                CHECK((sample >= run.first && sample < run.last) == (instrument->lookTime_s(line, sample, 0.5) <= time_s));
            }
        }
        CHECK(gatheredBy(*instrument, line, instrument->lineDone_s(line)) == SampleRun{0, 40});
        CHECK(gatheredBy(*instrument, line, sweep.begins_s).count() == 0);
    }
}

TEST_CASE("Steps of one dwell visit every sample of the flight in order, both ways", "[moment]") {
    for (const auto& instrument : all()) {
        const int sweeps = instrument->lines() / std::max(1, instrument->derived().lines_at_once);
        const int stops = sweeps * (instrument->hasMirror() ? 40 : 1);
        std::vector<double> on{0.0};
        for (int i = 0; i < stops; ++i) {
            on.push_back(nextDwellEnd_s(*instrument, on.back(), true));
            REQUIRE(on.back() > on[static_cast<std::size_t>(i)]);
        }
        CHECK(on.back() == instrument->lineDone_s(instrument->lines() - 1));
        CHECK(nextDwellEnd_s(*instrument, on.back(), true) == on.back());
        for (int i = stops; i > 0; --i) REQUIRE(nextDwellEnd_s(*instrument, on[static_cast<std::size_t>(i)], false) == on[static_cast<std::size_t>(i - 1)]);
    }
}

TEST_CASE("Steps of one line end when lines are done, both ways, also from the middle of one", "[moment]") {
    for (const auto& instrument : all()) {
        const int together = std::max(1, instrument->derived().lines_at_once);
        double time_s = 0.0;
        for (int line = 0; line < instrument->lines(); line += together) {
            time_s = nextLineDone_s(*instrument, time_s, true);
            REQUIRE(time_s == instrument->lineDone_s(line));
        }
        CHECK(nextLineDone_s(*instrument, time_s, true) == time_s);
        for (int line = instrument->lines() - 2 * together; line >= 0; line -= together) {
            time_s = nextLineDone_s(*instrument, time_s, false);
            REQUIRE(time_s == instrument->lineDone_s(line));
        }
        CHECK(nextLineDone_s(*instrument, time_s, false) == 0.0);
        const double middle_s = time_s + 0.5 * instrument->derived().line_period_s;
        if (instrument->lines() > together) CHECK(nextLineDone_s(*instrument, middle_s, false) == time_s);
    }
}

TEST_CASE("The mirror points where the samples look, and turns without a jump between sweeps", "[moment]") {
    for (const auto& instrument : all()) {
        if (!instrument->hasMirror()) {
            CHECK_FALSE(instrument->mirrorAt(0.1));
            continue;
        }
        const Derived& d = instrument->derived();
        for (const int line : {0, d.lines_at_once, instrument->lines() - 1}) {
            for (const int sample : {0, 11, 39}) {
                for (const double share : {-0.5, 0.0, 0.4}) {
                    Offset offset;
                    offset.dwell_share = share;
                    const PlatformLook look = instrument->look(line, sample, offset);
                    const std::optional<MirrorState> mirror = instrument->mirrorAt(look.time_s);
                    REQUIRE(mirror);
                    CHECK(mirror->angle_rad == Approx(std::atan2(look.direction.y, look.direction.z)).margin(1e-9));
                }
            }
        }
        if (d.duty_cycle > 0.999) continue;  // no time to come back in
        // A facet's turn is one full field; a swinging mirror moves on by small steps only.
        const double facet_rad = 2.0 * constants::pi / 20.0;
        double before = instrument->mirrorAt(0.0)->angle_rad;
        const double step_s = d.scan_period_s / 4000.0;
        for (int i = 1; i < 12000; ++i) {
            const MirrorState mirror = *instrument->mirrorAt(i * step_s);
            double moved = std::abs(mirror.angle_rad - before);
            if (mirror.facets == 20 && moved > 0.5 * facet_rad) moved = std::abs(moved - facet_rad);
            REQUIRE(moved < 0.02 * d.fov_rad);
            before = mirror.angle_rad;
        }
    }
}

TEST_CASE("A sweep's period holds its gathering, and periods of neighbours touch", "[moment]") {
    for (const auto& instrument : all()) {
        const int together = std::max(1, instrument->derived().lines_at_once);
        for (int line = 0; line + 2 * together <= instrument->lines(); line += together) {
            const SweepTimes a = sweepOf(*instrument, line), b = sweepOf(*instrument, line + together);
            CHECK(a.to_s == Approx(b.from_s).epsilon(1e-9));
            CHECK(a.from_s <= a.begins_s + 1e-12);
            CHECK(a.ends_s <= a.to_s + 1e-12);
        }
    }
    const auto frame = madeOf("frame-camera", flight + Sets{"instrument.rows=30"});
    const SweepTimes times = sweepOf(*frame, 0);
    CHECK(times.ends_s - times.begins_s == Approx(frame->derived().dwell_s));
}
