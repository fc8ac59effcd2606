// Pace, ruler, and the line that is being gathered: without a window.

#include <catch2/catch.hpp>

#include <chrono>
#include <thread>

#include "app/pace.h"
#include "app/session.h"
#include "app/ruler.h"
#include "app/session_loaded.h"

namespace linefall {

namespace {

SceneRequest small(const std::vector<std::string>& more = {}) {
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {"whisk-broom", "push-broom"};
    request.sets = {"A.instrument.samples=120", "B.instrument.samples=160", "flight.height=900 m", "flight.length=500 m"};
    request.sets.insert(request.sets.end(), more.begin(), more.end());
    return request;
}

void at(Session& session, double time_s) {
    session.clock().setPaused(true);
    session.scrub(time_s);
    for (int i = 0; i < 100000; ++i) {
        session.frame(0.0, 20.0);
        bool settled = true;
        for (const auto& craft : session.crafts()) settled = settled && craft->settled() && craft->shown() == craft->formation().linesBy(time_s);
        if (settled) return;
    }
    FAIL("the pictures never settled");
}

}  // namespace

TEST_CASE("A pace is read as it is written, from 1/100 000 to 1000 times real time") {
    for (const auto& [text, pace] : std::vector<std::pair<std::string, double>>{{"1/20000", 5e-5}, {"1/20 000", 5e-5}, {"x 0.00005", 5e-5}, {"× 0.00005", 5e-5},
             {"3", 3.0}, {"×3.5", 3.5}, {"1 / 100 000", 1e-5}, {"0.00001", 1e-5}, {"1000", 1000.0}, {"2/3", 2.0 / 3.0}, {"1/400 of real time", 0.0025}, {"50 times", 50.0}}) {
        CAPTURE(text);
        REQUIRE(readPace(text));
        CHECK(*readPace(text) == Approx(pace).epsilon(1e-9));
    }
    for (const char* text : {"", "fast", "0", "-1", "1/0", "1/", "/3", "1001", "1/200000", "nan", "1/2/3"}) {
        CAPTURE(text);
        CHECK_FALSE(readPace(text));
    }
    CHECK(paceText(5e-5) == "1/20 000");
    CHECK(paceText(1e-5) == "1/100 000");
    CHECK(paceText(3.4461) == "× 3.45");
    CHECK(paceText(1.0) == "× 1.00");
    CHECK(paceText(0.5) == "1/2.00");
    CHECK(paceText(1000.0) == "× 1000");
    for (double pace = 1e-5; pace < 1000.0; pace *= 1.7) CHECK(*readPace(paceText(pace)) == Approx(pace).epsilon(0.03));
    CHECK(timeText(10.90577, 1e-4) == "10.9058 s");
    CHECK(timeText(3.0, 2.0) == "3 s");
}

TEST_CASE("Every page of the ruler holds its time, and the levels run from the pass to one dwell") {
    Session session(small({"A.instrument.sweep=two-way"}));
    load(session);
    const double duration_s = session.clock().duration_s();
    for (const auto& craft : session.crafts()) {
        const Instrument& instrument = craft->formation().instrument();
        const std::vector<RulerLevel> levels = rulerLevels(instrument, duration_s);
        CHECK(levels.front().length_s == duration_s);
        CHECK(levels.back().length_s == Approx(instrument.hasMirror() ? instrument.derived().dwell_s : instrument.derived().line_period_s));
        for (const RulerLevel& level : levels) {
            for (int i = 0; i <= 500; ++i) {
                const double time_s = duration_s * i / 500.0;
                const RulerPage page = rulerPage(instrument, duration_s, level, time_s);
                INFO(page.words << ": " << page.from_s << " to " << page.to_s << " at " << time_s);
                REQUIRE(page.from_s <= time_s + 1e-9);
                // After the last sweep nothing more comes: the last page stays.
                REQUIRE((page.to_s >= time_s - 1e-9 || time_s > instrument.lineDone_s(instrument.lines() - 1)));
                REQUIRE(page.to_s > page.from_s);
            }
        }
        CHECK(rulerLevelFor(instrument, levels, 3.0) == 0);
        const double sweep_s = instrument.derived().scan_period_s;
        CHECK(levels[static_cast<std::size_t>(rulerLevelFor(instrument, levels, 0.5 * sweep_s))].length_s == Approx(sweep_s));
    }
}

TEST_CASE("Scrubbed into a line, the picture holds exactly the samples gathered by then, also backwards and under a new sun") {
    for (const char* sweep : {"one-way", "two-way"}) {
        Session session(small({std::string("A.instrument.sweep=") + sweep, "A.instrument.detectors=2"}));
        load(session);
        Craft& craft = *session.crafts()[0];
        const Instrument& instrument = craft.formation().instrument();
        for (const int line : {10, 12, 4}) {
            for (const int sample : {100, 30}) {
                const double time_s = instrument.lookTime_s(line, sample, 0.2);
                at(session, time_s);
                CHECK(craft.shown() == line);
                CHECK(craft.partly().line == line);
                CHECK(craft.partly().lines == 2);
                for (int s = 0; s < 120; ++s) CHECK(craft.gathered({line + 1, s}) == (instrument.lookTime_s(line + 1, s, 0.5) <= time_s));
                CHECK(craft.formation().ready(line));
                CHECK(craft.formation().ready(line + 1));
            }
        }
        // The sample that gathers can not be picked yet, the one before can.
        const SampleRun run = craft.partly().run;
        const bool falls = run.last == 120;
        session.pick(0, {4, falls ? run.first : run.last - 1});
        CHECK(session.picked()->why);
        session.pick(0, {4, falls ? run.first - 1 : run.last});
        CHECK_FALSE(session.picked()->why);
        (void)craft.takeFallen();
        session.setValue(session.sceneParameter("air.aerosol_depth"), Value{0.4});
        at(session, session.clock().time_s());
        int fell = 0;
        for (const Fallen& fallen : craft.takeFallen()) fell += fallen.line >= 4 ? 1 : 0;
        CHECK(fell == 2);  // both lines of the sweep, as the new air shows them
    }
    Session session(small());
    load(session);
    const Instrument& push = session.crafts()[1]->formation().instrument();
    at(session, push.lookTime_s(20, 0, 0.4));
    CHECK(session.crafts()[1]->partly().lines == 0);  // a line of detectors falls as a whole
    CHECK(session.crafts()[1]->shown() == 20);
}

TEST_CASE("A hand gathers what it passes over, once, and leaves the rest blank") {
    HandSweep hand(7, 2, 10, 0);
    CHECK(hand.count() == 0);
    hand.setTo(4);
    CHECK(hand.count() == 1);
    hand.moveTo(6);
    hand.moveTo(5);
    CHECK(hand.count() == 3);
    hand.moveTo(-3);
    CHECK(hand.at() == 0);
    CHECK(hand.runs() == std::vector<SampleRun>{{0, 7}});
    CHECK(hand.holds(8, 6));
    CHECK_FALSE(hand.holds(8, 7));
    CHECK_FALSE(hand.holds(9, 6));
    hand.moveTo(99);
    CHECK(hand.complete());
}

TEST_CASE("A line swept by hand is the core's own line, and filled or given back the machine flies on from its end") {
    for (const int which : {0, 1}) {
        Session session(small({"A.instrument.detectors=2"}));
        load(session);
        at(session, 0.4 * session.clock().duration_s());
        Craft& craft = *session.crafts()[static_cast<std::size_t>(which)];
        const int before = craft.shown();
        session.beginHand(which);
        REQUIRE(session.handCraft() == which);
        const int line = craft.hand()->line();
        CHECK(line == before);
        for (int i = 0; i < 1000 && !craft.settled(); ++i) session.frame(0.02, 20.0);
        craft.moveHand(20, true);
        craft.moveHand(35);
        session.frame(0.02, 20.0);
        CHECK(session.clock().paused());
        CHECK(craft.shown() == line);
        CHECK(craft.partlyRuns() == std::vector<SampleRun>{{20, 36}});
        CHECK(craft.gathered({line, 35}));
        CHECK_FALSE(craft.gathered({line, 36}));
        Formation alone(session.scene(), static_cast<std::size_t>(which));
        alone.form(line, line + 1, 1);
        for (int s = 20; s < 36; ++s) CHECK(alone.image().counts[1].at(s, line) == craft.formation().image().counts[1].at(s, line));
        if (which == 0) {
            session.endHand();
        } else {  // every sample: the machine takes over by itself
            craft.moveHand(0);
            craft.moveHand(159);
            session.frame(0.02, 20.0);
        }
        CHECK_FALSE(session.handCraft());
        CHECK_FALSE(session.clock().paused());
        CHECK(session.clock().time_s() >= craft.formation().instrument().lineDone_s(line));
        session.frame(0.02, 20.0);
        CHECK(craft.shown() > line);
        // Scrubbing lets go of a line without finishing it.
        session.beginHand(which);
        session.scrub(0.2 * session.clock().duration_s());
        CHECK_FALSE(session.handCraft());
    }
}

}  // namespace linefall
