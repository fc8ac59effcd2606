#include "scene/terrain_reader.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "base/constants.h"
#include "base/threads.h"
#include "scene/island.h"
#include "scene/png_file.h"

namespace linefall {

namespace {

constexpr int most_posts = 8192;

/// A path that a scene file names stands relative to that file.
std::string beside(const std::string& file, const std::string& path) {
    const std::filesystem::path named(path);
    return named.is_absolute() ? path : (std::filesystem::path(file).parent_path() / named).string();
}

/// Posts along one side of a place.
int postsFor(double size_m, double spacing_m) { return static_cast<int>(std::lround(size_m / spacing_m)) + 1; }

Landscape levelGround(TableReader& r, const Materials& materials) {
    Landscape land;
    const double size = r.quantity("size", Kind::length, 2000.0, 2.0, 1e6);
    land.spacing_m = r.quantity("spacing", Kind::length, 10.0, 0.01, 1e5);
    const double height = r.quantity("height", Kind::length, 0.0, -1e4, 1e4);
    const std::uint16_t material = materialIndex(materials, r.text("material", "green-grass"), r, "material");
    const int posts = postsFor(size, land.spacing_m);
    if (posts < 2 || posts > most_posts + 1) {
        r.refuse("spacing", std::to_string(posts) + " posts along a side", "a size of 2 to 8193 posts");
        return land;
    }
    land.posts_m = Raster<float>(posts, posts, static_cast<float>(height));
    land.materials = Raster<std::uint8_t>(posts - 1, posts - 1, static_cast<std::uint8_t>(std::min<int>(material, 255)));
    return land;
}

Landform readLandform(const toml::table& table, TableReader& parent) {
    TableReader r(table, parent.file(), "terrain.landform", parent.problems());
    Landform f;
    f.kind = static_cast<Landform::Kind>(r.choice("kind", {"dome", "cone", "ridge", "bump"}, 0, true));
    f.east_m = r.quantity("east", Kind::length, 0.0, -1e6, 1e6);
    f.north_m = r.quantity("north", Kind::length, 0.0, -1e6, 1e6);
    f.height_m = r.quantity("height", Kind::length, 100.0, -9000.0, 9000.0, true);
    if (r.has("slope")) {  // in place of the radius: height over its tangent
        const double slope = r.quantity("slope", Kind::angle, 0.3, 1e-3, 1.5);
        f.radius_m = std::abs(f.height_m) / std::tan(slope);
        if (r.has("radius")) r.refuse("slope", "both slope and radius", "either slope or radius: each follows from the other");
        if (f.kind == Landform::Kind::dome || f.kind == Landform::Kind::bump) {
            r.refuse("slope", "a slope", "a radius: the sides of a dome or bump are not straight");
        }
        r.know("radius");
    } else {
        f.radius_m = r.quantity("radius", Kind::length, 500.0, 0.1, 1e6, true);
    }
    if (f.kind == Landform::Kind::ridge) {
        f.length_m = r.quantity("length", Kind::length, 1000.0, 0.1, 1e6);
        f.heading_rad = r.quantity("heading", Kind::angle, 0.0, -7.0, 7.0);
    }
    r.finish();
    return f;
}

void addLandforms(TableReader& r, Landscape& land, int threads) {
    std::vector<Landform> forms;
    for (const toml::table* table : r.tables("landform")) forms.push_back(readLandform(*table, r));
    if (!r.problems().empty()) return;
    const double middle_column = 0.5 * (land.posts_m.columns() - 1);
    const double middle_row = 0.5 * (land.posts_m.rows() - 1);
    parallelFor(land.posts_m.rows(), threads, [&](int row) {
        for (int column = 0; column < land.posts_m.columns(); ++column) {
            double sum = 0.0;
            for (const Landform& form : forms) {
                sum += form.at((column - middle_column) * land.spacing_m, (row - middle_row) * land.spacing_m);
            }
            land.posts_m.at(column, row) += static_cast<float>(sum);
        }
    });
}

Landscape heightMap(TableReader& r, const Materials& materials) {
    Landscape land;
    const std::string file = r.text("file", "", true);
    land.spacing_m = r.quantity("spacing", Kind::length, 10.0, 0.01, 1e5, true);
    const double lowest = r.quantity("lowest", Kind::length, 0.0, -12000.0, 12000.0, true);
    const double highest = r.quantity("highest", Kind::length, 0.0, -12000.0, 12000.0, true);
    const std::uint16_t material = materialIndex(materials, r.text("material", "green-grass"), r, "material");
    const std::string material_map = r.text("material_map", "");
    std::vector<std::uint16_t> legend;
    if (const toml::node* node = r.node("legend")) {
        const toml::array* list = node->as_array();
        if (list == nullptr || list->empty()) r.refuse("legend", writtenAs(*node), "a list of names of materials, for values 0, 1, 2 ...");
        else for (const toml::node& name : *list) legend.push_back(materialIndex(materials, writtenAs(name), r, "legend"));
    }
    if (highest < lowest) r.refuse("highest", shortText(highest, Kind::length), "a height not below lowest");
    if (file.empty() || !r.problems().empty()) return land;

    const GreyPicture heights = readGreyPng(beside(r.file(), file), 2, most_posts);
    const int columns = heights.values.columns();
    const int rows = heights.values.rows();
    const double full = heights.bits == 16 ? 65535.0 : 255.0;
    land.posts_m = Raster<float>(columns, rows);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            // The top row of a picture is the north.
            land.posts_m.at(column, rows - 1 - row) =
                static_cast<float>(lowest + (highest - lowest) * heights.values.at(column, row) / full);
        }
    }
    land.materials = Raster<std::uint8_t>(columns - 1, rows - 1, static_cast<std::uint8_t>(material));
    if (material_map.empty()) return land;
    const std::string path = beside(r.file(), material_map);
    const GreyPicture map = readGreyPng(path, 1, most_posts);
    if (map.bits != 8 || map.values.columns() < columns - 1 || map.values.rows() < rows - 1) {
        r.refuse("material_map", std::to_string(map.values.columns()) + " x " + std::to_string(map.values.rows()) + " pixels of " +
                                     std::to_string(map.bits) + " bits",
                 "an 8-bit grey PNG of at least " + std::to_string(columns - 1) + " x " + std::to_string(rows - 1) + " pixels, one a cell");
        return land;
    }
    const int skipped = map.values.rows() - (rows - 1);  // a map with one pixel a post: the north row is not needed
    for (int row = 0; row < rows - 1; ++row) {
        for (int column = 0; column < columns - 1; ++column) {
            const std::uint16_t value = map.values.at(column, row + skipped);
            if (value >= legend.size()) {
                r.refuse("material_map", "value " + std::to_string(value) + " at column " + std::to_string(column) + ", row " +
                                             std::to_string(row + skipped),
                         "values 0 to " + std::to_string(static_cast<int>(legend.size()) - 1) + " (the names in legend)");
                return land;
            }
            land.materials.at(column, rows - 2 - row) = static_cast<std::uint8_t>(legend[value]);
        }
    }
    return land;
}

}  // namespace

double Landform::at(double east, double north) const {
    const double x = east - east_m;
    const double y = north - north_m;
    if (kind == Kind::ridge) {
        const double along = x * std::sin(heading_rad) + y * std::cos(heading_rad);
        const double across = x * std::cos(heading_rad) - y * std::sin(heading_rad);
        const double beyond = std::max(0.0, std::abs(along) - 0.5 * length_m);  // past the end of the crest
        return height_m * std::max(0.0, 1.0 - std::max(std::abs(across), beyond) / radius_m);
    }
    const double share = std::hypot(x, y) / radius_m;
    if (share >= 1.0) return 0.0;
    switch (kind) {
        case Kind::cone: return height_m * (1.0 - share);
        case Kind::bump: return height_m * 0.5 * (1.0 + std::cos(constants::pi * share));
        default: {
            // A cap of a sphere of radius s through the foot and the top.
            const double h = std::abs(height_m);
            const double s = (radius_m * radius_m + h * h) / (2.0 * h);
            const double r = share * radius_m;
            return std::copysign(std::sqrt(std::max(0.0, s * s - r * r)) - (s - h), height_m);
        }
    }
}

Landscape readTerrain(TableReader& terrain, const Materials& materials, int threads) {
    Landscape land;
    const int kind = terrain.choice("kind", {"island", "level", "height-map"}, 1, true);
    if (kind == 0) {
        const int seed = terrain.whole("seed", 1, 0, 2000000000);
        terrain.finish();
        if (!terrain.problems().empty()) return land;
        return makeIsland(static_cast<std::uint64_t>(seed), [&](const std::string& name) {
            return static_cast<std::uint8_t>(materialIndex(materials, name, terrain, "kind"));
        }, threads);
    }
    land = kind == 1 ? levelGround(terrain, materials) : heightMap(terrain, materials);
    if (!land.posts_m.empty()) addLandforms(terrain, land, threads);
    else terrain.know("landform");
    terrain.finish();
    return land;
}

}  // namespace linefall
