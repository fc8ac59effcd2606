// The pictures of the README, taken from the real window: `./check pictures` runs this and nothing else does.
// They are written to tests/pictures, small: with a palette (ImageMagick).

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <string>

#include "app/driven_window.h"
#include "scene/png_file.h"
#include "support/folders.h"
#include "support/screen.h"

namespace fs = std::filesystem;
using linefall::driven::canDrive;
using linefall::driven::DrivenWindow;
using linefall::driven::has;
using linefall::driven::Json;
using linefall::driven::sleepFor;

namespace {

const std::string out = linefall::testsFolder() + "/pictures";

fs::path scratch() {
    const fs::path folder = fs::temp_directory_path() / ("linefall-pictures-" + std::to_string(::getpid()));
    fs::create_directories(folder);
    linefall::driven::keepStatesIn((folder / "state").string());
    return folder;
}

void shoot(const std::string& path) {
    const std::optional<linefall::Shot> shot = linefall::grabWindow("Linefall");
    REQUIRE(shot);
    std::vector<std::uint8_t> pixels;
    for (const linefall::Rgb& p : shot->pixels) pixels.insert(pixels.end(), p.begin(), p.end());
    linefall::WholeFiles files;
    linefall::writePng8(files, path, shot->width, shot->height, 3, pixels);
    files.commit();
}

/// A screenshot with a palette of its own, and no larger than asked.
void keep(const fs::path& folder, const std::string& name, std::uintmax_t most_bytes) {
    const std::string raw = (folder / (name + ".png")).string(), path = out + "/" + name + ".png";
    shoot(raw);
    REQUIRE(std::system(("convert '" + raw + "' -strip -dither None -colors 255 -define png:compression-level=9 'PNG8:" + path + "'").c_str()) == 0);
    CHECK(fs::file_size(path) < most_bytes);
}

/// The page stands: all lines as formed, the land in its finest colours, the pointer out of the way.
void settle(DrivenWindow& window) {
    window.act(DrivenWindow::to(1279, 719));
    REQUIRE(window.until([](const Json& line) {
        if (!has(line, "drape") || line["event"] != "second") return false;
        for (const Json& one : line["settled"]) {
            if (one != true) return false;
        }
        return line["drape"] >= 1024 && line["paused"] == true;
    }));
    sleepFor(4000);  // what the 3-D view draws finer once nothing moves, the hint that goes
}

}  // namespace

TEST_CASE("Pictures for the README", "[.pictures]") {
    REQUIRE(canDrive());
    REQUIRE(std::system("command -v convert > /dev/null 2>&1") == 0);
    const fs::path folder = scratch();
    fs::create_directories(out);
    SECTION("the twin flight, with a picked pixel") {
        DrivenWindow window({"--place", "island", "--set", "show.time=52 s", "--set", "show.pixel=B:640,330"});
        REQUIRE(window.untilFlying());
        settle(window);
        keep(folder, "flight", 250'000);
    }
    SECTION("why: a stop of the light path opened") {
        DrivenWindow window({"--place", "island", "--set", "show.time=86 s", "--set", "show.pixel=A:342,130"});
        REQUIRE(window.untilFlying());
        window.act("key 3");
        settle(window);
        keep(folder, "why", 250'000);
    }
    SECTION("by night: hill and hollow, and the profile that settles which is which") {
        DrivenWindow window({"--place", "hill-and-hollow", "--theme", "night", "--set", "show.time=28 s", "--set", "figure.from=A:172,70", "--set", "figure.to=A:172,530"});
        REQUIRE(window.untilFlying());
        window.act("key m");
        settle(window);
        keep(folder, "settled", 250'000);
    }
    SECTION("the picture falls: an animation") {
        DrivenWindow window({"--place", "island", "--reduced-motion", "--set", "show.time=86 s"});
        REQUIRE(window.untilFlying());
        settle(window);
        window.click("clock", 0.03, 0.3);
        REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"] < 5.0; }));
        window.act("key Home " + DrivenWindow::to(1279, 719));
        REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == 0.0; }));
        constexpr int frames = 46;
        for (int i = 0; i < frames; ++i) {
            // Steps of a hundredth of the pass, each as soon as the one before is seen.
            const auto reached = [&] { return window.last()["time_s"].get<double>() > (0.02 * i + 0.019) * window.last()["duration_s"].get<double>(); };
            for (int k = 0; k < 20 && !reached(); ++k) {
                window.act("key Right");
                REQUIRE(window.until([](const Json& line) { return line["event"] == "acted"; }));
            }
            REQUIRE(reached());
            sleepFor(300);
            shoot((folder / fmt::format("frame-{:02}.png", i)).string());
        }
        const std::string gif = out + "/falling.gif";
        REQUIRE(std::system(("convert -delay 12 -loop 0 '" + folder.string() + "'/frame-*.png -resize 720x -dither None -colors 96 +remap -layers OptimizeFrame -fuzz 2% -layers OptimizeTransparency '" + gif + "'").c_str()) == 0);
        CHECK(fs::file_size(gif) < 1'500'000);
    }
    fs::remove_all(folder);
}
