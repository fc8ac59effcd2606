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
    for (const Json& line : window.lines()) {
        if (line["event"] == event) found = line;
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

/// How words over imagery stand out, whatever lies under them: the share of their ink that has a colour of 4.5 to 1 within two
/// pixels, where a casing must be. Nothing where too little of the ink is in sight.
std::optional<double> casedShare(const Shot& shot, const Rgb& ink, int x, int y, int w, int h) {
    int all = 0, cased = 0;
    for (int j = std::max(2, y); j < std::min(shot.height - 2, y + h); ++j) {
        for (int i = std::max(2, x); i < std::min(shot.width - 2, x + w); ++i) {
            const Rgb& c = shot.at(i, j);
            if (std::abs(c[0] - ink[0]) + std::abs(c[1] - ink[1]) + std::abs(c[2] - ink[2]) >= 60) continue;
            double best = 0.0;
            for (int dj = -2; dj <= 2; ++dj) {
                for (int di = -2; di <= 2; ++di) best = std::max(best, contrast(shot.at(i + di, j + dj), ink));
            }
            ++all;
            cased += best >= 4.5 ? 1 : 0;
        }
    }
    if (all < 10) return std::nullopt;
    return static_cast<double>(cased) / all;
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

TEST_CASE("Words over imagery are measured by their casing: with it they pass on snow, without it they do not") {
    Shot shot{40, 20, std::vector<Rgb>(800, Rgb{250, 250, 250})};
    const Rgb ink{235, 213, 218};
    const auto bar = [&](int by, const Rgb& colour) {
        for (int j = 8 - by; j < 12 + by; ++j) {
            for (int i = 6 - by; i < 34 + by; ++i) shot.pixels[static_cast<std::size_t>(j * 40 + i)] = colour;
        }
    };
    bar(0, ink);
    CHECK(casedShare(shot, ink, 6, 8, 28, 4) == 0.0);
    bar(1, {16, 19, 22});
    bar(0, ink);
    CHECK(casedShare(shot, ink, 6, 8, 28, 4) == 1.0);
}

TEST_CASE("The words of the real window reach 4.5 to 1 on the screen, by day, by night and in a lecture, on paper and over imagery", "[window]") {
    if (!canDrive()) return;
    for (const auto& [theme, lecture] : {std::pair{"day", false}, {"night", false}, {"day", true}, {"night", true}}) {
        CAPTURE(theme, lecture);
        std::vector<std::string> request{"--place", "slopes", "--theme", theme};
        if (lecture) request.push_back("--lecture");
        DrivenWindow window(request);
        REQUIRE(window.untilFlying());
        window.act("key End");
        REQUIRE(window.until([](const Json& line) { return has(line, "time_s") && line["time_s"] == line["duration_s"] && line["settled"][1] == true; }));
        window.click("picture A", 0.4, 0.5);
        REQUIRE(window.until([](const Json& line) { return has(line, "picked") && line["picked"].contains("counts"); }));
        int measured = 0, over_imagery = 0;
        for (const char* open : {"3", "m", "e", "u"}) {  // a stop, and some tools
            CAPTURE(open);
            const Json before = window.last();
            window.act(std::string("key ") + open + " " + DrivenWindow::to(3, 3));
            REQUIRE(window.until([&](const Json& line) { return line.contains("tool") && (line["tool"] != before["tool"] || line["stop"] != before["stop"]); }));
            REQUIRE(window.until([](const Json& line) { return line["event"] == "words"; }));
            Json words;
            std::optional<Shot> shot;
            for (int i = 0; i < 20; ++i) {  // until the page stands: the words are those of the picture
                words = lastOf(window, "words")["words"];
                shot = grabWindow("Linefall");
                if (!shot) break;
                sleepFor(1300);
                if (lastOf(window, "words")["words"] == words) break;
            }
            if (!shot) {
                WARN("the tests were built without X11: nothing was looked at");
                return;
            }
            for (const Json& w : words) {
                CAPTURE(w[4].get<std::string>());
                if (w[5] == true) {
                    const std::optional<double> share = casedShare(*shot, w[6].get<Rgb>(), w[0], w[1], w[2], w[3]);
                    if (!share) continue;
                    CHECK(*share > 0.9);
                    ++over_imagery;
                } else if (w[4].get<std::string>().size() >= 3) {
                    CHECK(wordsContrast(*shot, w[0], w[1], w[2], w[3]) >= 4.5);
                    ++measured;
                }
            }
        }
        CHECK(measured > 120);
        CHECK(over_imagery >= 4);
    }
}

}  // namespace linefall
