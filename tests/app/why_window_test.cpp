// "Why this pixel?" and the angles on the spot in the real window: picks, stops, copies, files and switches by real clicks and
// keys, judged by what the window reports, by the core's own walk and by the command line's text.

#include <algorithm>
#include <cmath>

#include "command/program.h"
#include "driven_window.h"
#include "golden_window.h"
#include "flight/walk_text.h"
#include "view/outline.h"

using namespace linefall;
using namespace linefall::driven;
using namespace linefall::test;

namespace {

/// Level ground with a silo that casts a shadow of about 100 m to the north.
std::string siloPlace() {
    return written(levelPlace("[[object]]\nname = \"silo 3\"\nshape = \"cylinder\"\neast = \"0 m\"\nnorth = \"-40 m\"\ndiameter = \"30 m\"\n"
                              "height = \"60 m\"\nmaterial = \"white\"\nsides = \"black\"\n"));
}

const Sets low_sun{"flight.heading=180 deg", "flight.start_north=500 m", "flight.length=1000 m", "flight.height=1500 m", "sun.azimuth=180 deg", "sun.elevation=30 deg"};

std::vector<std::string> windowOf(const std::string& place, const std::vector<std::string>& instruments, const Sets& sets, const std::string& out) {
    std::vector<std::string> words{"--place", place, "--out", out};
    for (const std::string& instrument : instruments) words.insert(words.end(), {"--instrument", instrument});
    for (const std::string& set : sets) words.insert(words.end(), {"--set", set});
    return words;
}

/// The pixel that sees a ground point best.
Pixel pixelAt(Formation& formation, double east, double north) {
    formation.formAll();
    const std::optional<Nearest> near = nearestSample(formation, formation.lines(), {east, north, 0.0});
    REQUIRE(near);
    return near->pixel;
}

/// The whole picture has fallen.
void fill(DrivenWindow& window, std::size_t pictures) {
    window.act("key End");
    REQUIRE(window.until([&](const Json& line) {
        return has(line, "settled") && line["time_s"] == line["duration_s"] && line["settled"].size() == pictures && std::all_of(line["settled"].begin(), line["settled"].end(), [](const Json& s) { return s == true; });
    }));
}

void pickPixel(DrivenWindow& window, const std::string& picture, const Formation& formation, Pixel pixel) {
    window.click(picture, (pixel.sample + 0.5) / formation.samples(), (pixel.line + 0.5) / formation.lines());
}

void typeInto(DrivenWindow& window, const std::string& field, const std::string& text) {
    window.click(field);
    REQUIRE(window.until([](const Json& line) { return line.value("typing", false); }));
    window.act("key ctrl+a type '" + text + "'");
    sleepFor(400);
    window.act("key Return");
}

bool apart(const Json& a, const Json& b) {
    return a[1].get<int>() + a[3].get<int>() <= b[1].get<int>() || b[1].get<int>() + b[3].get<int>() <= a[1].get<int>() || a[2].get<int>() + a[4].get<int>() <= b[2].get<int>() ||
           b[2].get<int>() + b[4].get<int>() <= a[2].get<int>();
}

/// The part of the flight view where the ray is drawn.
constexpr Part near_ray{0.2, 0.05, 0.8, 0.9};

std::string labelsOf(const Json& line) {
    std::string all;
    for (const Json& label : line["labels"]) all += label[0].get<std::string>() + "\n";
    return all;
}

void checkLabelsApart(const Json& line) {
    const Json& labels = line["labels"];
    for (std::size_t i = 0; i < labels.size(); ++i) {
        for (std::size_t k = i + 1; k < labels.size(); ++k) {
            INFO(labels[i].dump() << " and " << labels[k].dump());
            CHECK(apart(labels[i], labels[k]));
        }
    }
}

}  // namespace

TEST_CASE("A picked pixel shows its ray and its walk in both pictures, and the walk is saved as the command says it", "[window][golden]") {
    if (!canDrive()) return;
    const std::string out = test::folder() + "/walks", place = siloPlace();
    DrivenWindow window(windowOf(place, {"whisk-broom", "push-broom"}, low_sun, out));
    REQUIRE(window.untilFlying());
    fill(window, 2);

    // The middle of the silo's shadow, in picture B.
    Formation push(sceneOf(place, "push-broom", low_sun), 0);
    const Pixel shadow = pixelAt(push, 0.0, 12.0);
    REQUIRE(push.why(shadow.line, shadow.sample).blocked_by == "silo 3");
    pickPixel(window, "picture B", push, shadow);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"]["craft"] == "B"; }));
    REQUIRE(window.until([](const Json& line) { return has(line, "ray") && line["ray"]["sun"] == "blocked"; }));
    CHECK(window.last()["ray"]["blocked_by"] == "silo 3");
    CHECK(labelsOf(window.last()).find("blocked by silo 3") != std::string::npos);
    const int line0 = window.last()["picked"]["line"], sample0 = window.last()["picked"]["sample"];
    CHECK(std::abs(line0 - shadow.line) <= 4);
    CHECK(std::abs(sample0 - shadow.sample) <= 2);
    checkGolden(window, "why.blocked", "flight", near_ray);

    // Each stop lights its leg and has rows.
    const std::vector<std::pair<std::string, std::string>> legs{{"1", "sun to ground"}, {"2", "sun to ground"}, {"3", "ground"}, {"4", "ground to sensor"},
                                                                {"5", "ground to sensor"}, {"6", "sensor"}, {"7", "sensor"}, {"8", "sensor"}};
    for (const auto& one : legs) {
        const std::string &key = one.first, &leg = one.second;  // Clang 14 hands no structured bindings to a lambda
        window.act("key " + key);
        REQUIRE(window.until([&](const Json& line) { return has(line, "stop") && std::to_string(line["stop"].get<int>()) == key && line["ray"]["lit"] == leg && line["walk"]["rows"] > 1; }));
    }
    // The ground and the counts say in a sentence what they come to.
    CHECK(window.last()["walk"]["verdict"].get<std::string>().rfind("Shown on the page as red ", 0) == 0);
    window.act("key 3");
    REQUIRE(window.until([](const Json& line) { return has(line, "stop") && line["stop"] == 3 && line["walk"]["verdict"].get<std::string>().find("in the shadow of silo 3: the sky alone lights it") != std::string::npos; }));
    checkGolden(window, "why.walk", "walk rows");
    // The rows roll by wheel and by keys.
    window.act("key 5");
    REQUIRE(window.until([](const Json& line) { return has(line, "stop") && line["stop"] == 5 && line["walk"]["roll"] == 0; }));
    window.click("walk rows");
    window.act("click 5 sleep 0.2 click 5");
    REQUIRE(window.until([](const Json& line) { return has(line, "walk") && line["walk"]["roll"] > 20; }));
    sleepFor(800);
    const int rolled = window.last()["walk"]["roll"];
    INFO(window.last()["walk"].dump() << window.last()["focus"].dump());
    window.act("key Down sleep 0.2 key Down");
    REQUIRE(window.until([&](const Json& line) { return has(line, "walk") && line["walk"]["roll"] > rolled; }));

    // Saved by keys; the command line says the same pixel's walk in the same words.
    window.act("key ctrl+shift+s");
    REQUIRE(window.until([](const Json& line) { return has(line, "walk") && line["walk"]["saved"] != ""; }));
    const std::string path = window.last()["walk"]["saved"];
    CHECK(path.rfind(out + "/why-", 0) == 0);
    CHECK(window.last()["saying"].get<std::string>().find(path) != std::string::npos);
    Arguments words{"why", "--place", place, "--instrument", "push-broom", "--line", std::to_string(line0), "--sample", std::to_string(sample0)};
    for (const std::string& set : low_sun) words.insert(words.end(), {"--set", set});
    const Said said = run(words);
    REQUIRE(said.code == 0);
    const std::string saved = contentOf(path);
    CHECK(saved.size() > 3000);
    CHECK(said.out.rfind(saved, 0) == 0);  // the command adds a line about other bands
    CHECK(saved.find("the way to the sun is blocked by silo 3") != std::string::npos);
    // Copied by keys and by the button: as long as the file.
    window.act("key ctrl+c");
    REQUIRE(window.until([&](const Json& line) { return has(line, "walk") && line["walk"]["copied"] == saved.size(); }));

    // Arrow keys move the pick in the picture that has the focus: out of the shadow, and over to the other picture.
    window.act("key Escape");  // the flight as large as before
    window.click("picture B", (shadow.sample + 0.5) / push.samples(), (shadow.line + 0.5) / push.lines());
    for (int i = 0; i < 8 && window.last()["ray"]["sun"] != "free"; ++i) {
        window.act("key shift+Left");
        sleepFor(900);
    }
    REQUIRE(window.until([&](const Json& line) { return has(line, "ray") && line["ray"]["sun"] == "free"; }));
    checkGolden(window, "why.free", "flight", near_ray);
    CHECK(window.last()["picked"]["craft"] == "B");
    CHECK(window.last()["picked"]["sample"].get<int>() <= sample0 - 10);
    CHECK(window.last()["picked"]["line"].get<int>() == line0);
    window.act("key l");
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"]["craft"] == "A"; }));
    const Json there = window.last()["picked"];
    window.act("key l sleep 0.3 key l");  // and back, and here again
    window.click("picture A", 0.3, 0.7);
    REQUIRE(window.until([&](const Json& line) { return has(line, "picked") && line["picked"]["craft"] == "A" && line["picked"]["sample"] != there["sample"]; }));
    window.act("key Down");
    REQUIRE(window.until([](const Json& line) { return has(line, "ray") && line["ray"]["sun"] == "free"; }));
    CHECK(window.lines().back().contains("event"));
}

TEST_CASE("A frame camera's pixel is asked why like any other, by mouse and by keys, and with several looks", "[window]") {
    if (!canDrive()) return;
    const std::string out = test::folder() + "/frame-walks", place = siloPlace();
    const Sets sets = low_sun + Sets{"quality.contributions=7", "instrument.rows=300", "instrument.samples=400", "instrument.detector_pitch=40 um"};
    DrivenWindow window(windowOf(place, {"frame-camera"}, sets, out));
    REQUIRE(window.untilFlying());
    fill(window, 1);
    window.click("picture A", 0.25, 0.4);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && has(line, "ray") && line["ray"]["sun"] == "free"; }));
    CHECK(window.last()["ray"]["looks"] == 7);
    const int sample = window.last()["picked"]["sample"];
    window.act("key Right");
    REQUIRE(window.until([&](const Json& line) { return has(line, "picked") && line["picked"]["sample"] == sample + 1; }));
    window.act("key 4");
    REQUIRE(window.until([](const Json& line) { return has(line, "ray") && line["ray"]["lit"] == "ground to sensor" && line["walk"]["rows"] > 8; }));
    window.click("save walk");
    REQUIRE(window.until([](const Json& line) { return has(line, "walk") && line["walk"]["saved"] != ""; }));
    const std::string saved = contentOf(window.last()["walk"]["saved"]);
    CHECK(saved.find("= mean(L_a)") != std::string::npos);
    CHECK(saved.find("the 7 looks that the sample gathers") != std::string::npos);
}

TEST_CASE("Angles are switched one by one on the spot with their numbers, and the sun's path follows a typed latitude", "[window][golden]") {
    if (!canDrive()) return;
    const std::string out = test::folder() + "/angles", place = siloPlace();
    DrivenWindow window(windowOf(place, {"whisk-broom", "push-broom"}, low_sun, out));
    REQUIRE(window.untilFlying());
    fill(window, 2);
    window.click("picture A", 0.3, 0.4);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && has(line, "ray") && line["ray"]["sun"] == "free"; }));
    CHECK(window.last()["angles"] == Json({"nadir", "zenith", "solar-zenith", "view"}));
    CHECK(labelsOf(window.last()).find("solar zenith 60.0°") != std::string::npos);

    window.act("key g");
    REQUIRE(window.until([](const Json& line) { return has(line, "tool") && line["tool"] == "Angles"; }));
    window.click("angles all on");
    REQUIRE(window.until([](const Json& line) { return has(line, "angles") && line["angles"].size() == 10 && line["labels"].size() > 6; }));
    sleepFor(1500);
    checkGolden(window, "angles.all", "flight", near_ray);
    const Json all = window.last();
    checkLabelsApart(all);
    const std::string labels = labelsOf(all);
    INFO(labels);
    // The numbers are those of the facts and of the sun that was set.
    const Json facts = run({"facts", "--place", place, "--instrument", "whisk-broom", "--set", "flight.height=1500 m", "--json"}).json();
    CHECK(labels.find("IFOV 2.20 mrad") != std::string::npos);
    CHECK(labels.find("FOV 76.0°") != std::string::npos);
    CHECK(labels.find("elevation 30.0°") != std::string::npos);
    CHECK(labels.find("local incidence 60.0°") != std::string::npos);
    CHECK(labels.find("swath 2.34 km on level ground") != std::string::npos);  // 2 · 1500 m · tan 38°
    CHECK(labels.find("nadir, 1.5 km below") != std::string::npos);
    CHECK_FALSE(facts.empty());

    window.click("angle swath");
    REQUIRE(window.until([](const Json& line) { return has(line, "angles") && line["angles"].size() == 9 && labelsOf(line).find("swath") == std::string::npos; }));
    CHECK(labelsOf(window.last()).find("FOV 76.0°") != std::string::npos);  // the others stay
    checkGolden(window, "angles.no-swath", "flight", near_ray);
    window.click("angles all off");
    REQUIRE(window.until([](const Json& line) { return has(line, "angles") && line["angles"].empty() && labelsOf(line).find("solar zenith") == std::string::npos; }));
    checkGolden(window, "angles.none", "flight", near_ray);

    // The sun's path of another latitude and day: the scene's sun stays.
    const Json sun = window.last()["sun"];
    typeInto(window, "path latitude", "60");
    REQUIRE(window.until([](const Json& line) { return has(line, "sun_path") && std::abs(line["sun_path"]["latitude_deg"].get<double>() - 60.0) < 1e-9; }));
    typeInto(window, "path date", "2026-06-21");
    REQUIRE(window.until([](const Json& line) { return has(line, "sun_path") && line["sun_path"]["date"] == "2026-06-21"; }));
    // At the summer solstice the noon sun stands at 90° - (60° - 23.44°), and the day has about 18.9 h between rise and set.
    CHECK(std::abs(window.last()["sun_path"]["noon_elevation_deg"].get<double>() - 53.44) < 0.05);
    CHECK(window.last()["sun_path"]["rises"].is_string());
    CHECK(window.last()["sun"] == sun);
    typeInto(window, "path latitude", "80");
    REQUIRE(window.until([](const Json& line) { return has(line, "sun_path") && line["sun_path"]["rises"].is_null(); }));  // polar day
    typeInto(window, "path latitude", "95");  // no such latitude: the path stays
    sleepFor(1200);
    CHECK(std::abs(window.last()["sun_path"]["latitude_deg"].get<double>() - 80.0) < 1e-9);
    CHECK(window.last()["sun"] == sun);
    // Only the button changes the scene.
    window.click("path noon sun");
    REQUIRE(window.until([&](const Json& line) { return has(line, "sun") && std::abs(line["sun"][1].get<double>() - 33.4) < 0.15; }));
    window.act("key g");
    REQUIRE(window.until([](const Json& line) { return has(line, "tool") && line["tool"] == "" && line["sun_path"].is_null(); }));
}
