#include "scene/show_settings.h"

#include <catch2/catch.hpp>
#include <fstream>

#include "scene/scene.h"

namespace linefall {

TEST_CASE("A shown pixel is written as it is read, and anything else is no pixel") {
    const std::optional<ShownPixel> pixel = readShownPixel("B:120,45");
    REQUIRE(pixel);
    CHECK(pixel->instrument == 1);
    CHECK(pixel->line == 120);
    CHECK(pixel->sample == 45);
    CHECK(writtenPixel(*pixel) == "B:120,45");
    for (const char* wrong : {"", "B", "B:1", "B:1,", "b:1,2", "B:-1,2", "B:1,2 ", "B:1.5,2", "B:99999999999,2", "1,2"}) {
        CAPTURE(wrong);
        CHECK_FALSE(readShownPixel(wrong));
    }
}

TEST_CASE("How a picture is shown is kept in the state and read back") {
    SceneRequest request;
    request.place = "slopes";
    request.sets = {"show.bands=infrared, red, green", "show.stretch=value", "show.low_count=10", "show.high_count=900", "show.turned=true",
                    "show.pixel=A:3,4", "show.time=2.5 s"};
    const Scene scene = loadScene(request);
    const std::string file = "show-state.toml";
    std::ofstream(file) << stateText(scene);
    SceneRequest again;
    again.state = file;
    const ShowSettings show = loadScene(again).showSettings();
    CHECK(show.bands == "infrared, red, green");
    CHECK(show.stretch == StretchKind::value);
    CHECK(show.low_count == 10.0);
    CHECK(show.high_count == 900.0);
    CHECK(show.turned);
    CHECK(show.pixel == "A:3,4");
    CHECK(show.time_s == 2.5);
    std::remove(file.c_str());
}

TEST_CASE("A pixel that is none is told with what was expected") {
    SceneRequest request;
    request.place = "slopes";
    request.sets = {"show.pixel=A:3"};
    CHECK_THROWS_WITH(loadScene(request), Catch::Contains("show.pixel") && Catch::Contains("A:120,45"));
}

}  // namespace linefall
