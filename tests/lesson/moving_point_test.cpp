// A train that moves while its picture is taken: where a lesson looks for it, the picture shows it.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "lesson/describe.h"
#include "lesson/truth.h"
#include "support/folders.h"

using namespace linefall;

namespace {

/// Name of the thing that a pixel's look meets; empty: none.
std::string thingAt(Truths& truths, const std::string& scene, double sample, double line) {
    Formation& formation = truths.formation(scene);
    const int object = formation.why(static_cast<int>(line), static_cast<int>(sample)).hit.object;
    return object < 0 ? "" : truths.scene(scene).place->ground->thing(object).name;
}

}  // namespace

TEST_CASE("a named point of a moving thing is where the picture shows it") {
    const Lesson lesson = readLesson(lessonsFolder() + "/rows-are-times");
    for (const int variant : {0, 14, 23}) {
        Truths truths(lesson, variant);
        for (const char* scene : {"lines", "instant"}) {
            INFO(scene << ", variant " << variant + 1);
            // The flight goes south and line numbers grow southwards: the front of the southern train is its last line.
            const PicturePlace front = truths.place("south_front", scene), rear = truths.place("south_rear", scene);
            CHECK(thingAt(truths, scene, front.sample, front.line - 1.5) == "south train engine");
            CHECK(thingAt(truths, scene, front.sample, front.line + 1.5).empty());
            CHECK(thingAt(truths, scene, rear.sample, rear.line + 1.5) == "south train last wagon");
            CHECK(thingAt(truths, scene, rear.sample, rear.line - 1.5).empty());
        }
    }
}

TEST_CASE("what moves is told in words before what stands still") {
    const Lesson lesson = readLesson(lessonsFolder() + "/rows-are-times");
    Truths truths(lesson, 14);
    const std::vector<SeenThing> things = seenThings(truths, "lines", 0);
    REQUIRE(!things.empty());
    CHECK(things.front().name == "south train engine");
}

TEST_CASE("a point on the ground is told by its words, or by its name with blanks") {
    const Lesson lesson = readLesson(lessonsFolder() + "/squeezed-fields");
    Truths truths(lesson, 0);
    for (const SeenThing& thing : seenThings(truths, "", 0)) {
        INFO(thing.name);
        CHECK(thing.name.find('_') == std::string::npos);
    }
    Lesson plain = lesson;
    for (LessonPoint& point : plain.points) point.words.clear();
    Truths others(plain, 0);
    const std::vector<SeenThing> things = seenThings(others, "", 0);
    CHECK(std::any_of(things.begin(), things.end(), [](const SeenThing& thing) { return thing.name == "grain middle west"; }));
}

TEST_CASE("a picture that is shown turned is told as the page shows it, and its pixels keep their numbers") {
    const Lesson lesson = readLesson(lessonsFolder() + "/shadow-to-height");
    Truths truths(lesson, 0);
    const std::string straight = pictureInWords(truths, "", 0), turned = pictureInWords(truths, "", 0, false, true);
    const auto line = [](const std::string& text, const std::string& start) {
        const std::size_t at = text.find(start);
        REQUIRE(at != std::string::npos);
        return text.substr(at, text.find('\n', at) - at);
    };
    // What was in a corner is in the opposite one.
    const std::pair<const char*, const char*> opposite[] = {{"  top left: ", "  bottom right: "}, {"  top centre: ", "  bottom centre: "}, {"  middle right: ", "  middle left: "}, {"  middle centre: ", "  middle centre: "}};
    for (const auto& [one, other] : opposite) CHECK(line(straight, one).substr(std::string(one).size()) == line(turned, other).substr(std::string(other).size()));
    CHECK(straight.find("North is at the top.") != std::string::npos);
    CHECK(turned.find("North is at the bottom.") != std::string::npos);
    CHECK(turned.find("0,0 is the corner at the bottom right") != std::string::npos);
    CHECK(straight.substr(straight.find("What can be made out")) == turned.substr(turned.find("What can be made out")));
    CHECK(pictureInBrief(truths, "", 0).find("made out") == std::string::npos);
}

TEST_CASE("a picture that is shown plain is told without sun and scale") {
    const Lesson lesson = readLesson(lessonsFolder() + "/what-made-this-picture");
    Truths truths(lesson, 0);
    const Step& step = lesson.steps.front();
    REQUIRE(shownPlain(lesson, step, "found", 0));
    const std::string words = pictureInWords(truths, "found", 0, true);
    for (const char* told : {"The sun", "is down", "North is", "at nadir"}) CHECK(words.find(told) == std::string::npos);
    CHECK(pictureInWords(truths, "found", 0).find("The sun stands 28 deg high") != std::string::npos);
}
