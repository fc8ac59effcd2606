// The look, measured: contrast of the palettes by formula, and of the page's words and of what is drawn over pictures in a
// picture of the real window.

#include <algorithm>
#include <map>

#include "app/driven_window.h"
#include "app/theme.h"
#include "support/screen.h"

namespace linefall {

using namespace driven;

namespace {

Rgb rgb(ImU32 colour) {
    return {static_cast<std::uint8_t>(colour >> IM_COL32_R_SHIFT), static_cast<std::uint8_t>(colour >> IM_COL32_G_SHIFT), static_cast<std::uint8_t>(colour >> IM_COL32_B_SHIFT)};
}

Json lastOf(const DrivenWindow& window, const char* event) {
    Json found;
    for (Json& line : window.lines()) {
        if (line["event"] == event) found = std::move(line);
    }
    return found;
}

/// Contrast of the strongest twentieth of a place's pixels with its ground, which is its most frequent colour.
double wordsContrast(const Shot& shot, int x, int y, int w, int h) {
    std::map<Rgb, int> counts;
    for (int j = std::max(0, y); j < std::min(shot.height, y + h); ++j) {
        for (int i = std::max(0, x); i < std::min(shot.width, x + w); ++i) ++counts[shot.at(i, j)];
    }
    if (counts.empty()) return 0.0;
    const Rgb ground = std::max_element(counts.begin(), counts.end(), [](const auto& a, const auto& b) { return a.second < b.second; })->first;
    std::vector<std::pair<double, int>> against;
    int all = 0;
    for (const auto& [colour, count] : counts) {
        against.emplace_back(contrast(colour, ground), count);
        all += count;
    }
    std::sort(against.begin(), against.end(), std::greater<>());
    double sum = 0.0;
    int taken = 0;
    for (const auto& [ratio, count] : against) {
        if (taken >= std::max(4, all / 50)) break;
        sum += ratio * count;
        taken += count;
    }
    return sum / taken;
}

}  // namespace

TEST_CASE("Every colour for words reaches 4.5 to 1 on its grounds, and every line and control 3 to 1, by day and by night") {
    for (const bool night : {false, true}) {
        const Palette& p = palette(night);
        CAPTURE(night);
        for (const ImU32 ground : {p.paper, p.panel}) {
            CHECK(contrast(rgb(p.ink), rgb(ground)) >= 7.0);
            CHECK(contrast(rgb(p.quiet), rgb(ground)) >= 4.5);
            CHECK(contrast(rgb(p.wrong), rgb(ground)) >= 4.5);
            for (const ImU32 craft : p.craft) CHECK(contrast(rgb(craft), rgb(ground)) >= 4.5);
            CHECK(contrast(rgb(p.control), rgb(ground)) >= 3.0);
        }
        CHECK(contrast(rgb(p.paper), rgb(p.ink)) >= 4.5);  // a hint, and a button that is on
        CHECK(contrast(rgb(p.ink), rgb(p.hairline)) >= 4.5);  // the words of a button under the pointer
        for (const ImU32 craft : p.craft) CHECK(contrast(rgb(p.on_craft), rgb(craft)) >= 4.5);
        // The sun's yellow is always cased: the casing, not the yellow, is what shows on paper.
        CHECK(contrast(rgb(p.sun), {31, 35, 40}) >= 3.0);
        CHECK(contrast(rgb(p.blank), rgb(p.control)) >= 2.4);
    }
}

TEST_CASE("The words of the real window reach 4.5 to 1 on the screen, by day and by night", "[window]") {
    if (!canDrive()) return;
    for (const char* theme : {"day", "night"}) {
        CAPTURE(theme);
        DrivenWindow window({"--place", "slopes", "--theme", theme});
        REQUIRE(window.untilFlying());
        window.act("key End");
        REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][1] == true; }));
        window.click("picture A", 0.4, 0.5);
        REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
        window.act("key 3 " + DrivenWindow::to(640, 716));
        REQUIRE(window.until([](const Json& line) { return line.value("stop", 0) == 3; }));
        sleepFor(2500);
        const Json words = lastOf(window, "words")["words"];
        const std::optional<Shot> shot = grabWindow("Linefall");
        if (!shot) {
            WARN("the tests were built without X11: nothing was looked at");
            return;
        }
        int measured = 0;
        for (const Json& w : words) {
            if (w[5] == true || w[4].get<std::string>().size() < 3) continue;
            CAPTURE(w[4].get<std::string>());
            CHECK(wordsContrast(*shot, w[0], w[1], w[2], w[3]) >= 4.5);
            ++measured;
        }
        CHECK(measured > 40);
    }
}

}  // namespace linefall
