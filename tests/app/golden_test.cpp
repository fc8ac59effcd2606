// The comparison with small golden images of the window, tried where no window is needed: what must pass passes, and what must not
// does not; and no golden would be taken for another of its series.

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <map>

#include "support/folders.h"
#include "support/golden.h"

namespace fs = std::filesystem;

TEST_CASE("golden images of the window: none would be taken for another of its series") {
    std::map<std::string, std::map<std::string, linefall::Shot>> series;
    for (const auto& entry : fs::directory_iterator(linefall::testsFolder() + "/golden/window")) {
        if (entry.path().extension() != ".png") continue;
        CAPTURE(entry.path().string());
        const std::string name = entry.path().stem().string();
        const std::optional<linefall::Shot> shot = linefall::readShot(entry.path().string());
        REQUIRE(shot);
        CHECK(fs::file_size(entry.path()) < 15'000);
        series[name.substr(0, name.find('.'))][name] = *shot;
    }
    for (const char* point : {"why", "causes", "time", "twin", "measure", "angles", "bands", "relief", "figures"}) {
        CAPTURE(point);
        const auto& all = series[point];
        CHECK(all.size() >= 2);
        for (auto one = all.begin(); one != all.end(); ++one) {
            for (auto other = std::next(one); other != all.end(); ++other) {
                const linefall::Apart off = linefall::apart(one->second, other->second);
                UNSCOPED_INFO(one->first << " and " << other->first << ": " << off.mean << " in the mean, " << off.worst << " at worst");
                CHECK_FALSE(off.same());
            }
        }
    }
}

namespace {

using linefall::Rgb;
using linefall::Shot;

/// A page of strokes, and a line beside them that falls by `slant` rows; `softer`: an eighth of each pixel goes to each of its neighbours.
Shot page(double slant, bool with_line, bool softer) {
    Shot shot{448, 320, std::vector<Rgb>(448 * 320, Rgb{236, 232, 222})};
    const auto put = [&](int x, int y, Rgb ink) { shot.pixels[static_cast<std::size_t>(y * shot.width + x)] = ink; };
    for (int y = 20; y < 300; ++y) {
        for (int x = 30; x < 200; ++x) {
            if (y % 20 < 12 && (x * 7 + y / 20 * 3) % 11 < 4) put(x, y, {40, 44, 50});  // rows of strokes, about as dense as words
        }
    }
    for (int x = 220; x < 430 && with_line; ++x) {
        for (int k = -2; k <= 2; ++k) put(x, static_cast<int>(150.0 + slant * (x - 220) / 210.0) + k, std::abs(k) == 2 ? Rgb{16, 19, 22} : Rgb{179, 71, 11});
    }
    if (!softer) return shot;
    Shot out = shot;
    for (int y = 0; y < shot.height; ++y) {
        for (int x = 1; x + 1 < shot.width; ++x) {
            for (std::size_t c = 0; c < 3; ++c) {
                out.pixels[static_cast<std::size_t>(y * shot.width + x)][c] = static_cast<std::uint8_t>((shot.at(x - 1, y)[c] + 6 * shot.at(x, y)[c] + shot.at(x + 1, y)[c]) / 8);
            }
        }
    }
    return out;
}

Shot smallOf(const Shot& shot) { return linefall::shrunk(shot, linefall::wholeOf(shot)); }

}  // namespace

TEST_CASE("golden images of the window: softer edges pass, a line that is missing or lies elsewhere does not") {
    const Shot golden = smallOf(page(40.0, true, false));
    CHECK(golden.width == 112);
    CHECK(golden.height == 80);
    CHECK(linefall::apart(golden, golden).worst == 0.0);
    const linefall::Apart softer = linefall::apart(smallOf(page(40.0, true, true)), golden);
    CAPTURE(softer.mean, softer.worst);
    CHECK(softer.same());
    CHECK(softer.worst > 0.5);  // and it is another picture
    CHECK_FALSE(linefall::apart(smallOf(page(40.0, false, false)), golden).same());
    CHECK_FALSE(linefall::apart(smallOf(page(60.0, true, false)), golden).same());
    CHECK_FALSE(linefall::apart(smallOf(Shot{448, 316, page(40.0, true, false).pixels}), golden).same());
}

TEST_CASE("golden images of the window: a mean over boxes counts parts of pixels in part, and nothing beyond the picture") {
    Shot shot{3, 1, {{0, 0, 0}, {120, 30, 60}, {240, 240, 240}}};
    const Shot two = linefall::shrunk(shot, linefall::wholeOf(shot), 2, 1);
    CHECK(two.pixels == std::vector<Rgb>{{40, 10, 20}, {200, 170, 180}});
    CHECK(linefall::shrunk(shot, {2, 0, 2, 1}, 1, 1).pixels == std::vector<Rgb>{{240, 240, 240}});
}

TEST_CASE("golden images of the window: where one differs, what was seen, what was expected and the difference are left and named") {
    if (linefall::approving()) return;
    const fs::path left = fs::temp_directory_path() / "linefall-golden-left";
    fs::remove_all(left);
    const auto other = [] { return linefall::readShot(linefall::goldenPath("why.blocked")); };
    CHECK(linefall::unlikeGolden("why.blocked", other, left.string(), 0.0).empty());
    CHECK_FALSE(fs::exists(left));
    const std::string words = linefall::unlikeGolden("why.free", other, left.string(), 0.0);
    CHECK(words.find("why.free: differs from its golden by ") == 0);
    CHECK(words.find(left.string()) != std::string::npos);
    for (const char* what : {"got", "expected", "difference"}) CHECK(linefall::readShot((left / (std::string("why.free.") + what + ".png")).string()));
    CHECK(linefall::readShot((left / "why.free.got.png").string())->pixels == other()->pixels);
    CHECK(linefall::unlikeGolden("no.such", other, left.string(), 0.0).find("there is no ") != std::string::npos);
    fs::remove_all(left);
}
