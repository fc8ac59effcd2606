// Things that move while the image is taken, measured in formed images. Expected lengths by hand: a push broom at v over a
// train of length L at u needs L / (v - u) to pass it when both go the same way, and in that time gathers L v / (v - u) of rows.
#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "flight/lit_ground.h"
#include "flight/locate.h"
#include "flight/walk_text.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

std::string number(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.15g", value);
    return text;
}

/// A white box `length_m` long to the north and 10 m wide, 4 m high.
std::string train(double east, double north, double length_m, double speed_m_s, double track_deg) {
    std::string text = "[[object]]\nname = \"train\"\nshape = \"box\"\neast = \"" + number(east) + " m\"\nnorth = \"" + number(north) + " m\"\nlength = \"" +
                       number(length_m) + " m\"\nwidth = \"10 m\"\nheight = \"4 m\"\nmaterial = \"white\"\n";
    if (speed_m_s > 0.0) text += "speed = \"" + number(speed_m_s) + " m/s\"\ntrack = \"" + number(track_deg) + " deg\"\n";
    return text;
}

constexpr int columns = 121;

/// 1000 m high, northwards at 60 m/s from 600 m south of the middle; pixels of 1 m. Column 60 is the nadir; east is column 0.
Scene flownOver(const std::string& things, const std::string& kind = "push-broom", const Sets& more = {}) {
    const std::string keys = "focal_length = \"100 mm\"\ndetector_pitch = \"100 um\"\nsamples = 121" + std::string(kind == "frame-camera" ? "\nrows = 1000" : "");
    return exposed(sceneOf(written(levelPlace(things, "4 km", "20 m")), oneBand(kind, keys),
                           bare() + Sets{"flight.height=1000 m", "flight.speed=60 m/s", "flight.heading=0 deg", "flight.start_east=0 m", "flight.start_north=-600 m",
                                         "flight.length=1200 m", "sun.azimuth=90 deg", "sun.elevation=90 deg"} + more));
}

int rowsBrighter(const Image& image, int column, int than) {
    int rows = 0;
    for (int line = 0; line < image.lines(); ++line) rows += image.counts[0].at(column, line) > than ? 1 : 0;
    return rows;
}

constexpr int between_ground_and_white = 20000;  // the ground is written as 8000 and white as 40000

}  // namespace

TEST_CASE("a train of 180 m at 20 m/s under a push broom at 60 m/s is 270 m long with it and 135 m against it", "[moving]") {
    struct Case {
        double speed, track, north, expected;
    };
    const Case c = GENERATE(Case{0.0, 0.0, 0.0, 180.0}, Case{20.0, 0.0, -250.0, 270.0}, Case{20.0, 180.0, 250.0, 135.0});
    const Scene scene = flownOver(train(0.0, c.north, 180.0, c.speed, c.track));
    Formation formation(scene, 0);
    formation.formAll();
    const double row_m = 60.0 * formation.instrument().derived().line_period_s;
    REQUIRE(row_m == Approx(1.0));
    CHECK(rowsBrighter(formation.image(), columns / 2, between_ground_and_white) * row_m == Approx(c.expected).epsilon(0.0).margin(1.5));
    CHECK(rowsBrighter(formation.image(), 10, between_ground_and_white) == 0);
}

TEST_CASE("a train that runs across the track is sheared by its speed over the push broom's", "[moving]") {
    const Scene scene = flownOver(train(-200.0, 0.0, 180.0, 20.0, 90.0));
    const Image image = imageOf(scene);
    const auto middleOf = [&](int line) {
        double sum = 0.0, weight = 0.0;
        for (int s = 0; s < image.samples(); ++s) {
            if (image.counts[0].at(s, line) > between_ground_and_white) {
                sum += s;
                weight += 1.0;
            }
        }
        REQUIRE(weight > 8.0);
        return sum / weight;
    };
    // Rows 510 to 690 pass over it; column 0 is starboard, east: 20 m east a second is a third of a column a row.
    CHECK(middleOf(520) - middleOf(670) == Approx(150.0 * 20.0 / 60.0).margin(1.0));
    CHECK(rowsBrighter(image, columns / 2, between_ground_and_white) < 60);  // no column sees its whole length
}

TEST_CASE("a frame camera sees a moving train as long as it is, where it stands when the shutter opens", "[moving]") {
    const Scene scene = flownOver(train(0.0, -40.0, 180.0, 20.0, 0.0), "frame-camera");
    Formation formation(scene, 0);
    formation.formAll();
    const Image& image = formation.image();
    CHECK(rowsBrighter(image, columns / 2, between_ground_and_white) == Approx(180.0).margin(2.0));
    int first = 0;
    while (image.counts[0].at(columns / 2, first) < between_ground_and_white) ++first;
    const double time = formation.instrument().lineTime_s(0);
    const double camera = formation.motion().positionAt(time).y, rear = -40.0 + 20.0 * time - 90.0;
    REQUIRE(time > 1.0);
    CHECK(first == Approx(500.0 + (rear - camera)).margin(2.0));
}

TEST_CASE("the shadow of a moving train lies beside it in every row, as wide as that of a standing one", "[moving]") {
    const Sets light{"sun.azimuth=270 deg", "sun.elevation=12 deg", "effect.skylight=false"};
    const auto shades = [&](const std::string& thing) {
        const Image image = imageOf(flownOver(thing, "push-broom", light));
        const int ground = image.counts[0].at(5, 0);
        struct {
            std::vector<std::pair<int, int>> rows;  // dark pixels east and west of the train, where it is seen
            int elsewhere = 0;
        } out;
        for (int line = 0; line < image.lines(); ++line) {
            const bool seen = image.counts[0].at(columns / 2, line) != ground;
            std::pair<int, int> dark{0, 0};
            for (int s = 0; s < image.samples(); ++s) {
                if (image.counts[0].at(s, line) < ground / 2) ++(s < columns / 2 ? dark.first : dark.second);
            }
            if (seen) out.rows.push_back(dark);
            else out.elsewhere += dark.first + dark.second;
        }
        return out;
    };
    const auto still = shades(train(0.0, 0.0, 180.0, 0.0, 0.0)), with = shades(train(0.0, -250.0, 180.0, 20.0, 0.0)), against = shades(train(0.0, 250.0, 180.0, 20.0, 180.0));
    REQUIRE(still.rows.size() == 180);
    const auto expected = still.rows[90];
    CHECK(expected.first == Approx(4.0 / std::tan(radiansFromDegrees(12.0))).margin(1.1));
    CHECK(expected.second == 0);
    CHECK(with.rows.size() == Approx(270).margin(1.5));
    CHECK(against.rows.size() == Approx(135).margin(1.5));
    for (const auto* run : {&with, &against}) {
        for (std::size_t i = 2; i + 2 < run->rows.size(); ++i) CHECK(run->rows[i] == expected);
        CHECK(run->elsewhere <= 2 * expected.first);  // of an end's row that is no more than touched
    }
}

namespace {

/// Broken ground, things that stand and things that move; `at_s` holds the latter still where they are at that time.
std::string busyPlace(std::optional<double> at_s = {}) {
    std::string text = tower(40, 20, 20, 25) + tower(-60, -50, 24, 18) + "[[terrain.landform]]\nkind = \"cone\"\neast = \"-90 m\"\nnorth = \"40 m\"\nheight = \"30 m\"\nradius = \"100 m\"\n";
    const char* shapes[] = {"box", "gable", "wall", "pyramid"};
    for (int i = 0; i < 12; ++i) {
        const double speed = 2.0 + 1.7 * i, track = 29.0 * i, east = -110.0 + 19.0 * i, north = 90.0 - 31.0 * (i % 7);
        const double gone = speed * at_s.value_or(0.0), a = radiansFromDegrees(track);
        text += "[[object]]\nname = \"mover " + std::to_string(i) + "\"\nshape = \"" + shapes[i % 4] + "\"\neast = \"" + number(east + gone * std::sin(a)) + " m\"\nnorth = \"" +
                number(north + gone * std::cos(a)) + " m\"\nlength = \"30 m\"\nwidth = \"14 m\"\nheight = \"" + std::to_string(6 + 2 * i) + " m\"\nheading = \"" +
                number(17.0 * i) + " deg\"\nmaterial = \"" + (i % 2 == 0 ? "white" : "grey5") + "\"\nsides = \"grey60\"\n";
        if (!at_s) text += "speed = \"" + number(speed) + " m/s\"\ntrack = \"" + number(track) + " deg\"\n";
    }
    return written(levelPlace(text, "600 m", "8 m"));
}

const std::vector<std::pair<std::string, std::string>>& busyKinds() {
    static const std::vector<std::pair<std::string, std::string>> all{
        {"whisk-broom", "ifov = \"10 mrad\"\nfov = \"60 deg\"\nfocal_length = \"20 mm\"\ndetectors = 3\nsweep = \"two-way\"\nf_number = 11"},
        {"push-broom", "focal_length = \"5 mm\"\ndetector_pitch = \"50 um\"\nsamples = 100\nf_number = 32"},
        {"frame-camera", "focal_length = \"5 mm\"\ndetector_pitch = \"50 um\"\nsamples = 100\nrows = 80\nexposure = \"10 ms\"\nf_number = 16"}};
    return all;
}

Scene busyScene(const std::pair<std::string, std::string>& kind, const Sets& more = {}, std::optional<double> at_s = {}) {
    return sceneOf(busyPlace(at_s), oneBand(kind.first, kind.second),
                   Sets{"flight.height=400 m", "flight.start_north=120 m", "flight.length=240 m", "flight.roll_swing=2 deg", "flight.rough_air=0.5 deg",
                        "instrument.full_well=200000 e", "sun.azimuth=230 deg", "sun.elevation=30 deg"} + more);
}

bool same(const Image& a, const Image& b) { return a.counts == b.counts && a.sky == b.sky; }

}  // namespace

TEST_CASE("with moving things the image is the same on any number of threads, and lit again as formed anew", "[moving]") {
    const auto& kind = GENERATE(from_range(busyKinds()));
    const Sets several{"quality.contributions=3"};
    const Scene scene = busyScene(kind, several);
    Formation kept(scene, 0);
    kept.formAll(1);
    CHECK(same(imageOf(scene, 3), kept.image()));
    CHECK_FALSE(same(imageOf(busyScene(kind, several, 0.0), 1), kept.image()));  // they do move
    for (const Sets& light : {Sets{"sun.azimuth=80 deg"}, Sets{"sun.azimuth=80 deg", "sun.disc=true"}, Sets{"sun.moves=false", "effect.cast_shadow=false"}}) {
        const Scene next = busyScene(kind, several + light);
        kept.update(with(scene, light));
        kept.formAll();
        CHECK(same(kept.image(), imageOf(next)));
    }
}

TEST_CASE("a pixel is that of a place in which all stands still where it is when the pixel looks", "[moving]") {
    const auto& kind = GENERATE(from_range(busyKinds()));
    const std::string disc = GENERATE("false", "true"), sweep_motion = GENERATE("false", "true");
    const Sets quiet = bare() + Sets{"sun.disc=" + disc, "effect.sweep_motion=" + sweep_motion};
    Formation moving(busyScene(kind, quiet), 0);
    moving.formAll();
    int differs_from_start = 0, movers = 0;
    Formation at_start(busyScene(kind, quiet, 0.0), 0);
    for (int i = 0; i < 12; ++i) {
        const int line = (2 * i + 1) * moving.lines() / 24, sample = (i * 37 + 11) % moving.samples();
        const Why own = moving.why(line, sample);
        Formation frozen(busyScene(kind, quiet, own.time_s), 0);
        const int lines_alike = kind.first == "whisk-broom" && sweep_motion == "true" ? 1 : moving.samples();
        for (int s = lines_alike == 1 ? sample : 0; s < (lines_alike == 1 ? sample + 1 : moving.samples()); s += 3) {
            const Why a = moving.why(line, s), b = frozen.why(line, s);
            INFO(line << " " << s);
            CHECK(std::abs(a.counts[0] - b.counts[0]) <= 1);
            CHECK(a.counts[0] == moving.image().counts[0].at(s, line));
            CHECK(a.object == b.object);
            CHECK(a.blocked_by == b.blocked_by);
            CHECK(a.moving.has_value() == (a.object.rfind("mover", 0) == 0));
            if (a.hit.meets != Meets::sky) CHECK(glm::length(a.hit.point_m - b.hit.point_m) < 1e-6);
            movers += a.moving ? 1 : 0;
            differs_from_start += at_start.why(line, s).counts[0] != b.counts[0] ? 1 : 0;
        }
    }
    if (kind.first != "whisk-broom") {
        CHECK(movers > 10);
        CHECK(differs_from_start > 10);
    }
}

TEST_CASE("why a pixel tells that its object moves, and a point is hidden by what stands there at the time", "[moving]") {
    const Scene scene = flownOver(train(0.0, -250.0, 180.0, 20.0, 0.0));
    Formation formation(scene, 0);
    formation.formAll();
    int line = 0;
    while (formation.image().counts[0].at(columns / 2, line) < between_ground_and_white) ++line;
    const Why why = formation.why(line + 20, columns / 2);
    CHECK(why.object == "train");
    REQUIRE(why.moving);
    CHECK(why.moving->speed_m_s == 20.0);
    CHECK(walkText({"place", "push broom"}, why, formation, {0}).find("it moves at 20 m/s towards 0") != std::string::npos);
    // The platform passes over north = 60 t - 600; the train covers 20 t - 340 to 20 t - 160: rows 390 to 660.
    CHECK(line == Approx(390.0).margin(1.5));
    const Locator locator(scene, 0);
    const auto seen = [&](double north) { return locator.seen({0.0, north, 0.0}); };
    for (const auto& [north, hidden] : {std::pair{-250.0, false}, std::pair{-200.0, true}, std::pair{-100.0, true}, std::pair{50.0, true}, std::pair{100.0, false}}) {
        INFO(north);
        const auto at = seen(north);
        REQUIRE(at);
        CHECK(at->visible == !hidden);
        if (hidden) CHECK(at->hidden_by == "train");
    }
}

TEST_CASE("the map of lit ground leaves moving things out unless it is told a time", "[moving]") {
    const Scene scene = flownOver(train(0.0, 0.0, 180.0, 20.0, 90.0), "push-broom", {"sun.elevation=12 deg", "effect.skylight=false"});
    const Scene empty = flownOver("", "push-broom", {"sun.elevation=12 deg", "effect.skylight=false"});
    MapRequest request;
    request.cell_m = 2.0;
    request.columns = request.rows = 200;
    const std::vector<Band> bands{scene.instruments[0].bands[0]};
    const auto none = litGround(empty, bands, request);
    CHECK(litGround(scene, bands, request)[0] == none[0]);
    request.movers_time_s = 4.0;  // 80 m east: columns 137 to 142; the sun stands in the east, so the shadow lies west of it
    const auto then = litGround(scene, bands, request);
    const float ground = none[0].at(100, 100);
    CHECK(then[0].at(100, 100) == ground);
    CHECK(then[0].at(140, 100) > 2.0f * ground);
    CHECK(then[0].at(132, 100) == 0.0f);
    CHECK(then[0].at(146, 100) == ground);
}
