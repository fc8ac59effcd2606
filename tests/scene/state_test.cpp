// The state file: what it writes is what it reads, and paths in it stand where a person expects them.

#include <catch2/catch.hpp>
#include <filesystem>

#include "base/constants.h"
#include "support/scenes.h"

using namespace linefall;
namespace fs = std::filesystem;

namespace {

std::string folderOf(const std::string& name) {
    const std::string folder = test::folder() + "/" + name;
    fs::remove_all(folder);
    fs::create_directories(folder);
    return folder;
}

Scene opened(const std::string& path, const test::Sets& sets = {}) {
    SceneRequest request;
    request.state = path;
    request.sets = sets;
    request.needs_ground = false;
    return loadScene(request);
}

std::string complaint(const SceneRequest& request) {
    try {
        (void)loadScene(request);
        return "";
    } catch (const InputError& e) {
        return e.what();
    }
}

const Setting* given(const Scene& scene, const std::string& key) {
    return scene.settings.find(key);
}

}  // namespace

TEST_CASE("every declared key goes through a state and comes back as the same value") {
    Scene scene = test::sceneOf("slopes", "whisk-broom", {}, false);
    scene.instruments.push_back(test::sceneOf("slopes", "frame-camera", {}, false).instruments[0]);
    Problems problems;
    // Values that text does not hold in few digits; of partners the first declared is given.
    const auto odd = [](const Parameter& p) -> Value {
        if (p.kind == Kind::flag) return !std::get<bool>(p.default_value);
        if (p.kind == Kind::choice) return p.choices.back();
        if (p.kind == Kind::text) return std::string(p.key == "sun.time" ? "2026-03-01T12:00:00+01:00" : "7");
        if (p.kind == Kind::count) return std::floor(p.least + 0.3 * (std::min(p.most, 1e4) - p.least));
        return p.least + (std::min(p.most, 1e3) - p.least) / 3.0;
    };
    const auto give = [&](const std::vector<Parameter>& rows, Settings& settings) {
        int count = 0;
        for (const Parameter& p : rows) {
            const bool partner_given = std::any_of(p.partners.begin(), p.partners.end(), [&](const std::string& k) {
                const Setting* s = settings.find(k);
                return s != nullptr && s->layer == Layer::scene;
            });
            if (partner_given) continue;
            settings.give(p, {odd(p), {}, Layer::scene}, problems);
            ++count;
        }
        return count;
    };
    CHECK(give(sceneRows(), scene.settings) > 40);
    for (InstrumentSetup& setup : scene.instruments) CHECK(give(setup.kindOf().rows, setup.settings) > 10);
    REQUIRE(problems.empty());

    const std::string path = folderOf("all-keys") + "/state.toml";
    const std::string text = stateText(scene);
    std::ofstream(path) << text;
    // The values need not make sense together: read the settings alone, by asking for problems of geometry only.
    SceneRequest request;
    request.state = path;
    request.needs_ground = false;
    Scene back;
    try {
        back = loadScene(request);
    } catch (const InputError& e) {
        for (const Problem& p : e.problems()) {
            CAPTURE(p.text());
            CHECK(p.expected.find("unit") == std::string::npos);
            CHECK(p.read.find("unknown key") == std::string::npos);
        }
        return;
    }
    CHECK(stateText(back) == text);
    for (const auto& [key, setting] : scene.settings.all()) {
        REQUIRE(given(back, key) != nullptr);
        CHECK(given(back, key)->value == setting.value);
    }
}

TEST_CASE("a state written again is the same text, and names odd characters rightly") {
    const std::string folder = folderOf("round \"trip\" \\ \xc3\xa9");
    std::ofstream(folder + "/my place.toml") << test::levelPlace();
    const Scene scene = test::sceneOf(folder + "/my place.toml", "push-broom",
                                      {"flight.height=1234.5678901 m", "instrument.samples=33", "sun.azimuth=0.1 rad"}, false);
    const std::string text = stateText(scene, folder);
    std::ofstream(folder + "/state.toml") << text;
    CHECK(text.find("place = \"./my place.toml\"") == std::string::npos);
    CHECK(text.find("place = \"my place.toml\"") != std::string::npos);
    const Scene back = opened(folder + "/state.toml");
    CHECK(stateText(back, folder) == text);
    CHECK(back.flightSettings().height_m == 1234.5678901);
    CHECK(back.place->name == fs::weakly_canonical(folder + "/my place.toml").string());
    CHECK(std::get<double>(back.instruments[0].settings.find("instrument.samples")->value) == 33.0);
}

TEST_CASE("a folder that holds a state and its place can be moved, and --place stands in the working directory") {
    const std::string folder = folderOf("moved-from");
    fs::create_directories(folder + "/out");
    std::ofstream(folder + "/place.toml") << test::levelPlace();
    const Scene scene = test::sceneOf(folder + "/place.toml", "push-broom", {}, false);
    const std::string text = stateText(scene, folder + "/out");
    CHECK(text.find("place = \"../place.toml\"") != std::string::npos);
    std::ofstream(folder + "/out/state.toml") << text;
    const std::string moved = test::folder() + "/moved-to";
    fs::remove_all(moved);
    fs::rename(folder, moved);
    CHECK(opened(moved + "/out/state.toml").place->name == fs::weakly_canonical(moved + "/place.toml").string());
    // More than one step up: an absolute path.
    CHECK(stateText(scene, test::folder() + "/a/b/c").find("place = \"/") != std::string::npos);
    CHECK(stateText(scene).find("place = \"/") != std::string::npos);

    // The working directory is looked at second for a state, and alone for the request.
    const fs::path before = fs::current_path();
    fs::current_path(moved);
    std::ofstream("out/second.toml") << "linefall = 1\nplace = \"place.toml\"\n[[instrument]]\npreset = \"push-broom\"\n";
    CHECK(opened("out/second.toml").place->title == "place");
    SceneRequest request;
    request.needs_ground = false;
    request.place = "place.toml";
    CHECK(complaint(request) == "");
    fs::current_path(moved + "/out");
    CHECK(complaint(request) == "--place: read '" + moved + "/out/place.toml': no such file, expected a scene file (.toml)");
    fs::current_path(before);
}

TEST_CASE("a flight that is asked for takes the place of the state's flight, and of its sun where it has one") {
    const std::string folder = folderOf("flights");
    std::ofstream(folder + "/state.toml")
        << "linefall = 1\nplace = \"slopes\"\nflight_plan = \"straight\"\n[flight]\nheight = \"1 km\"\n[sun]\nazimuth = \"10 "
           "deg\"\nelevation = \"20 deg\"\n[air]\non = false\n[[instrument]]\npreset = \"push-broom\"\n";
    std::ofstream(folder + "/low.toml") << "height = \"500 m\"\n";
    std::ofstream(folder + "/noon.toml") << "height = \"600 m\"\n[sun]\nelevation = \"60 deg\"\n";
    SceneRequest request;
    request.state = folder + "/state.toml";
    request.needs_ground = false;
    CHECK(loadScene(request).flightSettings().height_m == 1000.0);
    request.flight = folder + "/low.toml";
    const Scene low = loadScene(request);
    CHECK(low.flightSettings().height_m == 500.0);
    CHECK(std::get<double>(given(low, "sun.azimuth")->value) == Approx(10.0 * constants::pi / 180.0));
    request.flight = folder + "/noon.toml";
    const Scene noon = loadScene(request);
    CHECK(noon.flightSettings().height_m == 600.0);
    CHECK(given(noon, "sun.azimuth") == nullptr);
    CHECK(std::get<bool>(given(noon, "air.on")->value) == false);
    request.sets = {"flight.height=700 m"};
    CHECK(loadScene(request).flightSettings().height_m == 700.0);
}

TEST_CASE("settings given one by one: letters name instruments, mistakes are told once with their place") {
    SceneRequest request;
    request.place = "slopes";
    request.needs_ground = false;
    request.sets = {"B.instrument.bits=8"};
    const Scene scene = loadScene(request);
    CHECK(std::get<double>(scene.instruments[1].settings.find("instrument.bits")->value) == 8.0);
    CHECK(std::get<double>(scene.instruments[0].settings.find("instrument.bits")->value) == 12.0);
    request.sets = {"C.instrument.bits=8", "instrument.bits=99", "A.flight.height=1 km",
                    "flight.hight=1 km",   "nonsense",           "flight.height=1"};
    CHECK(complaint(request) ==
          "--set:1:1: C.instrument.bits: read no such instrument, expected A to B for the instruments in their order\n"
          "--set:1:2: instrument.bits: read '99', expected 1 to 16\n"
          "--set:1:3: A.flight.height: read an instrument's letter, expected flight.height without the letter: it is the same "
          "for every instrument\n"
          "--set:1:4: flight.hight: read an unknown key, expected a declared key (linefall keys lists them); did you mean "
          "'flight.height'?\n"
          "--set:1:5: read 'nonsense', expected key=value, for example flight.height=\"5 km\"\n"
          "--set:1:6: flight.height: read '1', expected a number with a unit of length (m, km, cm, mm, um, nm, ft)");
}

TEST_CASE("a mistake of geometry stands at the setting that caused it") {
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {"push-broom"};
    request.needs_ground = false;
    request.sets = {"flight.length=100 km", "instrument.line_rate=10 MHz"};
    CHECK(complaint(request) == "--set:1:2: instrument.line_rate: read 10 MHz, expected at most 1 000 000 lines in the flight");
    const std::string preset = test::oneBand("push-broom", "\nline_rate = \"10 MHz\"\n");
    request.instruments = {preset};
    request.sets = {"flight.length=100 km"};
    CHECK(complaint(request) ==
          preset + ":3:1: instrument.line_rate: read 10 MHz, expected at most 1 000 000 lines in the flight");
    // A wind from the side at flying speed is the flight's own mistake.
    request.sets = {"flight.wind_speed=80 m/s", "flight.wind_from=90 deg", "flight.length=1 m"};
    CHECK(complaint(request) ==
          "--set:1:1: flight.wind_speed: read 80 m/s, expected a wind across the heading slower than the speed over ground, 70 "
          "m/s");
}

TEST_CASE("absurd images are refused by their size before any memory is taken, and facts need none") {
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {"frame-camera"};
    request.sets = {"instrument.samples=20000", "instrument.rows=20000"};
    CHECK(complaint(request).find("read an image of 20000 samples x 20000 lines in 3 bands: ") != std::string::npos);
    CHECK(complaint(request).find("expected at most 8 GiB in all") != std::string::npos);
    request.needs_ground = false;
    CHECK(complaint(request) == "");
    request.needs_ground = true;
    request.sets = {"instrument.samples=30000", "instrument.rows=2", "quality.contributions=4096"};
    CHECK(complaint(request) ==
          "--set:1:3: quality.contributions: read 4096 looks a sample, 30000 samples a line, expected at most 16777216 looks a "
          "line");
}

TEST_CASE("Another instrument takes the place of one, or flies beside it, and one that cannot fly changes nothing") {
    SceneRequest request;
    request.place = "slopes";
    request.instruments = {"whisk-broom", "push-broom"};
    const Scene scene = loadScene(request);
    const Scene other = withInstrument(scene, 0, "frame-camera");
    REQUIRE(other.instruments.size() == 2);
    CHECK(other.instruments[0].preset == "frame-camera");
    CHECK(other.instruments[1].preset == "push-broom");
    CHECK(withInstrument(scene, 2, "push-broom").instruments.size() == 3);
    CHECK(scene.instruments[0].preset == "whisk-broom");
    CHECK_THROWS_AS(withInstrument(scene, 0, "no-such-instrument"), InputError);
}
