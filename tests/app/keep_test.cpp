// States saved, opened, refused, and taken up again after a kill, through the real window.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "app/driven_window.h"
#include "support/folders.h"

namespace fs = std::filesystem;
using linefall::driven::canDrive;
using linefall::driven::DrivenWindow;
using linefall::driven::has;
using linefall::driven::Json;
using linefall::driven::sleepFor;

namespace {

/// An empty folder of the test's own, where the window also keeps its last state.
fs::path freshFolder(const std::string& name) {
    const fs::path folder = fs::temp_directory_path() / ("linefall-keep-" + std::to_string(::getpid()) + "-" + name);
    fs::remove_all(folder);
    fs::create_directories(folder);
    linefall::driven::keepStatesIn((folder / "state").string());
    return folder;
}

/// Waits at most a minute and a half for a wish, for machines that do other things too.
bool waitFor(const std::function<bool()>& wish) {
    for (int i = 0; i < 900 && !wish(); ++i) sleepFor(100);
    return wish();
}

}  // namespace

TEST_CASE("A saved state opens to the same picture, and a bad file is refused with its mistakes while the old scene flies", "[window]") {
    if (!canDrive()) return;
    const fs::path folder = freshFolder("save");
    Json saved;
    {
        DrivenWindow window({"--place", "slopes", "--out", folder.string()});
        REQUIRE(window.untilFlying());
        window.act("key End");
        REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][0] == true; }));
        window.click("picture A", 0.4, 0.3);
        REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
        window.act("key c");
        REQUIRE(window.until([](const Json& line) { return line.value("bands", "") == "false colour"; }));
        window.act("key ctrl+s");
        REQUIRE(window.until([](const Json& line) { return line.value("said", "").rfind("Saved as", 0) == 0; }));
        saved = window.last();
        REQUIRE(fs::exists(folder / "slopes-001.toml"));

        // A bad file, typed into the field of the Keep tool.
        window.act("key e");
        window.click("open path");
        window.act("sleep 0.3 key ctrl+a type '" + linefall::testsFolder() + "/bad/flight-four-mistakes.toml'");
        window.act("sleep 0.3 key Return");
        REQUIRE(window.until([](const Json& line) { return line.contains("problems") && line["problems"].size() == 4; }));
        CHECK(window.last()["place"] == "slopes");
        CHECK(window.last()["problems"][0].get<std::string>().find("flight-four-mistakes.toml:") != std::string::npos);
        CHECK(window.last()["picked"] == saved["picked"]);
    }
    {
        DrivenWindow window({(folder / "slopes-001.toml").string()});
        REQUIRE(window.untilFlying());
        REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
        CHECK(window.last()["picked"] == saved["picked"]);
        CHECK(window.last()["bands"] == "false colour");
        CHECK(window.last()["place"] == "slopes");
    }
    fs::remove_all(folder);
}

TEST_CASE("A dropped file flies when it is sound, and is refused when it is not", "[window]") {
    if (!canDrive()) return;
    const fs::path folder = freshFolder("drop");
    {
        DrivenWindow window({"--place", "slopes", "--drop", linefall::testsFolder() + "/../scenes/places/hill-and-hollow.toml"});
        REQUIRE(window.until([](const Json& line) { return line.contains("place") && line["place"].get<std::string>().find("hill-and-hollow") != std::string::npos; }));
        REQUIRE(window.until([](const Json& line) { return has(line, "lines") && line["lines"][0] > 3; }));
        CHECK(window.last()["problems"].empty());
    }
    {
        DrivenWindow window({"--place", "slopes", "--drop", linefall::testsFolder() + "/bad/height-16.png"});
        REQUIRE(window.until([](const Json& line) { return line.contains("problems") && !line["problems"].empty(); }));
        CHECK(window.last()["place"] == "slopes");
        CHECK(window.last()["tool"] == "Keep");
    }
    fs::remove_all(folder);
}

TEST_CASE("A session that was killed is taken up again when asked, and only then", "[window]") {
    if (!canDrive()) return;
    const fs::path folder = freshFolder("kill");
    pid_t killed = 0;
    {
        DrivenWindow window({"--place", "slopes", "--set", "sun.azimuth=200 deg", "--set", "sun.elevation=25 deg"});
        REQUIRE(window.untilFlying());
        CHECK(window.last()["left"] == false);
        REQUIRE(waitFor([&] { return fs::exists(folder / "state" / "linefall" / ("session-" + std::to_string(window.process()) + ".toml")); }));
        killed = window.process();
        window.kill(SIGKILL);
    }
    {
        DrivenWindow window({"--place", "hill-and-hollow"});
        REQUIRE(window.untilFlying());
        CHECK(window.last()["left"] == true);
        CHECK(window.last()["place"] == "hill-and-hollow");
        window.act("key e");
        window.click("restore");
        REQUIRE(window.until([](const Json& line) { return line.value("place", "") == "slopes"; }));
        CHECK(window.last()["sun"][0] == 200.0);
        CHECK(window.last()["sun"][1] == 25.0);
        CHECK(window.last()["paused"] == true);
        // What was left goes once this session has written its own.
        REQUIRE(waitFor([&] { return !fs::exists(folder / "state" / "linefall" / ("session-" + std::to_string(killed) + ".toml")); }));
        window.askToEnd();
        CHECK(window.exitCode() == 0);
    }
    // The second session ended as it should: nothing of its own is left.
    {
        DrivenWindow window({"--place", "slopes"});
        REQUIRE(window.untilFlying());
        CHECK(window.last()["left"] == false);
    }
    fs::remove_all(folder);
}
