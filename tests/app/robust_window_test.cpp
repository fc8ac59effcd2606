// What a window has to live through: any size, being minimised, losing everything that OpenGL held.

#include <fstream>
#include <sstream>

#include "app/driven_window.h"
#include "support/screen.h"

namespace linefall {

using namespace driven;

namespace {

bool settled(const Json& line) { return has(line, "settled") && line["settled"][0] == true && line["settled"][1] == true; }
bool over(const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && settled(line); }

/// xdotool's words with the window's number in the place of "%".
void toWindow(DrivenWindow& window, const std::string& what) {
    std::string words = what;
    words.replace(words.find('%'), 1, "$(xdotool search --name '^Linefall$' | tail -1)");
    window.act(words);
}

/// What a process has used of the processors since it began, seconds.
double processorTime_s(pid_t process) {
    std::ifstream file("/proc/" + std::to_string(process) + "/stat");
    std::string text((std::istreambuf_iterator<char>(file)), {});
    std::istringstream rest(text.substr(text.rfind(')') + 2));
    std::string skipped;
    double user = 0.0, system = 0.0;
    for (int i = 3; i < 14; ++i) rest >> skipped;
    rest >> user >> system;
    return (user + system) / static_cast<double>(::sysconf(_SC_CLK_TCK));
}

Json spoiltWords(const DrivenWindow& window) {
    Json found;
    for (const Json& line : window.lines()) {
        if (line["event"] == "controls") found = line["spoilt"];
    }
    return found;
}

}  // namespace

TEST_CASE("One session is resized from 640 x 400, where it stacks and rolls, to 3840 x 2160 and back, and goes on", "[window]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes"});
    REQUIRE(window.untilFlying());
    window.act("key End");
    REQUIRE(window.until(over));
    window.click("picture A", 0.4, 0.5);
    REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
    const Json picked = window.last()["picked"];
    for (const auto& [width, height] : {std::pair{640, 400}, {1600, 900}, {3840, 2160}, {1920, 1080}, {800, 600}, {1280, 720}, {640, 400}}) {
        CAPTURE(width, height);
        toWindow(window, "windowsize % " + std::to_string(width) + " " + std::to_string(height));
        REQUIRE(window.until([w = width, h = height](const Json& line) { return line.contains("page") && line["page"][0] == w && line["page"][1] == h; }));
        CHECK(window.last()["stacked"] == (width < 800));
        CHECK(window.last()["picked"] == picked);
        CHECK(window.until([](const Json& line) { return line["event"] == "controls" && line["spoilt"].empty(); }));
        INFO(spoiltWords(window).dump());
    }
    // The small page rolls by the wheel, and by keys to whatever takes the focus.
    CHECK(window.last()["rolled"] == 0);
    window.act(DrivenWindow::to(300, 200) + " sleep 0.2 click 5 sleep 0.1 click 5 sleep 0.1 click 5");
    CHECK(window.until([](const Json& line) { return line.contains("rolled") && line["rolled"] > 20; }));
    window.act(DrivenWindow::to(300, 200) + " sleep 0.2 click 4 sleep 0.1 click 4 sleep 0.1 click 4 sleep 0.1 click 4 sleep 0.1 click 4 sleep 0.1 click 4");
    CHECK(window.until([](const Json& line) { return line.contains("rolled") && line["rolled"] == 0; }));
    for (int i = 0; i < 60 && window.last().value("focus", "") != "help"; ++i) {
        const std::string before = window.last().value("focus", "");
        window.act("key Tab");
        window.until([&](const Json& line) { return line.contains("focus") && line["focus"] != before; });
    }
    REQUIRE(window.last()["focus"] == "help");
    CHECK(window.until([](const Json& line) { return line.contains("rolled") && line["rolled"] > 200; }));
    const auto [x, y, w, h] = window.placeOf("help");
    CHECK(y >= 0);
    CHECK(y + h <= 400);
    CHECK(x + w <= 640);
}

TEST_CASE("A window taken from the screen rests: under 1 % of one core in ten seconds, and flies on when it comes back", "[window]") {
    if (!canDrive()) return;
    DrivenWindow window({"--place", "slopes"});
    REQUIRE(window.untilFlying());
    REQUIRE(window.until([](const Json& line) { return has(line, "lines") && line["lines"][0] > 20 && line["lines"][1] > 20; }));
    toWindow(window, "windowunmap %");
    REQUIRE(window.until([](const Json& line) { return line["event"] == "hidden"; }));
    const Json before = window.last();
    // What was begun on other threads comes to its end first.
    double used = processorTime_s(window.process());
    for (int i = 0; i < 60; ++i) {
        sleepFor(1000);
        const double now = processorTime_s(window.process());
        if (now - used < 0.02) break;
        used = now;
    }
    const double begun = processorTime_s(window.process());
    sleepFor(10000);
    // Processor time, not waiting: it is the same on a busy machine.
    CHECK(processorTime_s(window.process()) - begun < 0.1);
    CHECK(window.last() == before);

    toWindow(window, "windowmap %");
    REQUIRE(window.until([](const Json& line) { return line["event"] == "shown"; }));
    // The clock stood while nobody looked, and goes on from there.
    CHECK(window.last()["time_s"].get<double>() - before["time_s"].get<double>() < 2.0 * before["pace"].get<double>());
    CHECK(window.until([&](const Json& line) { return has(line, "lines") && line["lines"][0] > before["lines"][0]; }));
    toWindow(window, "windowfocus --sync % key t");  // a window manager gives the keys back
    CHECK(window.until([](const Json& line) { return line.value("theme", "") == "night"; }));
}

TEST_CASE("With all OpenGL objects destroyed and made again the page is the same to the pixel, and goes on", "[window]") {
    if (!canDrive()) return;
    std::optional<Shot> shots[2];
    Json grids[2];
    std::array<int, 4> flight{};
    for (const bool rebuilt : {false, true}) {
        CAPTURE(rebuilt);
        std::vector<std::string> words{"--place", "slopes", "--reduced-motion"};
        if (rebuilt) words.insert(words.end(), {"--rebuild-gl-every", "7"});
        DrivenWindow window(words);
        REQUIRE(window.untilFlying());
        window.act(DrivenWindow::to(640, 712) + " key End");
        REQUIRE(window.until(over));
        window.click("picture A", 0.4, 0.5);
        REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
        window.act("key b " + DrivenWindow::to(640, 712));
        REQUIRE(window.until([](const Json& line) { return line.value("tool", "") == "Bands"; }));
        if (rebuilt) REQUIRE(window.until([from = window.last()["rebuilt"].get<int>()](const Json& line) { return line.value("rebuilt", 0) > from + 2; }));
        else CHECK(window.last()["rebuilt"] == 0);
        // The land is refined when nothing moves; then the page stands.
        Json stood;
        for (int i = 0; i < 60; ++i) {
            sleepFor(1000);
            const std::optional<Shot> now = grabWindow("Linefall");
            if (!now) {
                WARN("the tests were built without X11: nothing was looked at");
                return;
            }
            if (shots[rebuilt] && now->pixels == shots[rebuilt]->pixels && window.last()["grid"] == stood["grid"] && i > 4) break;
            shots[rebuilt] = now;
            stood = window.last();
        }
        grids[rebuilt] = stood["grid"];
        flight = window.placeOf("flight");
    }
    REQUIRE(shots[0]);
    REQUIRE(shots[1]);
    REQUIRE(shots[0]->pixels.size() == shots[1]->pixels.size());
    long unlike = 0;
    int left = shots[0]->width, right = 0, top = shots[0]->height, bottom = 0;  // where they differ
    for (int y = 0; y < shots[0]->height; ++y) {
        for (int x = 0; x < shots[0]->width; ++x) {
            // The mesh of the land is as fine as it was quick to draw: only equal ones can be compared.
            if (grids[0] != grids[1] && y >= flight[1] && y < flight[1] + flight[3] && x >= flight[0] && x < flight[0] + flight[2]) continue;
            if (shots[0]->at(x, y) == shots[1]->at(x, y)) continue;
            ++unlike;
            left = std::min(left, x), right = std::max(right, x), top = std::min(top, y), bottom = std::max(bottom, y);
        }
    }
    CAPTURE(left, right, top, bottom, grids[0].dump(), grids[1].dump());
    CHECK(unlike == 0);
}

}  // namespace linefall
