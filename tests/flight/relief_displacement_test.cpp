// Published examples of the vertical photograph, rebuilt: a camera of the stated flying height sees a tower of the
// published height at the stated distance from the nadir; base and top are found in the counts of the formed frame, and
// height, flying height and scale are worked out from what was measured there, with d = r h / H.
// Towers have black sides and white tops on grey ground: from the nadir outwards the counts fall at the foot and rise at
// the top's near edge, both at the same ground distance.

#include <catch2/catch.hpp>
#include <cmath>

#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

enum class Side { east, west, south, north };

struct Measured {
    double foot_m, top_m;  ///< distances from the nadir in the focal plane
    [[nodiscard]] double displacement_m() const { return top_m - foot_m; }
};

constexpr double focal_m = 0.1524;

/// The frame's middle row or column, long enough for `reach_m` on the focal plane; flying south, so north is up.
Image frameOver(const std::string& place, Side side, double flying_height_m, double reach_m, double pitch, double focal = focal_m) {
    const int pixels = 2 * static_cast<int>(std::ceil(reach_m / pitch));
    REQUIRE(pixels <= 65536);
    const bool across = side == Side::east || side == Side::west;
    const std::string keys = "focal_length = \"" + metres(focal) + "\"\ndetector_pitch = \"" + std::to_string(pitch * 1e6) + " um\"\nsamples = " +
                             std::to_string(across ? pixels : 1) + "\nrows = " + std::to_string(across ? 1 : pixels) + "\n";
    return imageOf(exposed(sceneOf(written(place), oneBand("frame-camera", keys),
                           bare() + Sets{"flight.height=" + metres(flying_height_m), "flight.start_north=1000 m", "flight.length=2000 m",
                                         "sun.elevation=90 deg"})));
}

/// A tower whose near edge stands so that its top appears at `top_m` from the nadir; measured in counts.
Measured towerInFrame(Side side, double height_m, double flying_height_m, double ground_height_m, double top_m, double pitch_m) {
    const double above_ground = flying_height_m - ground_height_m;
    const double radius = 0.02 * above_ground;
    const double away = top_m * (above_ground - height_m) / focal_m + radius;
    const double east = side == Side::east ? away : side == Side::west ? -away : 0.0;
    const double north = side == Side::north ? away : side == Side::south ? -away : 0.0;
    const Image image = frameOver(levelPlace(tower(east, north, 2.0 * radius, height_m), metres(3.0 * away), "20 m", metres(ground_height_m)),
                                  side, flying_height_m, 1.01 * top_m, pitch_m);
    const bool across = side == Side::east || side == Side::west;
    const auto counts = across ? lineOf(image, 0) : columnOf(image, 0);
    const int middle = static_cast<int>(counts.size()) / 2;
    const double ground = counts[static_cast<std::size_t>(middle)];
    REQUIRE(ground > 100.0);
    const int step = side == Side::east || side == Side::south ? 1 : -1;  // column 0 is west, row 0 is north
    const double foot = edgeBetween(counts, middle, step, 0.5 * ground);
    const double top = edgeBetween(counts, static_cast<int>(foot) + 2 * step, step, 2.0 * ground);
    return {std::abs(foot - middle) * pitch_m, std::abs(top - middle) * pitch_m};
}

}  // namespace

TEST_CASE("H 1000 m, r 10 cm, d 7.2 mm: the tower is 72 m high, and the flying height 1000 m", "[relief]") {
    // Surveying exercise (optical.md, Vertical photograph, A); tolerance 0.5 m.
    const Side side = GENERATE(Side::east, Side::west);
    constexpr double pitch_m = 4e-6;
    const Measured m = towerInFrame(side, 72.0, 1000.0, 0.0, 0.1, pitch_m);
    CHECK(m.top_m == Approx(0.1).margin(2 * pitch_m));
    CHECK(m.displacement_m() == Approx(7.2e-3).margin(2 * pitch_m));
    CHECK(m.displacement_m() * 1000.0 / m.top_m == Approx(72.0).margin(0.5));
    CHECK(m.top_m * 72.0 / m.displacement_m() == Approx(1000.0).margin(1.5));
}

TEST_CASE("535 m above the sea over a base at 259 m, r 121.7 mm, d 54.1 mm: the tower is 123 m high", "[relief]") {
    // Wolf and Dewitt, Elements of Photogrammetry, example 6-6 (optical.md, M); tolerance 0.5 m.
    const Measured m = towerInFrame(GENERATE(Side::north, Side::east), 123.0, 535.0, 259.0, 0.1217, 4e-6);
    CHECK(m.displacement_m() == Approx(0.0541).margin(0.2e-3));  // 54.1 mm gives 122.7 m, printed as 123
    CHECK(m.displacement_m() * (535.0 - 259.0) / m.top_m == Approx(123.0).margin(0.5));
}

TEST_CASE("H 1340 m, d 5.54 mm, r 64.55 mm: the tower is 115 m high", "[relief]") {
    // Exercise sheet (optical.md, B); tolerance 0.05 m.
    constexpr double pitch_m = 2e-6;
    const Measured m = towerInFrame(Side::south, 115.0, 1340.0, 0.0, 0.06455, pitch_m);
    CHECK(m.displacement_m() == Approx(5.54e-3).margin(2 * pitch_m));
    CHECK(m.displacement_m() * 1340.0 / m.top_m == Approx(115.0).margin(0.05));
}

TEST_CASE("H 2840 m, top 130 m, r 8 cm: the displacement is 3.66 mm", "[relief]") {
    // The same exercise sheet (optical.md, B); tolerance 0.005 mm.
    const Measured m = towerInFrame(Side::west, 130.0, 2840.0, 0.0, 0.08, 2.5e-6);
    CHECK(m.displacement_m() == Approx(3.66e-3).margin(5e-6));
    CHECK(m.displacement_m() * 2840.0 / m.top_m == Approx(130.0).margin(0.15));
}

TEST_CASE("a 15 cm camera 300 m up makes pictures at 1 : 2000", "[relief]") {
    // Surveying exercise (optical.md, A): a line of 100 m on the ground is 5 cm in the picture.
    const Image image = frameOver(levelPlace(paint("solid", 0, 0, 40, 100, "material = \"grey80\""), "400 m"), Side::east, 300.0, 0.06, 2e-6, 0.15);
    const auto counts = lineOf(image, 0);
    const int middle = image.samples() / 2;
    const double level = 0.5 * counts[static_cast<std::size_t>(middle)];
    const double length_m = (edgeBetween(counts, middle, 1, level) - edgeBetween(counts, middle, -1, level)) * 2e-6;
    CHECK(100.0 / length_m == Approx(2000.0).margin(0.2));
}

TEST_CASE("f 152.4 mm at 3000 m over ground at 610, 310 and 460 m: 1 : 15 700, 1 : 17 700, 1 : 16 700", "[relief]") {
    // Wolf and Dewitt, example 6-2 (optical.md, M); three figures. A panel of 1000 m is measured in the frame.
    struct Row {
        double ground_m, scale;
    };
    const Row row = GENERATE(Row{610.0, 15700.0}, Row{310.0, 17700.0}, Row{460.0, 16700.0});
    const std::string place = levelPlace(paint("solid", 0, 0, 400, 1000, "material = \"grey80\""), "2 km", "20 m", metres(row.ground_m));
    const Image image = frameOver(place, Side::east, 3000.0, 0.05, 2e-6);
    const auto counts = lineOf(image, 0);
    const int middle = image.samples() / 2;
    const double level = 0.5 * counts[static_cast<std::size_t>(middle)];
    const double length_m = (edgeBetween(counts, middle, 1, level) - edgeBetween(counts, middle, -1, level)) * 2e-6;
    CHECK(1000.0 / length_m == Approx(row.scale).margin(50.0));
    CHECK(1000.0 / length_m == Approx((3000.0 - row.ground_m) / 0.1524).margin(2.0));
}

TEST_CASE("every tower of the proving ground is as high as its place file says, measured in the frame camera's picture", "[relief]") {
    // Through kept looks: the lowest and the highest point that the frame shows of a tower, and their places in the picture.
    Formation formation(sceneOf("proving-ground", "frame-camera", bare()), 0);
    const Ground& ground = *formation.place().ground;
    const Derived& d = formation.instrument().derived();
    const double height_m = formation.motion().height_m();
    const double focal_pixels = d.focal_length_m / d.detector_pitch_m;
    REQUIRE(ground.objects().size() >= 9);
    int measured = 0;
    for (const Object& object : ground.objects()) {
        const double away = std::hypot(object.east_m, object.north_m);
        if (away < 1.0) continue;  // the tower at the nadir does not lean
        // Walk outwards along the ray through the tower's axis; flying south, columns grow east and rows south.
        double foot = -1.0, top = -1.0;
        for (double r = focal_pixels * (away - 12.0) / height_m; r < focal_pixels * (away + 12.0) / (height_m - object.height_m); r += 0.5) {
            const int sample = static_cast<int>(0.5 * d.samples + r * object.east_m / away);
            const int line = static_cast<int>(0.5 * d.lines - r * object.north_m / away);
            const Why why = formation.why(line, sample);
            if (why.object != object.name) continue;
            if (foot < 0.0) foot = r;
            if (top < 0.0 && why.hit.normal.z > 0.5) top = r;
        }
        INFO(object.name);
        REQUIRE(foot > 0.0);
        REQUIRE(top > foot);
        // One pixel of the two readings is this much height.
        const double pixel_m = height_m / foot;
        CHECK((top - foot) * height_m / top == Approx(object.height_m).margin(1.5 * pixel_m));
        ++measured;
    }
    CHECK(measured >= 8);
}

TEST_CASE("with relief switched off, base and top of every tower fall on the same pixel, in every instrument's picture", "[relief]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera");
    const std::string attitude = GENERATE("flight.roll=0 deg", "flight.roll=5 deg");
    // One look a tower: the pixel whose look passes its axis at datum meets the top, whether the tower is low or high.
    Formation formation(sceneOf("proving-ground", preset, bare() + Sets{"effect.relief=false", attitude}), 0);
    Formation flown(sceneOf("proving-ground", preset, bare() + Sets{attitude}), 0);
    const Instrument& instrument = formation.instrument();
    int seen = 0, leaning = 0;
    for (int line = 0; line < instrument.lines(); line += 3) {
        for (int sample = 0; sample < instrument.samples(); sample += 3) {
            const Ray straight = lookRay(instrument, formation.motion(), {}, formation.manner(), line, sample);
            REQUIRE((straight.direction.x == 0.0 && straight.direction.y == 0.0));
            const GroundHit hit = formation.place().ground->intersect(straight);
            if (hit.meets != Meets::object) continue;
            const Ray slanted = lookRay(instrument, flown.motion(), {}, flown.manner(), line, sample);
            const Vec3 datum = slanted.at(-slanted.origin_m.z / slanted.direction.z);
            REQUIRE(std::hypot(hit.point_m.x - datum.x, hit.point_m.y - datum.y) < 1e-6);  // at its true place, whatever its height
            ++seen;
            const Vec3 leans = flown.place().ground->intersect(slanted).point_m;
            if (std::hypot(leans.x - datum.x, leans.y - datum.y) > 1.0) ++leaning;
        }
    }
    CHECK(seen > 10);
    CHECK(leaning > 0);
}

TEST_CASE("without perspective a level flight sees every tower from straight above: the same picture as without relief", "[relief]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom");
    const Scene parallel = sceneOf("proving-ground", preset, bare() + Sets{"effect.perspective=false", "effect.sweep_motion=false"});
    const Image image = imageOf(parallel), both = imageOf(with(parallel, {"effect.relief=false"}));
    int different = 0;
    for (int l = 0; l < image.lines(); ++l) {
        for (int s = 0; s < image.samples(); ++s) different += image.counts[0].at(s, l) != both.counts[0].at(s, l) ? 1 : 0;
    }
    // A place that is rounded otherwise may fall to the other side of an edge.
    CHECK(different * 10000 <= image.lines() * image.samples());
}
