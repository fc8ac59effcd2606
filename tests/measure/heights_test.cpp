// Heights by shadow, relief displacement and parallax: published examples, and towers of known height measured in the counts
// of formed pictures.

#include "measure/heights.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "measure/pixel_error.h"
#include "support/effort.h"
#include "support/picks.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// About 1 m pixels from 1000 m, flying south: columns grow east, rows south.
std::string instrumentOf(const std::string& kind) {
    if (kind == "whisk-broom") return oneBand(kind, "ifov = \"1 mrad\"\nfov = \"64 deg\"\nfocal_length = \"100 mm\"");
    return oneBand(kind, "focal_length = \"100 mm\"\ndetector_pitch = \"100 um\"\nsamples = 1200" + std::string(kind == "frame-camera" ? "\nrows = 900" : ""));
}

Scene over(const std::string& place, const std::string& instrument, const Sets& sets) {
    return exposed(sceneOf(written(place), instrument,
                           bare() + Sets{"flight.height=1000 m", "flight.heading=180 deg", "flight.start_north=450 m", "flight.length=900 m"} + sets));
}

struct Tower {
    double east_m, north_m, height_m;
};
constexpr double diameter_m = 16.0;

/// Twelve towers of keyed heights in two columns east and west of the track, clear of one another's lean and shadow.
std::vector<Tower> towers(std::uint64_t seed) {
    Draws draws(seed, 3);
    std::vector<Tower> out;
    for (int i = 0; i < 6; ++i) {
        for (const double side : {-1.0, 1.0}) out.push_back({side * draws.between(200.0, 420.0), -350.0 + 140.0 * i + draws.between(-20.0, 20.0), draws.between(25.0, 80.0)});
    }
    return out;
}

std::string placeWith(const std::vector<Tower>& all) {
    std::string things;
    for (const Tower& t : all) things += tower(t.east_m, t.north_m, diameter_m, t.height_m);
    return levelPlace(things, "3 km");
}

/// Walking in the picture from one place to another, the first place where the counts pass a level: a border between pixels.
PicturePlace borderFrom(const Formation& formation, const PicturePlace& from, const PicturePlace& to, double level) {
    const Raster<std::uint16_t>& counts = formation.image().counts[0];
    const auto at = [&](const PicturePlace& p) { return counts.at(static_cast<int>(std::floor(p.sample)), static_cast<int>(std::floor(p.line))); };
    const double length = std::hypot(to.sample - from.sample, to.line - from.line);
    const bool above = at(from) > level;
    for (double along = 0.0; along <= length; along += 0.01) {
        const PicturePlace p{from.sample + along / length * (to.sample - from.sample), from.line + along / length * (to.line - from.line)};
        if ((at(p) > level) != above) return p;
    }
    throw std::runtime_error("the counts never pass the level");
}

/// How far heights err, in their own uncertainties.
struct Strays {
    double squares = 0.0;
    int measured = 0;
    void add(const Reading& height, double true_m) {
        const double z = (height.value - true_m) / height.sigma;
        CHECK(std::abs(z) < 2.5);
        squares += z * z;
        ++measured;
    }
    /// 108 of them stray as they say: the spread of the mean of so many squares is 0.114.
    void check() const {
        REQUIRE(measured == 108);
        CHECK(squares / measured > 1.0 - 4.0 * 0.114);
        CHECK(squares / measured < 1.0 + 4.0 * 0.114);
    }
};

}  // namespace

TEST_CASE("published heights from relief displacement: 72, 123 and 115 m", "[heights]") {
    // optical.md, Vertical photograph: surveying exercise (A), Wolf and Dewitt example 6-6 (M), exercise sheet (B).
    CHECK(heightFromRelief_m(7.2e-3, 0.1, 1000.0) == Approx(72.0).margin(1e-9));
    CHECK(heightFromRelief_m(0.0541, 0.1217, 535.0 - 259.0) == Approx(123.0).margin(0.5));
    CHECK(heightFromRelief_m(5.54e-3, 0.06455, 1340.0) == Approx(115.0).margin(0.05));
    // d = r h / H backwards: H 2840 m, top 130 m, r 8 cm give 3.66 mm.
    CHECK(heightFromRelief_m(3.66e-3, 0.08, 2840.0) == Approx(130.0).margin(0.18));
}

TEST_CASE("published heights from shadows: 54 ft, 10 m, 8000 m", "[heights]") {
    // optical.md, Shadow: Bemidji State University (A, 0.5 ft); worked example of solid arithmetic (A); Haby, hint 522 (A, 0.5 deg).
    CHECK(heightFromShadow_m(102.0, radiansFromDegrees(28.0)) == Approx(54.0).margin(0.5));
    CHECK(heightFromShadow_m(17.32, radiansFromDegrees(30.0)) == Approx(10.0).margin(0.003));
    CHECK(heightFromShadow_m(2000.0, radiansFromDegrees(76.0)) == Approx(8000.0).epsilon(0.02));
}

TEST_CASE("height from parallax is the law of similar triangles", "[heights]") {
    // A point h above the base, seen from two stations b apart at H: on the level of the base it appears at X H / (H - h)
    // from each nadir, so its parallax is b H / (H - h).
    for (const double h : {0.0, 10.0, 123.0, 600.0}) {
        const double H = 1500.0, b = 800.0;
        CHECK(heightFromParallax_m(b, b * H / (H - h) - b, H) == Approx(h).margin(1e-9));
    }
}

TEST_CASE("72 m and 123 m are read from formed frames, by the published distances in the picture", "[heights]") {
    // The same examples rebuilt as in tests/flight/relief_displacement_test, read by reliefHeight.
    struct Row {
        double height_m, flying_m, ground_m, r_m, d_m;
    };
    const Row row = GENERATE(Row{72.0, 1000.0, 0.0, 0.1, 7.2e-3}, Row{123.0, 535.0, 259.0, 0.1217, 0.0541});
    const double focal = 0.1524, pitch = 20e-6, above = row.flying_m - row.ground_m;
    const double near_m = row.r_m * (above - row.height_m) / focal;  // the tower's near edge on the ground
    const double radius = 0.02 * above;
    const int half = static_cast<int>(1.01 * row.r_m / pitch);
    const std::string camera = oneBand("frame-camera", "focal_length = \"152.4 mm\"\ndetector_pitch = \"20 um\"\nrows = 3\nsamples = " + std::to_string(2 * half));
    const std::string place = levelPlace(tower(near_m + radius, 0.0, 2.0 * radius, row.height_m), metres(4.0 * near_m), "20 m", metres(row.ground_m));
    Formation formation(exposed(sceneOf(written(place), camera, bare() + Sets{"flight.height=" + metres(row.flying_m), "flight.heading=180 deg",
                                                                               "flight.start_north=500 m", "flight.length=1000 m", "sun.elevation=90 deg"})), 0);
    formation.formAll();
    const double ground = formation.image().counts[0].at(half, 1);
    const PicturePlace nadir{half + 0.5, 1.5}, edge{2.0 * half - 1.0, 1.5};
    const PicturePlace base = borderFrom(formation, nadir, edge, 0.5 * ground);
    const PicturePlace top = borderFrom(formation, {base.sample + 1.0, 1.5}, edge, 2.0 * ground);
    const Reading height = reliefHeight(formation, base, top);
    REQUIRE(height.ok());
    INFO(workedText(height));
    CHECK(std::abs(height.value - row.height_m) < 2.5 * height.sigma);
    CHECK(height.sigma < 0.3);
    CHECK(height.value == Approx(row.d_m / row.r_m * above).margin(0.5));  // the published inputs
    CHECK(height.terms[0].value == Approx(row.d_m / focal * above).margin(0.5));
    CHECK(height.terms[1].value == Approx(above));
    CHECK(formulaText(height) == "h = d · H / r");
}

TEST_CASE("heights of 108 towers from relief displacement in counts stray as the pixel size says", "[heights]") {
    // Foot and top are borders between pixels: each errs by half a pixel at most, so no height may err by more than
    // sqrt(6) = 2.45 sigma, and the mean square is 1 sigma: 36 of each instrument, spread of the mean of 108 squares 0.114.
    Strays strays;
    for (const std::string kind : {"push-broom", "whisk-broom", "frame-camera"}) {
        for (const std::uint64_t seed : {1u, 2u, 3u}) {
            const std::vector<Tower> all = towers(seed);
            Formation formation(over(placeWith(all), instrumentOf(kind), {"sun.elevation=90 deg"}), 0);
            formation.formAll();
            for (const Tower& t : all) {
                const double side = t.east_m > 0.0 ? 1.0 : -1.0;
                // From well inside the tower's foot outwards, through its axis: along the line for a scanner, along the radius
                // for a frame.
                const double reach = kind == "frame-camera" ? std::hypot(t.east_m, t.north_m) : std::abs(t.east_m);
                const double east = t.east_m / reach, north = kind == "frame-camera" ? t.north_m / reach : 0.0;
                const auto on = [&](double r, double z) { return placeOf(formation, {east * r, kind == "frame-camera" ? north * r : t.north_m, z}); };
                const PicturePlace start = on(reach - diameter_m, 0.0);
                const PicturePlace end = on(reach, 1.1 * t.height_m);
                const double ground = formation.image().counts[0].at(static_cast<int>(start.sample), static_cast<int>(start.line));
                const PicturePlace base = borderFrom(formation, start, end, 0.5 * ground);
                const PicturePlace top = borderFrom(formation, {base.sample + side, base.line + (end.line - base.line) / std::abs(end.sample - base.sample)}, end, 2.0 * ground);
                const Reading height = reliefHeight(formation, base, top);
                INFO(kind << ", " << t.height_m << " m: " << workedText(height));
                REQUIRE(height.ok());
                CHECK(height.remarks.empty());
                // Oblique radii cross the borders of columns and of rows, which the sum of both axes allows for.
                strays.add(height, t.height_m);
            }
        }
    }
    strays.check();
}

TEST_CASE("heights of 108 towers from shadows in counts stray as the pixel size says", "[heights]") {
    // The sun stands in the east, 40 degrees up: shadows fall west along the lines. The tip is found in counts, the foot is the
    // pixel that holds it.
    Strays strays;
    for (const std::string kind : {"push-broom", "whisk-broom", "frame-camera"}) {
        for (const std::uint64_t seed : {1u, 2u, 3u}) {
            const std::vector<Tower> all = towers(seed);
            Formation formation(over(placeWith(all), instrumentOf(kind), {"sun.azimuth=90 deg", "sun.elevation=40 deg"}), 0);
            formation.formAll();
            for (const Tower& t : all) {
                const double west = t.east_m - 0.5 * diameter_m;
                const double length = t.height_m / std::tan(radiansFromDegrees(40.0));
                const PicturePlace foot = placeOf(formation, {west, t.north_m, 0.0});
                const PicturePlace inside = placeOf(formation, {west - length + 5.0, t.north_m, 0.0});
                const PicturePlace outside = placeOf(formation, {west - length - 10.0, t.north_m, 0.0});
                const double ground = formation.image().counts[0].at(static_cast<int>(outside.sample), static_cast<int>(outside.line));
                const PicturePlace tip = borderFrom(formation, inside, outside, 0.5 * ground);
                const Reading height = shadowHeight(formation, picked(foot), tip);
                INFO(kind << ", " << t.height_m << " m: " << workedText(height));
                REQUIRE(height.ok());
                strays.add(height, t.height_m);
            }
        }
    }
    strays.check();
}

TEST_CASE("a pair of overlapping frames gives the height of towers by parallax", "[heights]") {
    // Tops are white discs on black towers: their middle in counts is the top's centre in both frames. The base is any mark
    // on the level ground: the pixel that holds the tower's centre at ground level.
    const std::vector<Tower> all{{150.0, 60.0, 70.0}, {-120.0, -40.0, 45.0}, {60.0, -90.0, 25.0}};
    const std::string place = placeWith(all);
    const Scene scene = over(place, instrumentOf("frame-camera"), {"sun.elevation=90 deg"});
    Formation one(with(scene, {"instrument.station=35 %"}), 0), other(with(scene, {"instrument.station=65 %"}), 0);
    one.formAll();
    other.formAll();
    for (const Tower& t : all) {
        const auto middle = [&](const Formation& formation) {
            const PicturePlace about = placeOf(formation, {t.east_m, t.north_m, t.height_m});
            double s = 0.0, l = 0.0, n = 0.0;
            for (int line = static_cast<int>(about.line) - 15; line < static_cast<int>(about.line) + 15; ++line) {
                for (int sample = static_cast<int>(about.sample) - 15; sample < static_cast<int>(about.sample) + 15; ++sample) {
                    if (formation.image().counts[0].at(sample, line) < 20000) continue;
                    s += sample + 0.5;
                    l += line + 0.5;
                    n += 1.0;
                }
            }
            REQUIRE(n > 100.0);
            return PicturePlace{s / n, l / n};
        };
        const auto foot = [&](const Formation& formation) { return picked(placeOf(formation, {t.east_m, t.north_m, 0.0})); };
        const StereoView first{one, foot(one), middle(one)}, second{other, foot(other), middle(other)};
        const Reading height = parallaxHeight(first, second);
        INFO(workedText(height));
        REQUIRE(height.ok());
        CHECK(height.terms[2].value == Approx(270.0));  // 30 % of 900 m
        CHECK(std::abs(height.value - t.height_m) < 2.5 * height.sigma);
        CHECK(parallaxHeight(second, first).value == Approx(height.value).epsilon(1e-9));
    }
    // Exaggerated lean changes the pictures, not the height.
    const Formation far_one(with(scene, {"instrument.station=35 %", "flight.lean=4"}), 0), far_other(with(scene, {"instrument.station=65 %", "flight.lean=4"}), 0);
    const auto view = [](const Formation& f) { return StereoView{f, placeOf(f, {90.0, 20.0, 0.0}), placeOf(f, {90.0, 20.0, 35.0})}; };
    CHECK(parallaxHeight(view(far_one), view(far_other)).value == Approx(35.0).epsilon(1e-3));
    CHECK_FALSE(parallaxHeight({one, {1, 1}, {2, 2}}, {one, {1, 1}, {2, 2}}).ok());
}

TEST_CASE("tilt, crab, raised ground and exaggerated lean change nothing in a height read exactly", "[heights]") {
    // Places worked out exactly from the geometry, so what is left is the formula: to a thousandth of the height.
    const std::string kind = GENERATE("push-broom", "whisk-broom", "frame-camera");
    const Sets disturbed = GENERATE(Sets{}, Sets{"flight.roll=4 deg", "flight.pitch=3 deg", "flight.yaw=-6 deg"}, Sets{"flight.lean=3"}, Sets{"flight.wind_speed=12 m/s", "flight.wind_from=80 deg"});
    const double ground = GENERATE(0.0, 180.0);
    const Formation formation(over(levelPlace("", "4 km", "10 m", metres(ground)), instrumentOf(kind), disturbed + Sets{"sun.azimuth=150 deg", "sun.elevation=35 deg"}), 0);
    const double height = 40.0;
    const Vec3 foot{170.0, -30.0, ground};
    const double length = height / std::tan(radiansFromDegrees(35.0));
    const Vec3 tip = foot + length * Vec3{-std::sin(radiansFromDegrees(150.0)), -std::cos(radiansFromDegrees(150.0)), 0.0};
    const PicturePlace base = placeOf(formation, foot);
    INFO(kind << ", ground " << ground);
    const Reading relief = reliefHeight(formation, base, placeOf(formation, foot + Vec3{0.0, 0.0, height}));
    REQUIRE(relief.ok());
    CHECK(relief.value == Approx(height).epsilon(1e-3));
    const Reading shadow = shadowHeight(formation, base, placeOf(formation, tip));
    REQUIRE(shadow.ok());
    CHECK(shadow.value == Approx(height).epsilon(1e-3));
    CHECK(shadow.remarks.empty());
}

TEST_CASE("the stated uncertainty of a height is the spread over places drawn in their pixels, within 3 percent", "[heights]") {
    // 20 000 draws: the spread of the spread is below 0.5 %.
    const std::string kind = GENERATE("push-broom", "whisk-broom", "frame-camera");
    const Formation formation(over(levelPlace("", "3 km"), instrumentOf(kind), {"sun.azimuth=150 deg", "sun.elevation=35 deg"}), 0);
    const std::array base_top{picked(placeOf(formation, {260.0, -90.0, 0.0})), picked(placeOf(formation, {260.0, -90.0, 50.0}))};
    const std::array base_tip{base_top[0], picked(placeOf(formation, {260.0 - 35.7, -90.0 + 61.8, 0.0}))};
    const int draws = effort(20000);
    const double allowed = draws == 20000 ? 0.03 : 0.25;
    const auto check = [&](const Reading& reading, const std::array<PicturePlace, 2>& places, const auto& value) {
        REQUIRE(reading.ok());
        INFO(kind << ": " << workedText(reading));
        CHECK(reading.sigma == Approx(drawnSpread(places, draws, 5, [&](std::span<const PicturePlace> p) -> std::optional<double> { return value(p[0], p[1]); })).epsilon(allowed));
    };
    check(reliefHeight(formation, base_top[0], base_top[1]), base_top, [&](const PicturePlace& a, const PicturePlace& b) { return reliefHeight(formation, a, b).value; });
    check(shadowHeight(formation, base_tip[0], base_tip[1]), base_tip, [&](const PicturePlace& a, const PicturePlace& b) { return shadowHeight(formation, a, b).value; });
}

TEST_CASE("the stated uncertainty of a parallax height is the spread over places drawn in both frames, within 3 percent", "[heights]") {
    const Scene scene = over(levelPlace("", "3 km"), instrumentOf("frame-camera"), {});
    const Formation one(with(scene, {"instrument.station=35 %"}), 0), other(with(scene, {"instrument.station=65 %"}), 0);
    const Vec3 foot{140.0, 30.0, 0.0}, top{140.0, 30.0, 60.0};
    const std::array places{picked(placeOf(one, foot)), picked(placeOf(one, top)), picked(placeOf(other, foot)), picked(placeOf(other, top))};
    const auto reading = [&](std::span<const PicturePlace> p) { return parallaxHeight({one, p[0], p[1]}, {other, p[2], p[3]}); };
    const int draws = effort(20000);
    const Reading stated = reading(places);
    REQUIRE(stated.ok());
    CHECK(stated.sigma == Approx(drawnSpread(places, draws, 9, [&](std::span<const PicturePlace> p) -> std::optional<double> { return reading(p).value; })).epsilon(draws == 20000 ? 0.03 : 0.25));
}

TEST_CASE("a line that can be no shadow or no lean says so, and a slanted one is remarked on", "[heights]") {
    const Scene scene = over(levelPlace("", "3 km"), instrumentOf("frame-camera"), {"sun.azimuth=90 deg", "sun.elevation=40 deg"});
    const auto formed = [&](const Sets& sets) { return Formation(with(scene, sets), 0); };
    const Formation formation = formed({});
    const PicturePlace base{800.5, 450.5};
    // Shadows fall west, tops lean east.
    CHECK(impliedHeights(formation, base, {700.5, 450.5}).shadow.ok());
    CHECK(impliedHeights(formation, base, {700.5, 450.5}).relief.missing == "tops lean away from the nadir point: this line runs towards it");
    CHECK(impliedHeights(formation, base, {810.5, 450.5}).shadow.missing == "shadows fall towards 270 deg: this line runs the other way");
    CHECK(impliedHeights(formation, base, {810.5, 450.5}).relief.ok());
    const Reading slanted = shadowHeight(formation, base, {700.5, 500.5});
    REQUIRE(slanted.remarks.size() == 1);
    CHECK(slanted.remarks[0] == "the line runs 27 deg off the direction of shadows: only its part along it is used");
    CHECK(slanted.value == Approx(shadowHeight(formation, base, {700.5, 450.5}).value).epsilon(1e-6));
    CHECK(shadowHeight(formed({"sun.elevation=-5 deg"}), base, {700.5, 450.5}).missing == "the sun is down");
    CHECK(shadowHeight(formed({"sun.elevation=90 deg"}), base, {700.5, 450.5}).missing == "the sun stands overhead: there is no shadow");
    CHECK(reliefHeight(formed({"flight.lean=0"}), base, {810.5, 450.5}).missing == "relief displacement is switched off");
    CHECK(reliefHeight(formed({"effect.perspective=false"}), base, {810.5, 450.5}).missing == "without perspective nothing leans away from nadir");
    const Reading off = shadowHeight(formed({"effect.cast_shadow=false"}), base, {700.5, 450.5});
    REQUIRE(off.remarks.size() == 1);
    CHECK(off.remarks[0] == "cast shadows are switched off");
}
