// Drawings as SVG: whatever is written in them, an XML reader takes it.

#include "figure/svg.h"

#include <catch2/catch.hpp>

#include "figure/type.h"
#include "support/figures.h"

using namespace linefall;

namespace {

/// The file passes another program's XML reader.
void checkWellFormed(const std::string& svg) {
    const std::string path = test::written(svg, ".svg");
    CHECK(test::xmlFaults(path) == "");
}

Drawing everything(const std::string& words) {
    Drawing d;
    d.title = words;
    d.description = words;
    d.words({{10, 20}, words});
    d.words({{10, 40}, words, 14.0, Ink::hex(0x123456), Weight::mono, Anchor::end, true});
    d.lines({{0, 0}, {10.5, 3.25}, {-4, 1e-9}}, {Ink::hex(0xA8400A).faded(0.5), 2.0, {4.0, 2.0}, Ink::hex(0xFFFFFF)}, true);
    d.box(1, 2, 3, 4, Ink::hex(0));
    d.marks.emplace_back(Disc{{5, 5}, 3, Stroke{Ink{}, 1.0}, Ink::hex(0xE0A100)});
    d.marks.emplace_back(ClipBegin{0, 0, 100, 100});
    d.marks.emplace_back(RasterPicture{0, 0, 20, 10, {std::make_shared<const Pixels>(Pixels{2, 1, 3, {255, 0, 0, 0, 255, 0}})}});
    d.marks.emplace_back(ClipEnd{});
    return d;
}

}  // namespace

TEST_CASE("every drawing is well-formed XML, whatever its words are") {
    std::string every;
    for (int byte = 1; byte < 256; ++byte) every += static_cast<char>(byte);  // most of it no UTF-8, much of it no XML
    for (const std::string& words : std::vector<std::string>{"", "plain", "<script>&\"'</script> ]]> --> <!-- &amp;", "θ 37° → µm⁻¹ 名前 🛰", every, "\xC0\xAF\xED\xA0\x80\xF5\x80\x80\x80\xE2\x82"}) {
        INFO(words);
        const std::string svg = svgText(everything(words));
        checkWellFormed(svg);
        CHECK(svg.find("<script>") == std::string::npos);
    }
}

TEST_CASE("a malformed file is noticed by the reader that the tests ask") {
    CHECK(test::xmlFaults(test::written("<svg><a></svg>", ".svg")) != "");
    CHECK(test::xmlFaults(test::written("<svg>\x01</svg>", ".svg")) != "");
}

TEST_CASE("an SVG says its title and description, and keeps words as words") {
    Drawing d;
    d.title = "Whisk broom & island";
    d.description = "A picture of a < b.";
    d.words({{10, 20}, "scale at nadir", 13.0, Ink::hex(0x1F2328), Weight::strong, Anchor::middle});
    const std::string svg = svgText(d);
    CHECK(svg.find("<title id=\"title\">Whisk broom &amp; island</title>") != std::string::npos);
    CHECK(svg.find("<desc id=\"description\">A picture of a &lt; b.</desc>") != std::string::npos);
    CHECK(svg.find("aria-labelledby=\"title description\"") != std::string::npos);
    CHECK(svg.find("<text x=\"10\" y=\"20\" font-size=\"13\" text-anchor=\"middle\" font-weight=\"600\" fill=\"#1f2328\">scale at nadir</text>") != std::string::npos);
    checkWellFormed(svg);
}

TEST_CASE("a raster in an SVG is a PNG of its own pixels, in base64") {
    Drawing d;
    Pixels pixels{3, 2, 3, {}};
    for (int i = 0; i < 18; ++i) pixels.values.push_back(static_cast<std::uint8_t>(13 * i));
    d.marks.emplace_back(RasterPicture{0, 0, 6, 4, {std::make_shared<const Pixels>(pixels)}});
    const std::string svg = svgText(d);
    const std::string begin = "data:image/png;base64,";
    const std::size_t from = svg.find(begin) + begin.size();
    const std::string coded = svg.substr(from, svg.find('"', from) - from);
    REQUIRE(coded.size() % 4 == 0);
    // Decoded by coreutils, read by libpng's own simple reader.
    const std::string path = test::written(coded, ".b64");
    REQUIRE(std::system(("base64 -d '" + path + "' > '" + path + ".png'").c_str()) == 0);
    const test::Colours read = test::coloursOf(path + ".png");
    CHECK(read.columns == 3);
    CHECK(read.rows == 2);
    CHECK(read.values == pixels.values);
}
