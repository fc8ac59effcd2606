// `linefall form`: which files it writes and what is in them, that it repeats itself, and what changes it.

#include <catch2/catch.hpp>
#include <cmath>

#include "command/program.h"

using namespace linefall;
using namespace linefall::test;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> all_files{
    "facts.json",         "push-broom.blue.png", "push-broom.green.png", "push-broom.infrared.png", "push-broom.png",
    "push-broom.red.png", "state.toml",          "whisk-broom.blue.png", "whisk-broom.green.png",   "whisk-broom.infrared.png",
    "whisk-broom.png",    "whisk-broom.red.png"};

/// Names of the files that differ between two folders.
std::vector<std::string> differing(const std::string& a, const std::string& b) {
    std::vector<std::string> names;
    for (const std::string& name : filesIn(a)) {
        if (contentOf(a + "/" + name) != contentOf(b + "/" + name)) names.push_back(name);
    }
    return names;
}

}  // namespace

TEST_CASE("form writes a display picture, the counts of each band, a state and facts") {
    const std::string out = fresh("form");
    const Said said = run(smallForm(out + "/made/on/the/way", {"--json"}));
    INFO(said.err);
    REQUIRE(said.code == 0);
    CHECK(said.err.empty());  // no progress bar where there is no terminal
    const std::string folder = out + "/made/on/the/way";
    CHECK(filesIn(folder) == all_files);
    const nlohmann::json facts = nlohmann::json::parse(contentOf(folder + "/facts.json"));
    CHECK(facts == said.json());
    CHECK(facts["place"] == "slopes");
    REQUIRE(facts["images"].size() == 2);
    for (const nlohmann::json& image : facts["images"]) {
        CHECK(image["stretch"].get<std::string>().find("0.5 %") != std::string::npos);
        CHECK(image["display_bands"] == "true colour");
        CHECK(image["sky_samples"] == 0);
        for (const nlohmann::json& band : image["statistics"]) {
            // The numbers of the report are those of the picture.
            const Raster<std::uint16_t> picture =
                counts(folder + "/" + image["counts"][band["name"].get<std::string>()].get<std::string>());
            CHECK(picture.columns() == image["samples"]);
            CHECK(picture.rows() == image["lines"]);
            double sum = 0.0, squares = 0.0;
            std::uint16_t least = 65535, most = 0;
            for (const std::uint16_t value : picture.values()) {
                sum += value;
                squares += static_cast<double>(value) * value;
                least = std::min(least, value);
                most = std::max(most, value);
            }
            const auto n = static_cast<double>(picture.size());
            CHECK(band["mean"].get<double>() == Approx(sum / n).epsilon(1e-9));
            CHECK(band["standard_deviation"].get<double>() == Approx(std::sqrt(squares / n - sum * sum / n / n)).epsilon(1e-6));
            CHECK(band["least"] == least);
            CHECK(band["most"] == most);
            CHECK(most > least);
        }
    }
    CHECK(facts["images"][0]["facts"]["kind"] == "whisk-broom");
    CHECK(facts["images"][1]["facts"]["samples"] == 60);
}

TEST_CASE("a state forms the same images again, bit for bit, from anywhere") {
    const std::string first = fresh("first"), second = fresh("second"), third = fresh("third");
    REQUIRE(
        run(smallForm(first, {"--seed", "77", "--set", "flight.rough_air=1 deg", "--set", "A.instrument.dead_detectors=10 %"}))
            .code == 0);
    REQUIRE(run({"form", first + "/state.toml", "--out", second}).code == 0);
    CHECK(differing(first, second).empty());
    CHECK(filesIn(second) == all_files);
    REQUIRE(run({"form", "state.toml", "--out", third}, {}, second).code == 0);
    CHECK(differing(first, third).empty());
}

TEST_CASE("a state beside its own place and instrument forms again after the folder was moved") {
    const std::string folder = fresh("project");
    fs::create_directories(folder);
    std::ofstream(folder + "/field.toml") << levelPlace(tower(20, 10, 30, 20), "400 m", "5 m");
    fs::copy_file(oneBand("frame-camera",
                          "samples = 40\nrows = 30\nfocal_length = \"50 mm\"\ndetector_pitch = \"100 um\"\nstation = \"50 %\"\n"),
                  folder + "/eye.v2.toml");
    REQUIRE(run({"form", "--place", "field.toml", "--instrument", "eye.v2.toml", "--set", "flight.start_north=1 km", "--set",
                 "flight.length=2 km", "--out", "out"},
                {}, folder)
                .code == 0);
    CHECK(filesIn(folder + "/out") == std::vector<std::string>{"eye-v2.green.png", "eye-v2.png", "facts.json", "state.toml"});
    const std::string moved = fresh("moved-project");
    fs::rename(folder, moved);
    const Said again = run({"form", moved + "/out/state.toml", "--out", moved + "/again"});
    INFO(again.err);
    REQUIRE(again.code == 0);
    CHECK(contentOf(moved + "/again/eye-v2.green.png") == contentOf(moved + "/out/eye-v2.green.png"));
    const Raster<std::uint16_t> picture = counts(moved + "/out/eye-v2.green.png");
    CHECK(*std::max_element(picture.values().begin(), picture.values().end()) >
          *std::min_element(picture.values().begin(), picture.values().end()));
}

TEST_CASE("a word that is neither a command nor a file is answered with what would have been") {
    const Said said = run({"from"});
    CAPTURE(said.err);
    CHECK(said.code == 2);
    CHECK(said.err.find("read 'from', expected a command (form, figure, facts") != std::string::npos);
    CHECK(said.err.find("or the path of a state file (.toml); did you mean 'form'?") != std::string::npos);
}

TEST_CASE("threads never change a byte") {
    const std::string one = fresh("one"), three = fresh("three"), many = fresh("many");
    REQUIRE(run(smallForm(one, {"--threads", "1"})).code == 0);
    REQUIRE(run(smallForm(three, {"--threads", "3"})).code == 0);
    REQUIRE(run(smallForm(many, {"--threads", "16"})).code == 0);
    CHECK(differing(one, three).empty());
    CHECK(differing(one, many).empty());
}

TEST_CASE("the seed sets the noise alone") {
    const std::string a = fresh("seed-a"), b = fresh("seed-b"), c = fresh("quiet-a"), d = fresh("quiet-b");
    REQUIRE(run(smallForm(a, {"--seed", "1", "--set", "flight.rough_air=1 deg"})).code == 0);
    REQUIRE(run(smallForm(b, {"--seed", "2", "--set", "flight.rough_air=1 deg"})).code == 0);
    const Raster<std::uint16_t> one = counts(a + "/push-broom.red.png"), two = counts(b + "/push-broom.red.png");
    CHECK_FALSE(one == two);
    double difference = 0.0;
    for (std::size_t i = 0; i < one.size(); ++i)
        difference = std::max(difference, std::abs(one.values()[i] - static_cast<double>(two.values()[i])));
    CHECK(difference < 100.0);  // noise, not another picture
    // Without noise the seed changes nothing but the state: attitude and detector pattern have seeds of their own.
    const Arguments quiet{"--set", "effect.shot_noise=false", "--set", "effect.read_noise=false",
                          "--set", "flight.rough_air=1 deg",  "--seed"};
    Arguments first = quiet, second = quiet;
    first.emplace_back("1");
    second.emplace_back("2");
    REQUIRE(run(smallForm(c, first)).code == 0);
    REQUIRE(run(smallForm(d, second)).code == 0);
    CHECK(differing(c, d) == std::vector<std::string>{"state.toml"});
    CHECK(contentOf(d + "/state.toml").find("seed = \"2\"") != std::string::npos);
}

TEST_CASE("twins of one preset get files of their own") {
    const std::string out = fresh("twins");
    const Said said =
        run({"form", "--place", "slopes", "--instrument", "push-broom", "--instrument", "push-broom", "--out", out, "--set",
             "instrument.samples=20", "--set", "flight.length=100 m", "--set", "B.instrument.bits=8", "--show", "red"});
    INFO(said.err);
    REQUIRE(said.code == 0);
    const Raster<std::uint16_t> a = counts(out + "/push-broom.red.png"), b = counts(out + "/push-broom-2.red.png");
    CHECK(*std::max_element(a.values().begin(), a.values().end()) > 255);
    CHECK(*std::max_element(b.values().begin(), b.values().end()) <= 255);
    CHECK(readGreyPng(out + "/push-broom.png", 1, 4096).bits == 8);  // one band is shown in grey
}

TEST_CASE("the stretch is what it says") {
    const std::string out = fresh("stretch");
    const auto display = [&](const std::string& stretch, const nlohmann::json& limits) {
        const Said said = run(smallForm(out, {"--show", "red", "--stretch", stretch, "--json"}));
        INFO(said.err);
        REQUIRE(said.code == 0);
        CHECK(said.json()["images"][1]["stretch_counts"][0] == limits);
        return counts(out + "/push-broom.png");
    };
    const Raster<std::uint16_t> shown = display("100..900", {100.0, 900.0});
    const Raster<std::uint16_t> raw = counts(out + "/push-broom.red.png");
    for (std::size_t i = 0; i < raw.size(); i += 7) {
        // The light of the screen follows the counts: sRGB, IEC 61966-2-1.
        const double light = std::clamp((raw.values()[i] - 100.0) / 800.0, 0.0, 1.0);
        const double code = light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1.0 / 2.4) - 0.055;
        REQUIRE(std::abs(shown.values()[i] - 255.0 * code) <= 1.0);
    }
    const Raster<std::uint16_t> plain = display("none", {0.0, 4095.0});
    CHECK(*std::max_element(plain.values().begin(), plain.values().end()) < 255);
    for (const char* wrong : {"bright", "9..3", "..", "1..x", "-5..-9", "1e9..2e999"}) {
        const Said said = run(smallForm(out, {"--stretch", wrong}));
        CHECK(said.code == 2);
        CHECK(said.err == "--stretch: read '" + std::string(wrong) + "', expected percent, none, or LOW..HIGH in counts\n");
    }
    const Said said = run(smallForm(out, {"--show", "reed"}));
    CHECK(said.code == 2);
    CHECK(said.err ==
          "--show: read 'reed', expected one of true colour, false colour, blue, green, red, infrared; did you mean 'red'?\n");
}
