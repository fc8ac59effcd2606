// From settings to a request and back, and every request that makes no sense.

#include <catch2/catch.hpp>

#include "figure/figures.h"
#include "support/figures.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Scene twin(const Sets& sets = {}) {
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {"push-broom", "frame-camera"};
    request.sets = Sets{"A.instrument.samples=60", "B.instrument.samples=40", "B.instrument.rows=30", "flight.length=300 m"} + sets;
    return loadScene(request);
}

std::string complaint(const Sets& sets) {
    try {
        const Scene scene = twin(sets);
        (void)figureRequest(scene, formationsOf(scene));
        return "";
    } catch (const InputError& e) {
        return e.what();
    }
}

}  // namespace

TEST_CASE("a request written into a scene is read back the same") {
    const Scene scene = twin();
    const Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::flight};
    request.pixel = ShownPixel{1, 12, 7};
    request.from = ShownPixel{0, 3, 4};
    request.to = ShownPixel{0, 5, 6};
    request.scales = {1, 3};
    request.night = true;
    request.eye = Camera{{1.0 / 3.0, -2e3, 712.25}, 5432.1, 1.23456789, 0.3};
    const FigureRequest read = figureRequest(withRequest(scene, request, FigureKind::flight), formations);
    CHECK(read.kinds == request.kinds);
    CHECK(read.pixel == request.pixel);
    CHECK(read.from == request.from);
    CHECK(read.to == request.to);
    CHECK(read.scales == request.scales);
    CHECK(read.night);
    REQUIRE(read.eye);
    CHECK(read.eye->target_m == request.eye->target_m);
    CHECK(read.eye->distance_m == request.eye->distance_m);
    CHECK(read.eye->azimuth_rad == request.eye->azimuth_rad);
    CHECK(read.eye->elevation_rad == request.eye->elevation_rad);

    FigureRequest none;
    none.kinds = {FigureKind::flight};
    const FigureRequest again = figureRequest(withRequest(scene, none, FigureKind::flight), formations);
    CHECK_FALSE(again.pixel);
    CHECK_FALSE(again.eye);
    CHECK(again.scales == std::vector<int>{1, 2, 3});
}

TEST_CASE("no image depends on how its figure is made") {
    Formation formation(twin(), 0);
    formation.formAll(1);
    CHECK(formation.update(twin({"figure.what=path", "figure.from=A:1,1", "figure.theme=night"})) == Ready::counts);
}

TEST_CASE("without a word the figure takes a pixel of the middle line and that line") {
    const Scene scene = twin();
    const Formations formations = formationsOf(scene);
    const FigureRequest request = figureRequest(scene, formations);
    CHECK(request.kinds.size() == 5);
    CHECK(request.pixel == ShownPixel{0, formations[0]->lines() / 2, 15});
    CHECK(request.from == ShownPixel{0, formations[0]->lines() / 2, 0});
    CHECK(request.to == ShownPixel{0, formations[0]->lines() / 2, 59});
    CHECK_FALSE(figureRequest(twin({"figure.what=picture, flight"}), formations).pixel);
    CHECK_FALSE(figureRequest(twin({"figure.what=picture, flight"}), formations).from);
}

TEST_CASE("requests that make no sense are refused, each with what was expected") {
    const auto check = [](const Sets& sets, const std::string& words) {
        const std::string said = complaint(sets);
        CAPTURE(said, words);
        CHECK(said.find(words) != std::string::npos);
    };
    CHECK(complaint({}) == "");
    check({"figure.what=portrait"}, "figure.what: read 'portrait', expected one or more of picture, flight, path, profile, histogram");
    check({"figure.what=picture,,path"}, "one or more of picture");
    check({"figure.difference=cast-shadows"}, "figure.difference: read 'cast-shadows', expected one of perspective, relief");
    check({"figure.difference=attitude", "flight.roll=0 deg"}, "a cause that acts here");
    check({"figure.from=A:3", "figure.to=A:4,4"}, "figure.from: read 'A:3', expected LETTER:LINE,SAMPLE");
    check({"figure.from=a:3,3", "figure.to=A:4,4"}, "LETTER:LINE,SAMPLE");
    check({"figure.from=A:-1,3", "figure.to=A:4,4"}, "LETTER:LINE,SAMPLE");
    check({"figure.from=A:1e2,3", "figure.to=A:4,4"}, "LETTER:LINE,SAMPLE");
    check({"figure.from=A:99999999999,3", "figure.to=A:4,4"}, "LETTER:LINE,SAMPLE");
    check({"show.pixel=C:3,3"}, "an instrument of this scene: A to B");
    check({"show.pixel=B:30,3"}, "a line of 0 to 29 and a sample of 0 to 39");
    check({"show.pixel=B:3,40"}, "a line of 0 to 29 and a sample of 0 to 39");
    check({"figure.from=A:1,1"}, "figure.from and figure.to, or neither");
    check({"figure.to=A:1,1"}, "figure.from and figure.to, or neither");
    check({"figure.from=A:1,1", "figure.to=B:1,1"}, "a pixel in the same picture");
    check({"figure.from=A:1,1", "figure.to=A:1,1"}, "another pixel");
    check({"figure.scales=4"}, "1, 2 or 3");
    check({"figure.scales="}, "1, 2 or 3");
    check({"figure.scales=1;2"}, "1, 2 or 3");
    check({"show.bands=reed"}, "did you mean 'red'?");
    check({"show.bands=infrared"}, "show.bands: read 'infrared', expected one of true colour, false colour, blue, green, red");  // B has none
    check({"figure.theme=dusk"}, "day, night");
    check({"figure.distance=4 km"}, "figure.azimuth, elevation, distance, east, north and up together");
    // Several mistakes are told together.
    const std::string both = complaint({"show.pixel=C:3,3", "show.bands=reed"});
    CHECK(occurrences(both, "expected") == 2);
}
