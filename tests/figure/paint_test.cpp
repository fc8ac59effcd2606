// Drawings as pixels.

#include "figure/paint.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "flight/image.h"
#include "support/figures.h"

using namespace linefall;

namespace {

Pixels noise(int columns, int rows, int channels) {
    Pixels p{columns, rows, channels, {}};
    unsigned state = 12345;
    for (int i = 0; i < columns * rows * channels; ++i) {
        state = state * 1664525u + 1013904223u;
        p.values.push_back(static_cast<std::uint8_t>(state >> 24));
    }
    return p;
}

int differing(const Pixels& a, const Pixels& b) {
    int n = 0;
    for (std::size_t i = 0; i < a.values.size(); ++i) n += a.values[i] != b.values[i] ? 1 : 0;
    return n;
}

}  // namespace

TEST_CASE("a page's pixels are exactly its size times the scale") {
    const Type type;
    for (const int scale : {1, 2, 3}) {
        for (const double width : {100.0, 733.0, 90.5}) {
            Drawing d;
            d.width = width;
            d.height = 41.0;
            const Pixels p = painted(d, scale, type);
            CHECK(p.columns == static_cast<int>(std::ceil(width * scale)));
            CHECK(p.rows == 41 * scale);
            CHECK(p.values.size() == static_cast<std::size_t>(p.columns * p.rows * 3));
        }
    }
}

TEST_CASE("a raster enlarged by whole factors keeps every byte") {
    const Type type;
    for (const int channels : {1, 3}) {
        const Pixels source = noise(17, 11, channels);
        for (const int enlarged : {1, 2, 5}) {
            for (const int scale : {1, 2, 3}) {
                Drawing d;
                d.width = 120.0;
                d.height = 90.0;
                d.marks.emplace_back(RasterPicture{7.0, 5.0, 17.0 * enlarged, 11.0 * enlarged, {std::make_shared<const Pixels>(source)}});
                const Pixels p = painted(d, scale, type);
                int wrong = 0;
                for (int row = 0; row < 11 * enlarged * scale; ++row) {
                    for (int column = 0; column < 17 * enlarged * scale; ++column) {
                        for (int c = 0; c < 3; ++c) {
                            const std::uint8_t want = source.values[source.at(column / (enlarged * scale), row / (enlarged * scale)) + static_cast<std::size_t>(channels == 1 ? 0 : c)];
                            wrong += p.values[p.at(7 * scale + column, 5 * scale + row) + static_cast<std::size_t>(c)] != want ? 1 : 0;
                        }
                    }
                }
                CHECK(wrong == 0);
            }
        }
    }
}

TEST_CASE("a raster made smaller shows the mean light of what it covers") {
    const Pixels half = resized(Pixels{2, 2, 1, {0, 255, 255, 0}}, 1, 1);
    CHECK(half.values[0] == 188);  // half the light of white: sRGB code 188 (IEC 61966-2-1)
    const Pixels flat = resized(Pixels{7, 5, 1, std::vector<std::uint8_t>(35, 93)}, 3, 2);
    for (const std::uint8_t value : flat.values) CHECK(value == 93);
    // 3 to 2: the middle one is shared by halves.
    const Pixels shared = resized(Pixels{3, 1, 1, {255, 0, 0}}, 2, 1);
    CHECK(shared.values[0] == screenCode(2.0 / 3.0));
    CHECK(shared.values[1] == 0);
}

TEST_CASE("of several versions of a raster the coarsest that is fine enough is shown") {
    const Type type;
    const auto coarse = std::make_shared<const Pixels>(Pixels{10, 10, 1, std::vector<std::uint8_t>(100, 40)});
    const auto fine = std::make_shared<const Pixels>(Pixels{20, 20, 1, std::vector<std::uint8_t>(400, 200)});
    Drawing d;
    d.width = d.height = 10.0;
    d.marks.emplace_back(RasterPicture{0, 0, 10, 10, {coarse, fine}});
    CHECK(painted(d, 1, type).values[0] == 40);
    CHECK(painted(d, 2, type).values[0] == 200);
    CHECK(painted(d, 3, type).values[0] == 200);
}

TEST_CASE("words are as wide as they are painted, and no wider") {
    const Type type;
    REQUIRE(type.missing() == "");
    for (const Weight weight : {Weight::regular, Weight::strong, Weight::mono}) {
        const std::string words = "Hnl 128 θ ⁻² H";
        Drawing d;
        d.width = 400.0;
        d.height = 60.0;
        d.ground = Ink::hex(0xFFFFFF);
        d.words({{20.0, 40.0}, words, 26.0, Ink::hex(0), weight});
        const Pixels p = painted(d, 2, type);
        int first = p.columns, last = -1;
        for (int row = 0; row < p.rows; ++row) {
            for (int column = 0; column < p.columns; ++column) {
                if (p.values[p.at(column, row)] > 128) continue;
                first = std::min(first, column);
                last = std::max(last, column);
            }
        }
        const double width = type.width(words, 26.0, weight);
        CHECK(first >= 40);
        CHECK(last / 2.0 <= 20.0 + width);
        CHECK(last / 2.0 >= 20.0 + width - 0.2 * 26.0);  // but for the room on the last letter's side
    }
}

TEST_CASE("words that are too long are shortened or broken") {
    const Type type;
    const std::string words = "ground distance from the track on level ground at datum";
    CHECK(type.fitted(words, 13.0, Weight::regular, 1000.0) == words);
    const std::string shorter = type.fitted(words, 13.0, Weight::regular, 120.0);
    CHECK(shorter.size() < words.size());
    CHECK(shorter.substr(shorter.size() - 3) == "…");
    CHECK(type.width(shorter, 13.0) <= 120.0);
    std::string joined;
    for (const std::string& line : type.wrapped(words, 13.0, Weight::regular, 120.0)) {
        CHECK(type.width(line, 13.0) <= 120.0);
        joined += (joined.empty() ? "" : " ") + line;
    }
    CHECK(joined == words);
}

TEST_CASE("the same drawing gives the same bytes, and what is clipped stays inside") {
    const Type type, other;
    Drawing d;
    d.width = 60.0;
    d.height = 50.0;
    d.ground = Ink::hex(0xFFFDF8);
    d.marks.emplace_back(ClipBegin{10, 10, 20, 20});
    d.marks.emplace_back(RasterPicture{0, 0, 60, 50, {std::make_shared<const Pixels>(noise(60, 50, 3))}});
    d.lines({{0, 0}, {60, 50}}, {Ink::hex(0xA8400A), 5.0, {}, Ink::hex(0x000000)});
    d.marks.emplace_back(ClipEnd{});
    const Pixels a = painted(d, 2, type), b = painted(d, 2, other);
    CHECK(differing(a, b) == 0);
    int outside = 0, inside = 0;
    for (int row = 0; row < a.rows; ++row) {
        for (int column = 0; column < a.columns; ++column) {
            const bool in = column >= 20 && column < 60 && row >= 20 && row < 60;
            const bool paper = a.values[a.at(column, row)] == 0xFF && a.values[a.at(column, row) + 1] == 0xFD && a.values[a.at(column, row) + 2] == 0xF8;
            if (in) inside += paper ? 0 : 1;
            else outside += paper ? 0 : 1;
        }
    }
    CHECK(outside == 0);
    CHECK(inside > 1500);
}
