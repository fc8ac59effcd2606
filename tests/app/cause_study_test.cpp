// One cause at a time, without a window: what the pages show of a cause is what the core says of it.

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <functional>
#include <thread>

#include "app/cause_map.h"
#include "app/cause_places.h"
#include "app/cause_study.h"
#include "app/session_loaded.h"
#include "base/angle.h"

using namespace linefall;

namespace {

SceneRequest towers() {
    SceneRequest request;
    request.place = "proving-ground";
    request.sets = {"A.instrument.samples=120", "B.instrument.samples=160", "flight.length=900 m"};
    return request;
}

/// Turns of the loop until a wish is fulfilled.
void turn(Session& session, const std::function<void()>& work, const std::function<bool()>& wish) {
    for (int i = 0; i < 20000; ++i) {
        session.frame(0.02, 10.0);
        work();
        if (wish()) return;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    FAIL("it never came");
}

void show(Session& session, const char* key, const char* word) { REQUIRE(session.setValue(session.sceneParameter(key), Value{std::string(word)}).empty()); }

bool rests(Session& session) { return session.clock().atEnd() && !session.busy(); }

void compare(const Session& session, const CauseStudy& study, Cause cause) {
    for (std::size_t i = 0; i < session.crafts().size(); ++i) {
        Formation with(switched(session.scene(), cause, true), i), without(switched(session.scene(), cause, false), i);
        with.formAll(1);
        without.formAll(1);
        const Difference alone = differenceOf(with.image(), without.image());
        const CauseStudy::Shown* shown = study.shown(i);
        REQUIRE(shown != nullptr);
        for (std::size_t band = 0; band < alone.counts.size(); ++band) CHECK(shown->difference.counts[band] == alone.counts[band]);
        REQUIRE(shown->numbers.size() == alone.bands.size());
        CHECK(shown->numbers[0].changed > 0.0);
    }
}

}  // namespace

TEST_CASE("The difference on the page is the core's own: while lines fall, with the cause on or off, and after the sun moved") {
    Session session(towers());
    load(session);
    session.clock().setPace(20.0);
    CauseStudy study;
    show(session, "show.cause", "air");
    show(session, "show.as", "difference");
    Cause cause = Cause::air;
    const auto work = [&] { study.frame(session, 0.02, 10.0); };
    for (int i = 0; i < 10; ++i) {
        session.frame(0.02, 4.0);
        work();
    }
    session.clock().fill();
    turn(session, work, [&] { return rests(session) && !study.busy(); });
    compare(session, study, cause);

    for (const char* key : rowOf(cause).keys) session.setValue(session.sceneParameter(key), Value{false});  // the other way round
    session.setValue(session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(25.0)});
    turn(session, work, [&] { return rests(session) && !study.busy(); });
    compare(session, study, cause);

    cause = Cause::noise;
    show(session, "show.cause", "noise");
    turn(session, work, [&] { return rests(session) && !study.busy(); });
    compare(session, study, cause);

    show(session, "show.as", "picture");
    work();
    CHECK(study.shown(0) == nullptr);
}

TEST_CASE("A difference of another sun is marked as stale until every line is taken anew, and its own lines never are") {
    Session session(towers());
    load(session);
    CauseStudy study;
    show(session, "show.cause", "air");
    show(session, "show.as", "difference");
    const auto work = [&] { study.frame(session, 0.02, 10.0); };
    session.clock().fill();
    turn(session, work, [&] { return rests(session) && !study.busy(); });
    CHECK_FALSE(study.stale());
    CHECK(study.shown(0)->fresh == 1.0);

    session.setValue(session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(25.0)});
    study.frame(session, 0.02, 10.0);  // the pictures follow with the session's next turn
    CHECK(study.shown(0)->old);
    CHECK(study.shown(0)->fresh == 0.0);
    CHECK_FALSE(study.stale());  // not yet: what is over at once must not flicker
    study.frame(session, 0.5, 10.0);
    CHECK(study.stale());
    turn(session, work, [&] { return rests(session) && !study.busy(); });
    CHECK_FALSE(study.stale());
    CHECK_FALSE(study.shown(0)->old);
    CHECK(study.shown(0)->fresh == 1.0);
    compare(session, study, Cause::air);
}

TEST_CASE("Arrows and outlines are those of the core, and follow the flight") {
    SceneRequest request;
    request.place = "proving-ground";
    Session session(request);
    load(session);
    CausePlaces places;
    show(session, "show.cause", "relief");
    session.setValue(session.sceneParameter("show.displacement"), Value{true});
    const auto work = [&] { places.frame(session); };
    turn(session, work, [&] { return places.of(1) != nullptr; });
    const std::vector<Displacement> alone = displacements(picturesBy(session.scene(), 1));
    REQUIRE_FALSE(alone.empty());
    REQUIRE(places.of(1)->arrows.size() == alone.size());
    CHECK(places.of(1)->arrows.front().vector_m == alone.front().vector_m);
    const double before = places.of(0)->arrows.front().pixels();

    session.setText(session.sceneParameter("flight.lean"), "3");
    work();
    CHECK(places.of(0) == nullptr);  // arrows of another geometry are not shown
    turn(session, work, [&] { return places.of(0) != nullptr; });
    CHECK(places.of(0)->arrows.front().pixels() > 2.0 * before);
    session.setValue(session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(25.0)});
    work();
    CHECK(places.of(0) != nullptr);  // light moves nothing
}

TEST_CASE("The map on the page holds the counts of the image as it stands, and says where each cell comes from") {
    Session session(towers());
    load(session);
    session.clock().fill();
    CauseMaps maps;
    show(session, "show.as", "map");
    const auto work = [&] { maps.frame(session, 0.02); };
    turn(session, work, [&] { return rests(session) && maps.of(0) != nullptr && maps.of(1) != nullptr && !maps.busy(); });
    const CauseMaps::Map& map = *maps.of(1);
    const Image& image = session.crafts()[1]->formation().image();
    const MapPicture alone = mapPicture(map.geometry, image);
    CHECK(map.picture.image.counts[0] == alone.image.counts[0]);
    CHECK(map.picture.covered == alone.covered);
    // A pixel's middle lies in a cell that comes from that pixel.
    int same = 0, all = 0;
    for (int line = 10; line < image.lines() - 10; line += 13) {
        for (int sample = 10; sample < image.samples() - 10; sample += 17) {
            const std::optional<Vec2> at = map.placeOf({sample + 0.5, line + 0.5});
            REQUIRE(at);
            const std::optional<PicturePlace> source = map.geometry->source(static_cast<int>(std::floor(at->x)), static_cast<int>(std::floor(at->y)));
            ++all;
            if (source && std::abs(source->sample - sample - 0.5) < 1.2 && std::abs(source->line - line - 0.5) < 1.2) ++same;
        }
    }
    CHECK(all > 100);
    CHECK(same == all);
    show(session, "show.resampling", "bilinear");
    work();
    CHECK(maps.of(1) == nullptr);
    turn(session, work, [&] { return maps.of(1) != nullptr && !maps.busy(); });
    CHECK(maps.of(1)->geometry->resampling() == Resampling::bilinear);
}
