// The window's work without a window: frames are asked for as a loop would, and everything is read back.

#include <catch2/catch.hpp>

#include <chrono>
#include <thread>

#include "app/session.h"
#include "app/session_loaded.h"
#include "base/angle.h"

namespace linefall {

namespace {

SceneRequest smallRequest() {
    SceneRequest request;
    request.place = "slopes";
    request.sets = {"A.instrument.samples=120", "B.instrument.samples=160", "flight.height=900 m", "flight.length=500 m"};
    return request;
}

void fill(Session& session) {
    session.clock().fill();
    for (int i = 0; i < 100000 && !session.clock().atEnd(); ++i) session.frame(0.01, 20.0);
    REQUIRE(session.clock().atEnd());
}

void settle(Session& session) {
    for (int i = 0; i < 100000; ++i) {
        session.frame(0.0, 20.0);
        bool settled = true;
        for (const auto& craft : session.crafts()) settled = settled && craft->settled();
        if (settled && i > 4) return;
    }
    FAIL("the pictures never settled");
}

}  // namespace

TEST_CASE("The picture holds exactly the lines whose light is gathered, at any frame rate and both ways") {
    for (const double seconds : {0.004, 0.05, 0.2}) {
        Session session(smallRequest());
        load(session);
        session.clock().setPace(3.0);
        for (int i = 0; i < 40; ++i) {
            session.frame(seconds, 30.0);
            for (const auto& craft : session.crafts()) REQUIRE(craft->shown() == craft->formation().linesBy(session.clock().time_s()));
        }
        session.scrub(0.4 * session.clock().time_s());
        for (const auto& craft : session.crafts()) CHECK(craft->shown() == craft->formation().linesBy(session.clock().time_s()));
    }
}

TEST_CASE("The window's image is the image of the core alone, also after the sun was dragged while it fell") {
    Session session(smallRequest());
    load(session);
    session.clock().setPace(5.0);
    for (int i = 0; i < 20; ++i) {
        session.frame(0.05, 3.0);
        session.setValues({{session.sceneParameter("sun.azimuth"), Value{radiansFromDegrees(100.0 + 5.0 * i)}},
                           {session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(30.0 + i)}}});
    }
    fill(session);
    settle(session);
    for (std::size_t i = 0; i < session.crafts().size(); ++i) {
        Formation alone(session.scene(), i);
        alone.formAll(1);
        for (std::size_t band = 0; band < alone.image().counts.size(); ++band) {
            CHECK(alone.image().counts[band] == session.crafts()[i]->formation().image().counts[band]);
        }
    }
}

TEST_CASE("A dragged sun is followed beside the loop, and the image is the core's once the hand rests, whether it lets go or not") {
    for (const bool lets_go : {true, false}) {
        Session session(smallRequest());
        load(session);
        session.clock().setPace(5.0);
        session.follow(true);
        for (int i = 0; i < 30; ++i) {
            session.setValues({{session.sceneParameter("sun.azimuth"), Value{radiansFromDegrees(100.0 + 5.0 * i)}},
                               {session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(30.0 + i)}}});
            session.frame(0.02, 3.0);
            if (i == 12) session.setText(session.sceneParameter("flight.height"), "950 m");  // another change meanwhile is not undone
            std::this_thread::sleep_for(std::chrono::milliseconds(i % 3));
        }
        if (lets_go) session.follow(false);
        fill(session);
        for (int i = 0; i < 20000 && session.behind(); ++i) {
            session.frame(0.0, 5.0);
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
        REQUIRE_FALSE(session.behind());
        settle(session);
        for (std::size_t i = 0; i < session.crafts().size(); ++i) {
            Formation alone(session.scene(), i);
            alone.formAll(1);
            CHECK(alone.image().counts[0] == session.crafts()[i]->formation().image().counts[0]);
        }
    }
}

TEST_CASE("Every line falls onto the screen as formed, once the pictures are settled") {
    Session session(smallRequest());
    load(session);
    fill(session);
    settle(session);
    for (const auto& craft : session.crafts()) (void)craft->takeFallen();
    session.setValue(session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(20.0)});
    std::vector<int> last(static_cast<std::size_t>(session.crafts()[0]->formation().lines()), -1);
    for (int i = 0; i < 100000; ++i) {
        session.frame(0.0, 2.0);
        for (const Fallen& fallen : session.crafts()[0]->takeFallen()) {
            for (int k = 0; k < fallen.height; ++k) last[static_cast<std::size_t>(fallen.line + k)] = fallen.line;
        }
        if (i > 4 && session.crafts()[0]->settled()) break;
    }
    for (std::size_t line = 0; line < last.size(); ++line) REQUIRE(last[line] == static_cast<int>(line));
}

TEST_CASE("A wrong value is refused in words and the old one keeps flying") {
    Session session(smallRequest());
    load(session);
    const ParameterOf height = session.sceneParameter("flight.height");
    const Value before = session.valueOf(height);
    CHECK_FALSE(session.setText(height, "5").empty());
    CHECK_FALSE(session.problemOf(height).empty());
    CHECK_FALSE(session.setText(height, "1 m").empty());
    CHECK(session.valueOf(height) == before);
    CHECK(session.setText(height, "1.2 km").empty());
    CHECK(session.problemOf(height).empty());
    CHECK(session.crafts()[1]->formation().motion().height_m() == 1200.0);
    // Possible by itself, but its images would fill the memory: refused before any of it is taken.
    const ParameterOf length = session.sceneParameter("flight.length");
    const std::string huge = session.setText(length, "100000 km");
    CAPTURE(huge);
    CHECK(huge.find("expected at most ") == 0);
    CHECK((huge.find("GiB in all: fewer samples") != std::string::npos || huge.find("lines in the flight") != std::string::npos));
    // Possible by itself, impossible with the rest: a wind across the heading stronger than the speed.
    CHECK(session.setText(session.sceneParameter("flight.wind_from"), "90 deg").empty());
    CHECK(session.setText(session.sceneParameter("flight.speed"), "20 m/s").empty());
    CHECK_FALSE(session.setText(session.sceneParameter("flight.wind_speed"), "60 m/s").empty());
    CHECK(std::get<double>(session.valueOf(session.sceneParameter("flight.wind_speed"))) == 0.0);
}

TEST_CASE("A picked pixel has its light path and the same ground in the other picture") {
    Session session(smallRequest());
    load(session);
    fill(session);
    session.pick(0, {session.crafts()[0]->formation().lines() / 2, 60});
    REQUIRE(session.picked());
    REQUIRE(session.picked()->why);
    const Why& why = *session.picked()->why;
    CHECK(why.counts[0] == session.crafts()[0]->formation().image().counts[0].at(60, why.line));
    REQUIRE(session.picked()->linked[1]);
    const std::optional<Vec3> other = session.crafts()[1]->formation().groundPoint(session.picked()->linked[1]->pixel.line,
                                                                                   session.picked()->linked[1]->pixel.sample);
    REQUIRE(other);
    CHECK(glm::length(*other - why.hit.point_m) == Approx(session.picked()->linked[1]->off_m).margin(0.01));
    CHECK(session.picked()->linked[1]->off_m < 10.0);
    session.scrub(0.0);
    CHECK_FALSE(session.picked()->why);  // its light is not gathered yet
}

TEST_CASE("The same ground is found in the other picture as soon as its lines reach it") {
    Session session(smallRequest());
    load(session);
    // The other picture is searched while its lines fall: in the end the link is the one of a full search.
    session.clock().setPaused(true);
    session.scrub(0.45 * session.clock().duration_s());
    for (int i = 0; i < 400; ++i) session.frame(0.02, 5.0);
    session.pick(0, {session.crafts()[0]->shown() - 1, 100});
    REQUIRE(session.picked()->why);
    fill(session);
    settle(session);
    REQUIRE(session.picked()->linked[1]);
    const Nearest linked = *session.picked()->linked[1];
    const std::optional<Nearest> whole = nearestSample(session.crafts()[1]->formation(), session.crafts()[1]->shown(), session.picked()->why->hit.point_m);
    REQUIRE(whole);
    CHECK(linked.pixel == whole->pixel);
    CHECK(linked.off_m < 10.0);
}

TEST_CASE("Another scene is taken whole, and the one before comes back to the bit") {
    Session session(smallRequest());
    load(session);
    fill(session);
    settle(session);
    const Scene before = session.scene();
    const std::vector<Raster<std::uint16_t>> counts = session.crafts()[0]->formation().image().counts;
    Scene other = before;
    other.settings.replace(*session.sceneParameter("flight.height").row, Value{1400.0});
    other.settings.replace(*session.sceneParameter("sun.elevation").row, Value{radiansFromDegrees(15.0)});
    REQUIRE(session.takeScene(other).empty());
    fill(session);
    settle(session);
    CHECK(session.crafts()[0]->formation().motion().height_m() == 1400.0);
    CHECK(session.crafts()[0]->formation().image().counts != counts);
    REQUIRE(session.takeScene(before).empty());
    fill(session);
    settle(session);
    CHECK(session.crafts()[0]->formation().image().counts == counts);
    // Fewer instruments, and both again.
    Scene one = before;
    one.instruments.pop_back();
    REQUIRE(session.takeScene(one).empty());
    CHECK(session.crafts().size() == 1);
    REQUIRE(session.takeScene(before).empty());
    CHECK(session.crafts().size() == 2);
}

TEST_CASE("The window waits for the first land alone: while another scene is opened the old one goes on") {
    Session session(smallRequest());
    load(session);
    CHECK_FALSE(session.raising());
    session.open(smallRequest());
    CHECK(session.loaded());
    CHECK_FALSE(session.raising());
}

TEST_CASE("What cannot be loaded is told, and nothing flies") {
    SceneRequest request;
    request.place = "atlantis";
    Session session(request);
    for (int i = 0; i < 5000 && session.failure().empty(); ++i) {
        session.frame(0.0, 5.0);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    CHECK(session.failure().find("atlantis") != std::string::npos);
    CHECK_FALSE(session.loaded());
}

}  // namespace linefall
