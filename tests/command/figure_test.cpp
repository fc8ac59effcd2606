// `linefall figure`: which files it writes, that the state beside a figure makes it again, and what it refuses.

#include <catch2/catch.hpp>

#include "command/program.h"
#include "support/figures.h"

using namespace linefall;
using namespace linefall::test;
namespace fs = std::filesystem;

namespace {

Arguments smallFigure(const std::string& out, const Arguments& more = {}) {
    Arguments all = smallForm(out, more);
    all[0] = "figure";
    return all;
}

}  // namespace

TEST_CASE("figure writes pictures at three sizes, a drawing, a caption with alt text, and the state") {
    const std::string out = fresh("figure") + "/made/on/the/way";
    const Said said = run(smallFigure(out, {"--what", "picture", "--json"}));
    INFO(said.err);
    REQUIRE(said.code == 0);
    CHECK(said.err.empty());
    std::vector<std::string> wanted;
    for (const std::string stem : {"picture-push-broom", "picture-whisk-broom"}) {
        for (const char* ending : {".png", ".svg", ".toml", ".txt", "@2x.png", "@3x.png"}) wanted.push_back(stem + ending);
    }
    CHECK(filesIn(out) == wanted);
    for (const nlohmann::json& figure : said.json()) {
        const std::string path = out + "/" + figure["name"].get<std::string>();
        const Colours one = coloursOf(path + ".png");
        for (const int scale : {2, 3}) {
            const Colours large = coloursOf(path + "@" + std::to_string(scale) + "x.png");
            CHECK(large.columns == scale * one.columns);
            CHECK(large.rows == scale * one.rows);
        }
        CHECK(xmlFaults(path + ".svg") == "");
        const std::string words = contentOf(path + ".txt"), svg = contentOf(path + ".svg");
        CHECK(words == "Caption\n" + figure["caption"].get<std::string>() + "\n\nAlt text\n" + figure["alt"].get<std::string>() + "\n");
        CHECK(svg.find("<title ") != std::string::npos);
        CHECK(svg.find(figure["alt"].get<std::string>()) != std::string::npos);
        // The PNG says the same, and how large it is meant to be.
        const std::string png = contentOf(path + "@2x.png");
        CHECK(png.find("Description") != std::string::npos);
        CHECK(png.find(figure["caption"].get<std::string>()) != std::string::npos);
        const std::string density = {'\0', '\0', '\x27', '\x10', '\0', '\0', '\x27', '\x10', '\1'};  // 10 000 a metre
        CHECK(png.find("pHYs" + density) != std::string::npos);
    }
}

TEST_CASE("the state beside a figure makes the same bytes again, for every kind of figure") {
    const std::string out = fresh("figure-again");
    const Said said = run(smallFigure(out, {"--bands", "infrared", "--stretch", "100..3000", "--theme", "night", "--scale", "1", "--pixel", "B:3,4", "--from", "A:1,3", "--to", "A:4,60",
                                            "--quantity", "radiance", "--set", "sun.azimuth=33 deg", "--set", "figure.elevation=31 deg", "--json"}));
    INFO(said.err);
    REQUIRE(said.code == 0);
    const nlohmann::json figures = said.json();
    REQUIRE(figures.size() == 7);  // a picture and a histogram of each instrument, and one of each other kind
    for (const nlohmann::json& figure : figures) {
        const std::string again = fresh("figure-again-2"), name = figure["name"].get<std::string>();
        const Said second = run({"figure", out + "/" + name + ".toml", "--out", again});
        INFO(name << second.err);
        REQUIRE(second.code == 0);
        std::size_t same = 0;
        for (const nlohmann::json& path : figure["files"]) {
            const std::string file = fs::path(path.get<std::string>()).filename().string();
            INFO(file);
            CHECK(contentOf(out + "/" + file) == contentOf(again + "/" + file));
            CHECK_FALSE(contentOf(again + "/" + file).empty());
            ++same;
        }
        CHECK(same >= 4);
    }
    // The state forms the counts of the flight as if no figure had been made.
    const std::string state = out + "/picture-push-broom.toml", formed = fresh("figure-formed"), straight = fresh("figure-straight"), day = fresh("figure-day");
    REQUIRE(run({"form", state, "--out", formed}).code == 0);
    REQUIRE(run(smallForm(straight, {"--set", "sun.azimuth=33 deg"})).code == 0);
    CHECK(contentOf(formed + "/whisk-broom.red.png") == contentOf(straight + "/whisk-broom.red.png"));
    CHECK(run({"inspect", state}).code == 0);
    // An option given beside a state wins.
    REQUIRE(run({"figure", state, "--out", day, "--theme", "day"}).code == 0);
    CHECK(contentOf(out + "/picture-push-broom.png") != contentOf(day + "/picture-push-broom.png"));
}

TEST_CASE("figure refuses what it cannot do in words, with exit code 2, and writes nothing") {
    const auto check = [](const Arguments& more, const std::string& words) {
        const std::string out = fresh("figure-refused");
        const Said said = run(smallFigure(out, more));
        CAPTURE(said.err, words);
        CHECK(said.code == 2);
        CHECK(said.err.find(words) != std::string::npos);
        CHECK_FALSE(fs::exists(out));
    };
    check({"--what", "portrait"}, "--what: read 'portrait', expected one or more of picture, flight, path, profile, histogram, separated by commas");
    check({"--pixel", "A:9"}, "--pixel: read 'A:9', expected LETTER:LINE,SAMPLE");
    check({"--pixel", "B:9,60"}, "and a sample of 0 to 59");
    check({"--scale", "4"}, "--scale: read '4', expected 1, 2 or 3");
    check({"--quantity", "grey"}, "--quantity: read 'grey', expected counts, radiance or reflectance");
    check({"--stretch", "x"}, "--stretch: read 'x'");
    check({"--theme", "dusk"}, "--theme: read 'dusk', expected day or night");
    check({"--bands", "reed"}, "did you mean 'red'?");
    check({"--from", "A:1,1"}, "one end of the profile");
    check({"--what", "portrait", "--scale", "9", "--theme", "x"}, "--theme");
    const std::string bad = written("linefall = 1\nplace = \"slopes\"\n[figure]\nfrom = \"here\"\n");
    const Said said = run({"figure", bad, "--out", fresh("figure-bad-state")});
    CHECK(said.code == 2);
    CHECK(said.err.find(bad + ":4:") != std::string::npos);
    CHECK(run({"inspect", bad}).code == 2);
}
