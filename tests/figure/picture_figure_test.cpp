// The picture's page: its raster is the display rows, its ticks lie where geometry puts them, and it says what it is.

#include "figure/picture_figure.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "figure/paint.h"
#include "figure/svg.h"
#include "support/figures.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Scene small(const std::string& instrument, const Sets& more = {}) {
    return sceneOf("slopes", instrument, Sets{"flight.length=300 m"} + more);
}

const RasterPicture& rasterOf(const Figure& figure) {
    for (const Mark& mark : figure.drawing.marks) {
        if (const auto* raster = std::get_if<RasterPicture>(&mark)) return *raster;
    }
    throw std::logic_error("no raster in the figure");
}

}  // namespace

TEST_CASE("the picture inside the figure is the display rows, byte for byte, at every scale") {
    const Type type;
    struct Case {
        const char* instrument;
        Sets sets;
        const char* bands;
        bool turned;
    };
    for (const Case& c : std::vector<Case>{{"push-broom", {"instrument.samples=90"}, "true colour", false}, {"push-broom", {"instrument.samples=90"}, "infrared, red, green", true}, {"whisk-broom", {"instrument.ifov=12 mrad"}, "infrared", true}, {"frame-camera", {"instrument.samples=700", "instrument.rows=40"}, "true colour", false}}) {
        const Scene scene = small(c.instrument, c.sets + Sets{std::string("show.bands=") + c.bands, std::string("show.turned=") + (c.turned ? "true" : "false")});
        Formations formations = formationsOf(scene);
        FigureRequest request;
        request.kinds = {FigureKind::picture};
        const std::vector<Figure> figures = makeFigures(scene, formations, request, type);
        REQUIRE(figures.size() == 1);
        const Image& image = formations[0]->image();
        const PictureLook look = lookOf(image, c.bands, Stretch{});
        const RasterPicture& raster = rasterOf(figures[0]);
        for (const int scale : {1, 2, 3}) {
            const Pixels page = painted(figures[0].drawing, scale, type);
            const int cell = static_cast<int>(std::lround(raster.width / image.samples())) * scale;
            REQUIRE(cell * image.samples() == static_cast<int>(std::lround(raster.width)) * scale);
            const int left = static_cast<int>(std::lround(raster.x)) * scale, top = static_cast<int>(std::lround(raster.y)) * scale;
            int wrong = 0;
            for (int line = 0; line < image.lines(); ++line) {
                const std::vector<std::uint8_t> row = displayRow(image, look.bands, look.limits, true, line);
                for (int x = 0; x < cell * image.samples(); ++x) {
                    for (const int y : {0, cell - 1}) {
                        for (int k = 0; k < 3; ++k) {
                            const std::size_t want = look.bands.grey() ? static_cast<std::size_t>(x / cell) : static_cast<std::size_t>(3 * (x / cell) + k);
                            // Turned by half a turn: both counted from the other end.
                            const int at_x = c.turned ? cell * image.samples() - 1 - x : x;
                            const int at_y = c.turned ? cell * image.lines() - 1 - (line * cell + y) : line * cell + y;
                            wrong += page.values[page.at(left + at_x, top + at_y) + static_cast<std::size_t>(k)] != row[want] ? 1 : 0;
                        }
                    }
                }
            }
            INFO(c.instrument << " at " << scale);
            CHECK(wrong == 0);
        }
    }
}

TEST_CASE("ground ticks of a level flight lie where the closed formula puts them") {
    SECTION("whisk broom: the angle grows evenly, distance = h tan(angle)") {
        const Scene scene = sceneOf("slopes", "whisk-broom", {"flight.height=2 km", "instrument.ifov=5 mrad", "instrument.fov=80 deg", "flight.length=500 m"});
        const Formation formation(scene, 0);
        const int n = formation.samples();
        const double step = formation.instrument().derived().sample_step_rad;
        const std::vector<GroundTick> ticks = groundTicks(formation, formation.lines() - 1, 250.0);
        CHECK(ticks.size() == 13);  // 2 km tan(40 deg) = 1678 m to each side
        for (const GroundTick& tick : ticks) {
            // Column 0 is starboard. Linear between samples 10 to 17 m apart.
            const double want = 0.5 * n - std::atan(tick.distance_m / 2000.0) / step;
            CHECK(tick.column == Approx(want).margin(0.003));
        }
    }
    SECTION("push broom: equal steps on the ground, distance = h x / f") {
        const Scene scene = sceneOf("slopes", "push-broom", {"flight.height=1500 m", "instrument.samples=800", "flight.length=300 m", "flight.heading=77 deg"});
        const Formation formation(scene, 0);
        const Derived& d = formation.instrument().derived();
        const std::vector<GroundTick> ticks = groundTicks(formation, 0, 100.0);
        REQUIRE(ticks.size() > 8);
        for (const GroundTick& tick : ticks) {
            const double want = 400.0 - tick.distance_m / (1500.0 * d.detector_pitch_m / d.focal_length_m);
            CHECK(tick.column == Approx(want).margin(1e-6));
        }
    }
    SECTION("rolled: starboard goes down, so the axis looks to port") {
        const Scene scene = sceneOf("slopes", "push-broom", {"flight.height=1500 m", "instrument.samples=800", "flight.length=300 m", "flight.roll=10 deg"});
        const Formation formation(scene, 0);
        const Derived& d = formation.instrument().derived();
        const std::vector<GroundTick> ticks = groundTicks(formation, 0, 100.0);
        REQUIRE(ticks.size() > 8);
        for (const GroundTick& tick : ticks) {
            const double off_axis = std::atan(tick.distance_m / 1500.0) + radiansFromDegrees(10.0);
            CHECK(tick.column == Approx(400.0 - std::tan(off_axis) * d.focal_length_m / d.detector_pitch_m).margin(0.01));
        }
    }
}

TEST_CASE("a picture still falling shows the lines that fell by the clock's time") {
    const Type type;
    Scene scene = small("push-broom", {"instrument.samples=90"});
    Formations formations = formationsOf(scene);
    scene = with(scene, {"show.time=" + std::to_string(formations[0]->instrument().lineDone_s(6) + 1e-5) + " s"});
    REQUIRE(fallenLines(scene, *formations[0]) == 7);
    FigureRequest request;
    request.kinds = {FigureKind::picture};
    const Figure figure = makeFigures(scene, formations, request, type).at(0);
    CHECK(rasterOf(figure).versions[0]->rows == 7);
    CHECK(figure.caption.find("7 of ") != std::string::npos);
    CHECK(svgText(figure.drawing).find("newest line") != std::string::npos);
    // Before anything fell there is an empty page, and no complaint.
    const Figure empty = makeFigures(with(scene, {"show.time=0 s"}), formations, request, type).at(0);
    CHECK(std::none_of(empty.drawing.marks.begin(), empty.drawing.marks.end(), [](const Mark& m) { return std::holds_alternative<RasterPicture>(m); }));
}

TEST_CASE("a long or wide picture is made smaller by a whole number, a small one enlarged") {
    CHECK(pictureCell(602, 979).size() == 1.0);
    CHECK(pictureCell(1320, 1822).reduced == 2);
    CHECK(pictureCell(100, 100000).reduced == 72);
    CHECK(pictureCell(60, 70).enlarged == 10);
    CHECK(pictureCell(60, 300).enlarged == 3);
    for (int n = 1; n < 40000; n = 3 * n / 2 + 1) {
        CHECK(n * pictureCell(n, 10).size() <= 900.0);
        CHECK(n * pictureCell(10, n).size() <= 1400.0);
    }
}

TEST_CASE("a picture says what it is: simulated, invented, its stretch, sun, flight and scale at nadir") {
    const Type type;
    const Scene scene = small("push-broom", {"instrument.samples=90", "effect.cast_shadow=false", "flight.lean=2"});
    Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::picture};
    const Figure figure = makeFigures(scene, formations, request, type).at(0);
    for (const char* words : {"Simulated", "invented", "0.5 %", "sun at azimuth", "above datum", "true colour", "At nadir a sample covers", "Switched off: cast shadow", "lean × 2"}) {
        INFO(words);
        CHECK(figure.caption.find(words) != std::string::npos);
    }
    CHECK(figure.drawing.description.find("samples by") != std::string::npos);
    const std::string svg = svgText(figure.drawing);
    for (const char* words : {"Simulated by Linefall", "at nadir", "ground distance from the track", "starboard", "port", "north", "sunlight", "flight"}) {
        INFO(words);
        CHECK(svg.find(words) != std::string::npos);
    }
}

TEST_CASE("a difference in place of the picture: one cause alone, its colours are the core's, and it says which") {
    const Scene scene = small("whisk-broom", {"instrument.ifov=12 mrad", "sun.elevation=20 deg", "figure.what=picture", "figure.difference=cast-shadow", "show.turned=true"});
    Formations formations = formationsOf(scene);
    const Type type;
    const FigureRequest request = figureRequest(scene, formations);
    REQUIRE(request.difference == Cause::cast_shadow);
    const Figure figure = makeFigures(scene, formations, request, type).at(0);
    CHECK(figure.name == "difference-cast-shadow-whisk-broom");
    CHECK(figure.caption.find("Shown is what cast shadow does") != std::string::npos);
    // By another way: both images formed here, the last line of the one that is turned first.
    Formation with(scene, 0), without(sceneOf("slopes", "whisk-broom", {"flight.length=300 m", "instrument.ifov=12 mrad", "sun.elevation=20 deg", "effect.cast_shadow=false"}), 0);
    REQUIRE(with.formAll(1));
    REQUIRE(without.formAll(1));
    const Difference difference = differenceOf(with.image(), without.image());
    const BandChoice bands = lookOf(with.image(), "true colour", Stretch{}).bands;
    const double limit = differenceLimit(difference, bands, 0, difference.lines());
    const std::vector<std::uint8_t> last = differenceRow(difference, bands, limit, Neutral::light, difference.lines() - 1);
    const Pixels& pixels = *rasterOf(figure).versions.at(0);
    REQUIRE(pixels.columns == difference.samples());
    REQUIRE(pixels.rows == difference.lines());
    int wrong = 0;
    for (int s = 0; s < pixels.columns; ++s) {
        for (std::size_t c = 0; c < 3; ++c) wrong += pixels.values[pixels.at(pixels.columns - 1 - s, 0) + c] != last[3 * static_cast<std::size_t>(s) + c];
    }
    CHECK(wrong == 0);
    // The sign is with minus without, also when the scene has the cause switched off.
    const Scene off = switched(scene, Cause::cast_shadow, false);
    Formations dark = formationsOf(off);
    const Figure other = makeFigures(off, dark, figureRequest(off, dark), type).at(0);
    CHECK(rasterOf(other).versions.at(0)->values == pixels.values);
    // Its state makes the same request.
    CHECK(figureRequest(withRequest(scene, request, FigureKind::picture), formations).difference == Cause::cast_shadow);
}
