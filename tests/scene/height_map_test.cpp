// Height maps of the user's: what a pixel means, where north is, what the material map does, and how paths stand.

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "scene/png_file.h"
#include "support/scenes.h"

using namespace linefall;
namespace fs = std::filesystem;

namespace {

std::string folderOf(const std::string& name) {
    const std::string folder = test::folder() + "/" + name;
    fs::create_directories(folder);
    return folder;
}

void save16(const std::string& path, const Raster<std::uint16_t>& values) {
    WholeFiles files;
    writePng16(files, path, values);
    files.commit();
}

void save8(const std::string& path, int columns, int rows, const std::vector<std::uint8_t>& pixels) {
    WholeFiles files;
    writePng8(files, path, columns, rows, 1, pixels);
    files.commit();
}

std::string placeText(const std::string& more) {
    return "[terrain]\nkind = \"height-map\"\nspacing = \"10 m\"\nlowest = \"100 m\"\nhighest = \"165.535 m\"\n" + more;
}

std::shared_ptr<const PlaceData> placeIn(const std::string& folder, const std::string& text) {
    std::ofstream(folder + "/place.toml") << text;
    return loadPlace(folder + "/place.toml");
}

}  // namespace

TEST_CASE("a 16-bit height map: black is lowest, white is highest, the top row is north") {
    const std::string folder = folderOf("map16");
    Raster<std::uint16_t> values(4, 3);
    values.at(0, 0) = 65535;  // north-west
    values.at(3, 0) = 1000;   // north-east
    values.at(0, 2) = 2000;   // south-west
    save16(folder + "/heights.png", values);
    const auto place = placeIn(folder, placeText("file = \"heights.png\"\n"));
    const HeightField& t = place->ground->terrain();
    CHECK(t.columns() == 4);
    CHECK(t.rows() == 3);
    CHECK(t.west_m() == -15.0);
    CHECK(t.south_m() == -10.0);
    CHECK(t.heightAt(-15, 10) == Approx(165.535));
    CHECK(t.heightAt(15, 10) == Approx(101.0));
    CHECK(t.heightAt(-15, -10) == Approx(102.0));
    CHECK(t.heightAt(15, -10) == Approx(100.0));
}

TEST_CASE("an 8-bit height map uses 255 for the highest") {
    const std::string folder = folderOf("map8");
    save8(folder + "/heights.png", 2, 2, {255, 0, 51, 0});
    const auto place = placeIn(
        folder,
        "[terrain]\nkind = \"height-map\"\nspacing = \"10 m\"\nlowest = \"-5 m\"\nhighest = \"5 m\"\nfile = \"heights.png\"\n");
    const HeightField& t = place->ground->terrain();
    CHECK(t.heightAt(-5, 5) == Approx(5.0));
    CHECK(t.heightAt(-5, -5) == Approx(-3.0));
    CHECK(t.heightAt(5, 5) == Approx(-5.0));
    CHECK(t.heightAt(0, 0) == Approx(-2.0).margin(1e-6));  // the middle of the one bilinear patch
}

TEST_CASE("a material map names the cells, from a pixel a cell or a pixel a post") {
    const std::string folder = folderOf("materials");
    save16(folder + "/heights.png", Raster<std::uint16_t>(3, 3, 100));
    const std::string text =
        placeText("file = \"heights.png\"\nmaterial_map = \"sub/cover.png\"\nlegend = [\"concrete\", \"water\", \"asphalt\"]\n");
    fs::create_directories(folder + "/sub");
    const auto nameAt = [](const PlaceData& place, double east, double north) {
        return place.materials[place.ground->materialAt(east, north)].name;
    };

    save8(folder + "/sub/cover.png", 2, 2, {0, 1, 2, 0});
    const auto cells = placeIn(folder, text);
    CHECK(nameAt(*cells, -5, 5) == "concrete");
    CHECK(nameAt(*cells, 5, 5) == "water");
    CHECK(nameAt(*cells, -5, -5) == "asphalt");

    // A pixel a post: the last column and the north row are not needed.
    save8(folder + "/sub/cover.png", 3, 3, {9, 9, 9, 0, 1, 9, 2, 0, 9});
    const auto posts = placeIn(folder, text);
    CHECK(nameAt(*posts, -5, 5) == "concrete");
    CHECK(nameAt(*posts, 5, 5) == "water");
    CHECK(nameAt(*posts, -5, -5) == "asphalt");
}

TEST_CASE("an image over a height map: the brighter material gives the higher counts where the map says so") {
    const std::string folder = folderOf("formed");
    save16(folder + "/heights.png", Raster<std::uint16_t>(101, 101, 0));
    std::vector<std::uint8_t> cover(100 * 100);
    for (std::size_t i = 0; i < cover.size(); ++i) cover[i] = i % 100 < 50 ? 0 : 1;  // west dark, east bright
    save8(folder + "/cover.png", 100, 100, cover);
    std::ofstream(folder + "/place.toml")
        << "latitude = \"45 deg\"\nmaterial = [{ name = \"dark\", reflectance = 0.05 }, { name = \"bright\", reflectance = 0.5 "
           "}]\n"
        << placeText("file = \"heights.png\"\nmaterial_map = \"cover.png\"\nlegend = [\"dark\", \"bright\"]\n");
    test::Sets sets = test::bare();
    for (const char* more : {"flight.height=1 km", "flight.start_north=100 m", "flight.length=50 m"}) sets.emplace_back(more);
    const Scene scene = test::sceneOf(
        folder + "/place.toml",
        test::oneBand("push-broom", "samples = 40\nfocal_length = \"5 mm\"\ndetector_pitch = \"20 um\"\nfull_well = \"1e8 e\"\n"),
        sets);
    const Image image = test::imageOf(scene);
    // Flying south, starboard is west: column 0 looks west.
    REQUIRE(*std::max_element(image.counts[0].values().begin(), image.counts[0].values().end()) < image.most_count);
    const double west = test::meanCount(image, 0, 18, 0, image.lines());
    const double east = test::meanCount(image, 22, 40, 0, image.lines());
    CHECK(east / west == Approx(10.0).epsilon(0.01));
}

TEST_CASE("landforms can be added to a height map") {
    const std::string folder = folderOf("landforms");
    save16(folder + "/heights.png", Raster<std::uint16_t>(11, 11, 1000));
    const auto place = placeIn(
        folder,
        placeText("file = \"heights.png\"\n[[terrain.landform]]\nkind = \"cone\"\nheight = \"20 m\"\nradius = \"40 m\"\n"));
    CHECK(place->ground->terrain().heightAt(0, 0) == Approx(121.0));
    CHECK(place->ground->terrain().heightAt(20, 0) == Approx(111.0));
    CHECK(place->ground->terrain().heightAt(50, 50) == Approx(101.0));
}
