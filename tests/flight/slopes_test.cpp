// Slopes in counts: sunlit against shaded sides of the ridge, shadow that is cast against a side's own shadow, and the
// shading of planes beside GDAL's hillshade, run live.

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "base/angle.h"
#include "scene/png_file.h"
#include "scene/whole_files.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Sets direct() { return bare() + Sets{"effect.skylight=false"}; }

/// A frame over the ridge of the place `slopes`: it runs east and west, 800 m south of the centre, and its sides fall by 20 degrees.
Scene overRidge(const Sets& more) {
    return exposed(sceneOf("slopes", oneBand("frame-camera", "focal_length = \"20 mm\"\ndetector_pitch = \"20 um\"\nsamples = 21\nrows = 700"),
                           direct() + Sets{"flight.height=3 km", "flight.start_north=-800 m", "flight.length=0.01 m", "sun.azimuth=180 deg"} + more));
}

/// Flying south: row r looks (350 - r - 0.5) pixels north of the nadir; a pixel is a milliradian.
double countAt(Formation& formation, double north_of_crest_m) {
    int best = 0;
    for (int l = 0; l < formation.lines(); ++l) {
        if (std::abs(formation.groundPoint(l, 10)->y + 800.0 - north_of_crest_m) < std::abs(formation.groundPoint(best, 10)->y + 800.0 - north_of_crest_m)) best = l;
    }
    REQUIRE(std::abs(formation.groundPoint(best, 10)->y + 800.0 - north_of_crest_m) < 5.0);
    return formation.image().counts[0].at(10, best) + 0.5;
}

/// The number in a line of the form "3: (10,10) #464646" or a grey level of a PGM, written by gdal_translate.
int greyOf(const std::string& path, int column, int row) {
    std::ifstream file(path);
    std::string magic;
    int columns = 0, rows = 0, most = 0;
    file >> magic;
    // An Arc/Info ASCII grid: header of five or six "word number" lines, then rows from the north.
    (void)most;
    std::string word = magic;
    double number = 0.0;
    while (!word.empty() && std::isalpha(static_cast<unsigned char>(word[0])) != 0) {
        file >> number;
        if (word == "ncols") columns = static_cast<int>(number);
        if (word == "nrows") rows = static_cast<int>(number);
        file >> word;
    }
    REQUIRE(column < columns);
    REQUIRE(row < rows);
    double value = std::stod(word);
    for (int i = 0; i < row * columns + column; ++i) file >> value;
    return static_cast<int>(std::lround(value));
}

bool gdalIsMissing() { return std::system("command -v gdaldem >/dev/null 2>&1 && command -v gdal_translate >/dev/null 2>&1") != 0; }

/// gdaldem hillshade of an ASCII grid, light 315/45 as it stands; grey of a cell.
int gdalShade(const std::string& grid, int column, int row) {
    const std::string out = grid + ".shade.tif";
    const std::string text = grid + ".shade.asc";
    REQUIRE(std::system(("gdaldem hillshade -q " + grid + " " + out + " && gdal_translate -q -of AAIGrid " + out + " " + text).c_str()) == 0);
    return greyOf(text, column, row);
}

}  // namespace

TEST_CASE("the ridge's sunlit side is 4.41 times as bright as its shaded side - in counts", "[slopes]") {
    // Sides of 20 degrees, the sun at 30 degrees in the south, direct light alone: cos 40 : cos 80 = 4.41 (optical.md, C; 0.005).
    Formation formation(overRidge({"sun.elevation=30 deg"}), 0);
    formation.formAll();
    const double sunlit = countAt(formation, -250.0), shaded = countAt(formation, 250.0), level = countAt(formation, -600.0);
    CHECK(sunlit / shaded == Approx(4.41).epsilon(0.0).margin(0.005));
    CHECK(sunlit / level == Approx(0.7660 / 0.5).epsilon(1e-3));
    CHECK(shaded / level == Approx(0.1736 / 0.5).epsilon(1e-3));
}

TEST_CASE("the shadow that the ridge casts and the shade on its own back are told apart by their switches", "[slopes]") {
    // A sun of 15 degrees, lower than the slope: the back faces away from it, and the crest 180 m up shades the level ground
    // from the foot, 494.5 m behind it, to 180 m / tan 15 = 671.8 m.
    const Sets low{"sun.elevation=15 deg"};
    Formation both(overRidge(low), 0), no_cast(overRidge(low + Sets{"effect.cast_shadow=false"}), 0), flat(overRidge(low + Sets{"effect.slope_shading=false"}), 0);
    Formation neither(overRidge(low + Sets{"effect.cast_shadow=false", "effect.slope_shading=false"}), 0);
    for (Formation* f : {&both, &no_cast, &flat, &neither}) f->formAll();
    const double level = countAt(both, 800.0);
    REQUIRE(level > 100.0);
    CHECK(countAt(both, 250.0) < 1.0);       // the back: dark by its own slope
    CHECK(countAt(both, 580.0) < 1.0);       // level ground: dark by the crest
    CHECK(countAt(both, 665.0) < 1.0);
    CHECK(countAt(both, 680.0) == Approx(level).epsilon(1e-3));
    CHECK(countAt(no_cast, 250.0) < 1.0);    // without cast shadow the back stays dark
    CHECK(countAt(no_cast, 580.0) == Approx(level).epsilon(1e-3));
    CHECK(countAt(neither, 250.0) == Approx(level).epsilon(1e-3));
    CHECK(countAt(neither, 580.0) == Approx(level).epsilon(1e-3));
    CHECK(countAt(flat, 580.0) < 1.0);       // without slope shading the cast shadow stays
}

TEST_CASE("skylight lifts shadows and leaves nothing in the air black", "[slopes]") {
    const Scene scene = overRidge({"sun.elevation=15 deg", "air.on=true", "effect.skylight=true"});
    Formation lit(scene, 0), without(with(scene, {"effect.skylight=false"}), 0);
    lit.formAll();
    without.formAll();
    const double lifted = countAt(lit, 580.0), haze = countAt(without, 580.0), level = countAt(lit, 800.0);
    CHECK(lifted > haze * 1.2);
    CHECK(haze > 50.0);  // haze alone
    CHECK(level > lifted * 1.2);
    // The back sees less sky than level ground in the same shadow: (1 + cos 20) / 2 at most.
    const double on_back = (countAt(lit, 250.0) - countAt(without, 250.0)) / (lifted - haze);
    CHECK(on_back < 1.0);
    CHECK(on_back > 0.85);
}

TEST_CASE("planes in the picture have the shades that gdaldem hillshade gives them", "[slopes][hillshade]") {
    // Shades 246, 67, 255, 1, 178, 181: gdaldem 3.6.2 (optical.md, Shadow, slope, shading, A). Its grey is 1 + 254 cos i, and 1 in
    // its own shade; ours is read from counts: counts over those of level ground, times the cosine of the sun's zenith angle.
    struct Plane {
        double slope_deg, facing_deg;
        int shade;
    };
    const Plane plane = GENERATE(Plane{30, 315, 246}, Plane{30, 135, 67}, Plane{45, 315, 255}, Plane{60, 135, 1}, Plane{10, 225, 178}, Plane{0, 0, 181});
    INFO("plane of " << plane.slope_deg << " degrees facing " << plane.facing_deg);

    // The same heights for both: posts 10 m apart, highest opposite to where the plane faces.
    constexpr int n = 21;
    const double fall = std::tan(radiansFromDegrees(plane.slope_deg));
    const double a = radiansFromDegrees(plane.facing_deg);
    const auto height = [&](int column, int row_from_north) {
        return 1000.0 - fall * (10.0 * (column - 10) * std::sin(a) + 10.0 * (10 - row_from_north) * std::cos(a));
    };
    std::ostringstream grid;
    grid.precision(9);
    grid << "ncols " << n << "\nnrows " << n << "\nxllcorner 0\nyllcorner 0\ncellsize 10\n";
    double low = 1e9, high = -1e9;
    for (int r = 0; r < n; ++r) {
        for (int c = 0; c < n; ++c) {
            grid << height(c, r) << (c + 1 < n ? " " : "\n");
            low = std::min(low, height(c, r));
            high = std::max(high, height(c, r));
        }
    }
    Raster<std::uint16_t> posts(n, n);
    for (int r = 0; r < n; ++r) {
        for (int c = 0; c < n; ++c) posts.at(c, r) = static_cast<std::uint16_t>(high > low ? std::lround((height(c, r) - low) / (high - low) * 65535.0) : 0);
    }
    const std::string png = folder() + "/plane.png";
    WholeFiles files;
    writePng16(files, png, posts);
    files.commit();
    const std::string place = written("beyond = \"even\"\n[[material]]\nname = \"even\"\nreflectance = \"20 %\"\n[terrain]\nkind = \"height-map\"\nfile = \"" + png +
                                      "\"\nspacing = \"10 m\"\nlowest = \"" + metres(low) + "\"\nhighest = \"" + metres(high) + "\"\nmaterial = \"even\"\n");
    // Straight above the middle; level ground lies beyond the place.
    const Scene scene = exposed(sceneOf(place, oneBand("frame-camera", "focal_length = \"10 mm\"\ndetector_pitch = \"10 um\"\nsamples = 1001\nrows = 1"),
                                        direct() + Sets{"flight.height=4 km", "flight.start_north=0 m", "flight.length=0.01 m", "sun.azimuth=315 deg", "sun.elevation=45 deg", "effect.cast_shadow=false"}));
    const Image image = imageOf(scene);
    const double cosine = image.counts[0].at(500, 0) / (image.counts[0].at(5, 0) + 0.5) * std::cos(radiansFromDegrees(45.0));
    const int ours = static_cast<int>(std::lround(1.0 + 254.0 * cosine));
    CHECK(ours == plane.shade);

    if (gdalIsMissing()) {
        WARN("gdaldem is missing (Debian package gdal-bin): the shades were compared with its published ones alone");
        return;
    }
    CHECK(ours == gdalShade(written(grid.str(), ".asc"), 10, 10));
}

TEST_CASE("Horn's gradient of the 3 x 3 example: slope 72.485 degrees - aspect 260.463 - shade 154", "[slopes][hillshade]") {
    // Heights, cell 5, light 315/45: gdaldem; Esri, "How Hillshade works" (optical.md, M).
    const double z[3][3] = {{2450, 2461, 2483}, {2452, 2461, 2483}, {2447, 2455, 2477}};
    // Horn 1981: weights 1 2 1 over the columns and rows, 8 cells in all.
    const double to_east = ((z[0][2] + 2 * z[1][2] + z[2][2]) - (z[0][0] + 2 * z[1][0] + z[2][0])) / (8.0 * 5.0);
    const double to_north = ((z[0][0] + 2 * z[0][1] + z[0][2]) - (z[2][0] + 2 * z[2][1] + z[2][2])) / (8.0 * 5.0);
    const Vec3 normal = glm::normalize(Vec3{-to_east, -to_north, 1.0});
    CHECK(degreesFromRadians(std::acos(normal.z)) == Approx(72.485).epsilon(0.0).margin(0.001));
    CHECK(degreesFromRadians(wrappedToTurn(std::atan2(normal.x, normal.y))) == Approx(260.463).epsilon(0.0).margin(0.001));
    SunSettings sun = sunKeys().defaults();
    sun.azimuth_rad = radiansFromDegrees(315.0);
    sun.elevation_rad = radiansFromDegrees(45.0);
    const double shade = 1.0 + 254.0 * glm::dot(normal, sunlight(sun, {}, {}).towards);
    CHECK(std::lround(shade) == 154);

    if (gdalIsMissing()) {
        WARN("gdaldem is missing (Debian package gdal-bin): not compared live");
        return;
    }
    CHECK(gdalShade(written("ncols 3\nnrows 3\nxllcorner 0\nyllcorner 0\ncellsize 5\n2450 2461 2483\n2452 2461 2483\n2447 2455 2477\n", ".asc"), 1, 1) == 154);
}
