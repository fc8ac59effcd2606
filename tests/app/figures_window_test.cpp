// Figures made from the window: by pointer and by keys, by the same code as the command line, and what is said when they
// cannot be.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "app/driven_window.h"
#include "app/golden_window.h"
#include "app/headless_page.h"
#include "app/keeper.h"
#include "support/folders.h"

namespace fs = std::filesystem;
using linefall::driven::canDrive;
using linefall::driven::checkGoldenFile;
using linefall::driven::DrivenWindow;
using linefall::driven::has;
using linefall::driven::Json;

namespace {

/// An empty folder of the test's own, where the window also keeps its last state.
fs::path freshFolder(const std::string& name) {
    const fs::path folder = fs::temp_directory_path() / ("linefall-figures-" + std::to_string(::getpid()) + "-" + name);
    fs::remove_all(folder);
    fs::create_directories(folder);
    linefall::driven::keepStatesIn((folder / "state").string());
    return folder;
}

std::string contents(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

bool filled(const Json& line) {
    return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][0] == true && line["settled"][1] == true;
}

bool made(const Json& line) { return line.contains("figures") && line["figures"]["working"] == false && !line["figures"]["files"].empty(); }

/// Tab until a control has the focus, then Enter.
void pressByKeys(DrivenWindow& window, const std::string& control) {
    for (int i = 0; i < 120; ++i) {
        window.act("key Tab");
        REQUIRE(window.until([](const Json& line) { return line["event"] == "acted"; }));
        if (window.last()["focus"] == control) break;
    }
    REQUIRE(window.last()["focus"] == control);
    window.act("key Return");
}

}  // namespace

TEST_CASE("Figures are made by pointer into a new folder, and the command makes the same bytes of their states", "[window][golden]") {
    if (!canDrive()) return;
    const fs::path folder = freshFolder("pointer");
    DrivenWindow window({"--place", "slopes", "--out", folder.string()});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until(filled));
    // A profile line set in the Measure tool is the one of the figure.
    window.act("key m");
    window.click("measure Profile");
    window.drag("picture A", {0.2, 0.3}, {0.8, 0.6});
    REQUIRE(window.until([](const Json& line) { return has(line, "measured") && line["measured"].size() == 2; }));
    window.act("key e");
    for (const char* unwanted : {"figure Flight", "figure Light path", "figure Histogram", "figure 1x"}) window.click(unwanted);
    window.click("make figures");
    REQUIRE(window.until(made));
    const Json after = window.last();
    CHECK(after["said"].get<std::string>().rfind("3 figures in " + (folder / "figures-001").string(), 0) == 0);
    CHECK(after["figures"]["problems"].empty());
    for (const char* name : {"picture-whisk-broom", "picture-push-broom", "profile-whisk-broom"}) {
        for (const char* ending : {"@2x.png", ".svg", ".txt", ".toml"}) CHECK(fs::exists(folder / "figures-001" / (std::string(name) + ending)));
        CHECK_FALSE(fs::exists(folder / "figures-001" / (std::string(name) + ".png")));
        const std::string words = contents(folder / "figures-001" / (std::string(name) + ".txt"));
        CHECK(words.find("Alt text") != std::string::npos);
        CHECK(words.find("Simulated with Linefall") != std::string::npos);
        CHECK(words.find("is invented") != std::string::npos);
    }
    checkGoldenFile("figures.whisk-broom", (folder / "figures-001" / "picture-whisk-broom@2x.png").string());
    checkGoldenFile("figures.push-broom", (folder / "figures-001" / "picture-push-broom@2x.png").string());
    checkGoldenFile("figures.profile", (folder / "figures-001" / "profile-whisk-broom@2x.png").string());
    // The ends lie where the pointer was, about a fifth and four fifths across.
    const std::string state = contents(folder / "figures-001" / "profile-whisk-broom.toml");
    const auto sample = [&](const std::string& key) {
        const std::size_t at = state.find("\n" + key + " = \"A:");
        REQUIRE(at != std::string::npos);
        const std::size_t comma = state.find(',', at);
        return std::stoi(state.substr(comma + 1));
    };
    CHECK(sample("to") > 2 * sample("from"));
    // Each state makes its figure again, through the command line.
    for (const char* name : {"picture-push-broom", "profile-whisk-broom"}) {
        const std::string again = (folder / "again").string();
        const std::string command = std::string("'") + LINEFALL_PROGRAM + "' figure '" + (folder / "figures-001" / (std::string(name) + ".toml")).string() + "' --out '" + again + "' > /dev/null";
        REQUIRE(std::system(command.c_str()) == 0);
        CHECK(contents(folder / "again" / (std::string(name) + "@2x.png")) == contents(folder / "figures-001" / (std::string(name) + "@2x.png")));
        CHECK(contents(folder / "again" / (std::string(name) + ".svg")) == contents(folder / "figures-001" / (std::string(name) + ".svg")));
    }
    // A second time nothing is written over.
    window.act("key ctrl+p");
    REQUIRE(window.until([](const Json& line) { return made(line) && line["said"].get<std::string>().find("figures-002") != std::string::npos; }));
    fs::remove_all(folder);
}

TEST_CASE("Figures are made by keys alone while the flight goes on, and what is wrong is listed", "[window]") {
    if (!canDrive()) return;
    const fs::path folder = freshFolder("keys");
    {
        DrivenWindow window({"--place", "slopes", "--out", (folder / "new").string()});
        REQUIRE(window.untilFlying());
        window.act("key e");
        REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Keep"; }));
        for (const char* unwanted : {"figure Picture", "figure Profile", "figure Histogram"}) pressByKeys(window, unwanted);
        window.act("key ctrl+p");
        REQUIRE(window.until([](const Json& line) { return line.contains("figures") && line["figures"]["working"] == true; }));
        const double then = window.last()["time_s"];
        REQUIRE(window.until([&](const Json& line) { return has(line, "time_s") && (line["time_s"] > then || line["time_s"] == line["duration_s"]); }));
        REQUIRE(window.until(made));
        CHECK(fs::exists(folder / "new" / "figures-001" / "flight.png"));
        CHECK(fs::exists(folder / "new" / "figures-001" / "flight@2x.png"));
        CHECK(fs::exists(folder / "new" / "figures-001" / "path-whisk-broom.csv"));
        CHECK_FALSE(fs::exists(folder / "new" / "figures-001" / "picture-whisk-broom.svg"));
    }
    // A file stands where the folder should be.
    std::ofstream(folder / "file") << "in the way\n";
    {
        DrivenWindow window({"--place", "slopes", "--out", (folder / "file").string()});
        REQUIRE(window.untilFlying());
        window.act("key e");
        window.act("key ctrl+p");
        REQUIRE(window.until([](const Json& line) { return line.contains("figures") && line["figures"]["problems"].size() == 1; }));
        CHECK(window.last()["figures"]["problems"][0].get<std::string>().find("a folder that can be made and written to") != std::string::npos);
        CHECK(contents(folder / "file") == "in the way\n");
        CHECK(window.last()["place"] == "slopes");
    }
    fs::remove_all(folder);
}

namespace linefall {

TEST_CASE("Figures that are cancelled leave nothing behind, and none is made of nothing") {
    SceneRequest request;
    request.place = "slopes";
    HeadlessPage page(request);
    Desk& desk = page.desk;
    const fs::path folder = freshFolder("cancel");
    desk.keep.folder = folder.string();
    desk.keep.wish.scales[2] = true;
    actFigures(desk);
    REQUIRE(desk.keep.maker.working());
    desk.keep.maker.cancel();
    while (desk.keep.maker.working()) desk.keep.maker.turn();
    CHECK(desk.keep.maker.said() == "Cancelled: nothing was written.");
    CHECK(desk.keep.maker.files().empty());
    CHECK(fs::is_empty(folder));

    // While the pictures show what a cause does, so does the figure.
    const auto difference = [&] { return std::get<std::string>(sceneForFigures(desk).settings.find("figure.difference")->value); };
    CHECK(difference().empty());
    desk.causes.difference = true;
    desk.causes.cause = Cause::air;
    CHECK(difference() == "air");

    desk.keep.wish.kinds.fill(false);
    actFigures(desk);
    CHECK_FALSE(desk.keep.maker.working());
    CHECK(desk.keep.said.find("no figure is ticked") != std::string::npos);
    fs::remove_all(folder);
}

TEST_CASE("A measured profile line is kept with the state and set again when it is opened") {
    const std::vector<PicturePlace> places{centreOf(12, 34), centreOf(250, 120)};
    const fs::path folder = freshFolder("profile");
    SceneRequest request, again;
    request.place = "slopes";
    {
        HeadlessPage page(request);
        Desk& desk = page.desk;
        page.draw(1280, 720);
        CHECK_FALSE(measuredProfile(desk).has_value());
        desk.measure.kind = MeasureKind::profile;
        desk.measure.craft = 1;
        desk.measure.scale = Scale::radiance;
        desk.measure.places = places;
        again.state = saveState(desk, folder.string());
    }
    HeadlessPage other(again);
    REQUIRE(other.desk.session.loaded());
    other.draw(1280, 720);
    CHECK(other.desk.measure.kind == MeasureKind::profile);
    CHECK(other.desk.measure.craft == 1);
    CHECK(other.desk.measure.scale == Scale::radiance);
    CHECK(other.desk.measure.places == places);
    fs::remove_all(folder);
}

}  // namespace linefall
