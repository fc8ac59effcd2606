#include "flight/map_geometry.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "flight/locate.h"
#include "support/measure.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

const std::string grid = paint("grid", 0, 0, 2800, 2800, "period = \"100 m\"\nline_width = \"6 m\"\nmaterial = \"black\"");

/// A flight of 1.6 km over the middle of a level place, from 1 km.
Scene over(const std::string& things, const std::string& kind, const std::string& keys, double heading_deg, const Sets& more = {}) {
    const double a = heading_deg / 180.0 * constants::pi;
    return exposed(sceneOf(written(levelPlace(things, "3 km", "10 m")), oneBand(kind, keys),
                           bare() + Sets{"flight.height=1 km", "flight.length=1600 m", "flight.heading=" + std::to_string(heading_deg) + " deg",
                                         "flight.start_east=" + metres(-800.0 * std::sin(a)), "flight.start_north=" + metres(-800.0 * std::cos(a)),
                                         "sun.elevation=80 deg"} + more));
}

const std::string push_keys = "focal_length = \"10 mm\"\ndetector_pitch = \"20 um\"\nsamples = 801";  // cells of 2 m
const std::string whisk_keys = "focal_length = \"10 mm\"\nifov = \"2 mrad\"\nfov = \"80 deg\"";

MapPicture mapOf(const Scene& scene, const MapPictureRequest& request) { return mapPicture(mapGeometry(Aim(scene, 0), request), imageOf(scene)); }

MapPictureRequest asked(Resampling resampling, double cell_m = 0.0) {
    MapPictureRequest request;
    request.resampling = resampling;
    request.cell_m = cell_m;
    return request;
}

/// An image of the shape that a scene gives, with counts from a function of (sample, line).
template <class Count>
Image painted(const Scene& scene, const Count& count) {
    const Aim aim(scene, 0);
    Image image;
    image.bands = aim.instrument().bands();
    image.counts.assign(image.bands.size(), Raster<std::uint16_t>(aim.samples(), aim.lines()));
    image.sky = Raster<std::uint8_t>(aim.samples(), aim.lines());
    image.most_count = 65535;
    for (int l = 0; l < aim.lines(); ++l) {
        for (int s = 0; s < aim.samples(); ++s) image.counts[0].at(s, l) = static_cast<std::uint16_t>(count(s, l));
    }
    return image;
}

/// Middles of the black roads along one row of a map, metres east.
std::vector<double> roadsOf(const MapPicture& map, double north_m) {
    const MapFrame& frame = map.geometry->frame();
    const int row = static_cast<int>(frame.placeOf({0.0, north_m}).y);
    std::vector<double> counts;
    for (int c = 0; c < frame.columns; ++c) counts.push_back(map.covered.at(c, row) != 0 ? map.image.counts[0].at(c, row) : 8000.0);
    std::vector<double> out;
    for (const double at : darkMiddles(counts, 4000.0)) {
        // Whole roads only: not those that the edge of the swath cuts.
        const int near = static_cast<int>(8.0 / frame.cell_m), c = static_cast<int>(at);
        if (c < near || c + near >= frame.columns || map.covered.at(c - near, row) == 0 || map.covered.at(c + near, row) == 0) continue;
        out.push_back(frame.west_m + at * frame.cell_m);
    }
    return out;
}

}  // namespace

TEST_CASE("in map geometry a grid of roads lies every 100 m, to half a cell, whatever way the scanner flew and swung", "[map]") {
    const auto resampling = GENERATE(Resampling::nearest, Resampling::bilinear);
    const int which = GENERATE(0, 1, 2, 3, 4);
    const Sets swinging{"flight.roll_swing=2 deg", "flight.pitch_swing=0.5 deg", "flight.yaw=4 deg", "flight.wind_speed=10 m/s", "flight.wind_from=200 deg"};
    const Scene scene = which == 0   ? over(grid, "push-broom", push_keys, 180.0)
                        : which == 1 ? over(grid, "push-broom", push_keys, 37.0)
                        : which == 2 ? over(grid, "whisk-broom", whisk_keys, 180.0)
                        : which == 3 ? over(grid, "whisk-broom", whisk_keys, 300.0, swinging)
                                     : over(grid, "push-broom", push_keys, 90.0, swinging);
    INFO("case " << which);
    const MapPicture map = mapOf(scene, asked(resampling, 2.0));
    for (const double north : {-250.0, 0.0 + 50.0, 250.0}) {
        const auto roads = roadsOf(map, north);
        REQUIRE(roads.size() >= 8);
        for (const double road : roads) {
            INFO("road at " << road << " m, row at " << north << " m");
            // Half a map cell, and half the pixel that a point sample may be off: at the edge of the whisk broom's swath 3.4 m.
            CHECK(std::abs(road - 100.0 * std::round(road / 100.0)) < (which == 0 || which == 1 ? 1.0 : 2.2) + 0.05);
        }
        for (std::size_t i = 0; i + 1 < roads.size(); ++i) CHECK(roads[i + 1] - roads[i] == Approx(100.0).margin(3.5));
    }
}

TEST_CASE("an undistorted push broom over level ground gives the ground cell for cell", "[map]") {
    // Flying south with cells of 2 m: a pixel is a cell, and nothing is empty within the swath.
    const Scene scene = over(grid, "push-broom", push_keys, 180.0);
    const MapPicture map = mapOf(scene, asked(Resampling::nearest));
    const MapFrame& frame = map.geometry->frame();
    CHECK(frame.cell_m == Approx(2.0).epsilon(1e-9));
    int empty = 0;
    for (int r = 1; r + 1 < frame.rows; ++r) {
        for (int c = 1; c + 1 < frame.columns; ++c) empty += map.covered.at(c, r) == 0 ? 1 : 0;
    }
    CHECK(empty == 0);
    const auto roads = roadsOf(map, 50.0);
    REQUIRE(roads.size() == 15);
    for (std::size_t i = 0; i < 15; ++i) CHECK(roads[i] == Approx(100.0 * (static_cast<double>(i) - 7.0)).margin(1.0));
}

TEST_CASE("nearest invents no count: each cell holds that of the pixel it is said to come from", "[map]") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera");
    const Scene scene = sceneOf("proving-ground", preset, Sets{"flight.roll=3 deg", "flight.rough_air=0.2 deg", "instrument.samples=350"} + (preset == "frame-camera" ? Sets{"instrument.rows=400"} : Sets{}));
    const Image image = imageOf(scene);
    const MapPicture map = mapPicture(mapGeometry(Aim(scene, 0), asked(Resampling::nearest)), image);
    std::size_t covered = 0, wrong = 0;
    for (int r = 0; r < map.covered.rows(); ++r) {
        for (int c = 0; c < map.covered.columns(); ++c) {
            if (map.covered.at(c, r) == 0) continue;
            ++covered;
            const PicturePlace from = *map.geometry->source(c, r);
            const int sample = std::min(image.samples() - 1, static_cast<int>(from.sample)), line = std::min(image.lines() - 1, static_cast<int>(from.line));
            const MapGeometry::Cell cell = map.geometry->cell(c, r);
            // The place may stand on the border of the pixel; the pixel itself is exact.
            if (std::abs(sample - cell.sample) > 1 || std::abs(line - cell.line) > 1) ++wrong;
            for (std::size_t b = 0; b < image.counts.size(); ++b) wrong += map.image.counts[b].at(c, r) != image.counts[b].at(cell.sample, cell.line) ? 1 : 0;
        }
    }
    CHECK(covered > 50000);
    CHECK(wrong == 0);
}

TEST_CASE("bilinear gives a linear ramp back exactly, at any heading and any cell", "[map]") {
    const double heading = GENERATE(180.0, 37.0), cell_m = GENERATE(1.3, 2.0, 5.0);
    const Scene scene = over("", "push-broom", push_keys, heading);
    const Image ramp = painted(scene, [](int s, int l) { return 1000 + 30 * s + 20 * l; });
    const Aim aim(scene, 0);
    const MapPicture map = mapPicture(mapGeometry(aim, asked(Resampling::bilinear, cell_m)), ramp);
    const MapFrame& frame = map.geometry->frame();
    const Vec2 origin = *meetsLevel(aim.ray(0, 0), 0.0), across = *meetsLevel(aim.ray(0, 1), 0.0) - origin, along = *meetsLevel(aim.ray(1, 0), 0.0) - origin;
    std::size_t compared = 0;
    double most = 0.0;
    for (int r = 0; r < frame.rows; ++r) {
        for (int c = 0; c < frame.columns; ++c) {
            if (!map.geometry->cell(c, r).among_centres) continue;
            const Vec2 at = frame.middleOf(c, r) - origin;
            const double s = glm::dot(at, across) / glm::dot(across, across), l = glm::dot(at, along) / glm::dot(along, along);
            most = std::max(most, std::abs(map.image.counts[0].at(c, r) - (1000.0 + 30.0 * s + 20.0 * l)));
            ++compared;
        }
    }
    CHECK(compared > 50000);
    CHECK(most <= 0.51);  // the rounding to a whole count
}

TEST_CASE("the place a cell comes from is where the point at its middle is seen", "[map]") {
    // Two routes: footprints laid on the map, and the search along looks for one point.
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const auto resampling = GENERATE(Resampling::nearest, Resampling::bilinear);
    const Scene scene = sceneOf("slopes", preset, {"flight.roll=-4 deg", "flight.pitch=2 deg", "flight.yaw=3 deg", "flight.roll_swing=0.3 deg", "flight.wind_speed=8 m/s"});
    const Locator locator(scene, 0);
    const auto map = mapGeometry(locator.aim(), asked(resampling));
    Draws draws(11, 1);
    int compared = 0;
    for (int i = 0; i < 3000 && compared < 300; ++i) {
        const int c = static_cast<int>(draws.uniform() * map->frame().columns), r = static_cast<int>(draws.uniform() * map->frame().rows);
        const auto from = map->source(c, r);
        const Vec2 middle = map->frame().middleOf(c, r);
        const auto at = locator.locate({middle.x, middle.y, 0.0});
        if (!from || !at) {
            // They may differ within the outermost half pixel only.
            if (from.has_value() != at.has_value()) {
                const PicturePlace p = from ? *from : PicturePlace(*at);
                CHECK((p.sample < 0.6 || p.line < 0.6 || p.sample > locator.aim().samples() - 0.6 || p.line > locator.aim().lines() - 0.6));
            }
            continue;
        }
        ++compared;
        const bool exact = map->cell(c, r).among_centres;
        // A footprint's later line takes what overlaps; the centres tell the place to 1/100 pixel.
        CHECK(from->sample == Approx(at->sample).margin(exact ? 0.01 : 0.25));
        CHECK(from->line == Approx(at->line).margin(exact ? 0.01 : 0.6));
    }
    CHECK(compared == 300);
}

TEST_CASE("where lines do not adjoin the map stays empty, and where they overlap the later line wins", "[map]") {
    const auto resampling = GENERATE(Resampling::nearest, Resampling::bilinear);
    // Cells of 2 m every 4 m: half of the map. Every 1 m: each line overlaps the next by half.
    const Scene apart = over("", "push-broom", push_keys + "\nline_rate = \"17.5 Hz\"", 180.0), dense = over("", "push-broom", push_keys + "\nline_rate = \"70 Hz\"", 180.0);
    const auto gaps = mapGeometry(Aim(apart, 0), asked(resampling, 0.5));
    std::size_t covered = 0;
    for (int r = 0; r < gaps->frame().rows; ++r) covered += gaps->covered(gaps->frame().columns / 2, r) ? 1 : 0;
    CHECK(static_cast<double>(covered) / gaps->frame().rows == Approx(0.5).margin(0.01));
    const auto overlapping = mapGeometry(Aim(dense, 0), asked(Resampling::nearest, 0.5));
    const int column = overlapping->frame().columns / 2;
    const Aim aim(dense, 0);
    for (int r = 20; r + 20 < overlapping->frame().rows; r += 7) {
        const auto cell = overlapping->cell(column, r);
        REQUIRE(cell.filled);
        // Lines lie at 800 - (l + 1/2) m north, and reach 1 m to both sides: the last that reaches the cell.
        const double north = overlapping->frame().middleOf(column, r).y;
        CHECK(cell.line == static_cast<int>(std::floor(800.0 - north - 0.5 + 1.0 - 1e-7)));
    }
}

TEST_CASE("the bow-tie of a sweep of many detectors is laid over by the next sweep at the edges", "[map]") {
    const Scene scene = over("", "whisk-broom", "focal_length = \"10 mm\"\nifov = \"4 mrad\"\nfov = \"90 deg\"\ndetectors = 8", 180.0, {"effect.sweep_motion=false"});
    const Aim aim(scene, 0);
    const auto map = mapGeometry(aim, asked(Resampling::nearest, 0.7));
    // A sweep is 32 m long at nadir and 45 m at the edge; where two sweeps overlap there, the later one shows, so the first
    // lines of a sweep lie whole and its last ones are covered.
    std::vector<int> cells_of(8, 0);
    for (int r = 200; r < map->frame().rows - 200; ++r) {
        for (int c = 0; c < map->frame().columns; ++c) {
            const auto cell = map->cell(c, r);
            if (cell.filled && cell.sample < 8) ++cells_of[static_cast<std::size_t>(cell.line % 8)];
        }
    }
    CHECK(cells_of[0] > 100);
    CHECK(cells_of[7] < cells_of[0] / 3);
    CHECK(std::abs(cells_of[1] - cells_of[0]) < cells_of[0] / 5);
}

TEST_CASE("a map is the same from any number of threads", "[map]") {
    const Scene scene = sceneOf("slopes", "whisk-broom", {"flight.rough_air=1 deg", "instrument.detectors=4"});
    const Aim aim(scene, 0);
    MapPictureRequest request = asked(GENERATE(Resampling::nearest, Resampling::bilinear));
    request.level = GENERATE(MapLevel::datum, MapLevel::ground);
    request.threads = 1;
    const auto one = mapGeometry(aim, request);
    request.threads = 5;
    const auto five = mapGeometry(aim, request);
    REQUIRE(one->frame().columns == five->frame().columns);
    bool same = true;
    for (int r = 0; r < one->frame().rows; ++r) {
        for (int c = 0; c < one->frame().columns; ++c) same = same && MapGeometry::packed(one->cell(c, r)) == MapGeometry::packed(five->cell(c, r));
    }
    CHECK(same);
}

TEST_CASE("a tower leans in a map at datum and stands at its place in a map on the ground, and what it hid stays empty there", "[map]") {
    // A white top of 20 m radius, 100 m up, 400 m east of the nadir of a flight at 1 km: at datum it lies at 444 m.
    const Scene scene = over(tower(400, 0, 40, 100), "push-broom", push_keys, 180.0);
    MapPictureRequest request = asked(GENERATE(Resampling::nearest, Resampling::bilinear), 1.0);
    const Image image = imageOf(scene);
    const auto middleOf = [&](MapLevel level) {
        request.level = level;
        const MapPicture map = mapPicture(mapGeometry(Aim(scene, 0), request), image);
        Vec2 sum{0.0};
        double n = 0.0, empty = 0.0;
        for (int r = 0; r < map.covered.rows(); ++r) {
            for (int c = 0; c < map.covered.columns(); ++c) {
                const Vec2 p = map.geometry->frame().middleOf(c, r);
                if (std::abs(p.y) < 8.0 && p.x > 425.0 && p.x < 455.0 && map.covered.at(c, r) == 0) empty += 1.0;
                if (map.covered.at(c, r) == 0 || map.image.counts[0].at(c, r) < 20000) continue;
                sum += p;
                n += 1.0;
            }
        }
        REQUIRE(n > 400.0);
        return Vec3{sum.x / n, sum.y / n, empty};
    };
    const Vec3 datum = middleOf(MapLevel::datum), ground = middleOf(MapLevel::ground);
    const double half = request.resampling == Resampling::nearest ? 1.0 : 2.0;  // an edge between centres is met a pixel early or late
    CHECK(datum.x == Approx(400.0 / 0.9).margin(half));
    CHECK(ground.x == Approx(400.0).margin(half));
    CHECK(datum.y == Approx(0.0).margin(1.0));
    CHECK(ground.y == Approx(0.0).margin(1.0));
    CHECK(datum.z == 0.0);
    CHECK(ground.z > 0.7 * 30 * 16);  // the strip behind the tower, 46 m long
}

TEST_CASE("a map of lines that are still missing shows those that stand", "[map]") {
    const Scene scene = over("", "push-broom", push_keys, 180.0);
    const Image image = painted(scene, [](int s, int l) { return 1 + s + l; });
    const auto geometry = mapGeometry(Aim(scene, 0), asked(Resampling::nearest));
    const MapPicture half = mapPicture(geometry, image, image.lines() / 2);
    const int column = geometry->frame().columns / 2;
    CHECK(half.covered.at(column, geometry->frame().rows / 4) == 1);
    CHECK(half.image.sky.at(column, geometry->frame().rows / 4) == 0);
    CHECK(half.covered.at(column, geometry->frame().rows * 3 / 4) == 0);
    CHECK(half.image.sky.at(column, geometry->frame().rows * 3 / 4) == 1);
}

TEST_CASE("a map with too many cells is refused, and one of unstated cells is made coarser", "[map]") {
    const Aim aim(over("", "push-broom", push_keys, 180.0), 0);
    MapPictureRequest request = asked(Resampling::nearest, 0.01);
    CHECK_THROWS_AS(mapGeometry(aim, request), InputError);
    request.cell_m = 0.0;
    request.most_cells = 10000;
    const auto map = mapGeometry(aim, request);
    CHECK(map->frame().columns * map->frame().rows <= 10000);
    CHECK(map->frame().cell_m > 15.0);
    const Cancel cancel{true};
    CHECK(mapGeometry(aim, request, &cancel) == nullptr);
}
