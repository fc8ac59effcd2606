#include "scene/terrain_maker.h"

#include <algorithm>

#include "base/threads.h"
#include "scene/island.h"
#include "scene/png_file.h"

namespace linefall {

namespace {

constexpr double most_form_posts = 4e9;  // posts x landforms: half a minute of work

/// Reads a picture; what is wrong with it stands at the key that names it.
GreyPicture readPicture(const NamedPicture& named, const std::string& key, int least, Problems& problems) {
    try {
        return readGreyPng(named.path, least, most_map_posts);
    } catch (const InputError& e) {
        for (const Problem& p : e.problems())
            problems.push_back({named.place, key, p.place.file + ": " + p.read, p.expected, ""});
        return {};
    }
}

void readHeights(const TerrainPlan& plan, Landscape& land, Problems& problems) {
    const GreyPicture heights = readPicture(plan.heights, "terrain.file", 2, problems);
    const int columns = heights.values.columns();
    const int rows = heights.values.rows();
    const double full = heights.bits == 16 ? 65535.0 : 255.0;
    land.posts_m = Raster<float>(columns, rows);
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            // The top row of a picture is the north.
            land.posts_m.at(column, rows - 1 - row) =
                static_cast<float>(plan.lowest_m + (plan.highest_m - plan.lowest_m) * heights.values.at(column, row) / full);
        }
    }
}

/// One pixel a cell, or one a post: then the last column and the north row are not needed.
void readMaterialMap(const TerrainPlan& plan, Landscape& land, Problems& problems) {
    const GreyPicture map = readPicture(plan.materials, "terrain.material_map", 1, problems);
    if (map.values.empty()) return;
    const int columns = land.materials.columns();
    const int rows = land.materials.rows();
    const auto refuse = [&](const std::string& read, const std::string& expected) {
        problems.push_back({plan.materials.place, "terrain.material_map", plan.materials.path + ": " + read, expected, ""});
    };
    const auto fits = [](int size, int cells) { return size == cells || size == cells + 1; };
    if (map.bits != 8 || !fits(map.values.columns(), columns) || !fits(map.values.rows(), rows)) {
        refuse(std::to_string(map.values.columns()) + " x " + std::to_string(map.values.rows()) + " pixels of " +
                   std::to_string(map.bits) + " bits",
               "an 8-bit grey PNG of " + std::to_string(columns) + " x " + std::to_string(rows) +
                   " pixels, one a cell, or of one more each way");
        return;
    }
    const int skipped = map.values.rows() - rows;
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            const std::uint16_t value = map.values.at(column, row + skipped);
            if (value >= plan.legend.size()) {
                refuse("value " + std::to_string(value) + " at column " + std::to_string(column) + ", row " +
                           std::to_string(row + skipped),
                       "values 0 to " + std::to_string(plan.legend.size() - 1) + ": the legend has " +
                           std::to_string(plan.legend.size()) + " names");
                return;
            }
            land.materials.at(column, rows - 1 - row) = plan.legend[value];
        }
    }
}

void addLandforms(const TerrainPlan& plan, Landscape& land, int threads, Problems& problems) {
    if (static_cast<double>(land.posts_m.size()) * static_cast<double>(plan.forms.size()) > most_form_posts) {
        problems.push_back({plan.landform_place, "terrain.landform",
                            std::to_string(plan.forms.size()) + " landforms on " + std::to_string(land.posts_m.size()) + " posts",
                            "at most 4 000 million landforms times posts", ""});
        return;
    }
    const double middle_column = 0.5 * (land.posts_m.columns() - 1);
    const double middle_row = 0.5 * (land.posts_m.rows() - 1);
    parallelFor(land.posts_m.rows(), threads, [&](int row) {
        for (int column = 0; column < land.posts_m.columns(); ++column) {
            double sum = 0.0;
            for (const Landform& form : plan.forms) {
                sum += form.at((column - middle_column) * land.spacing_m, (row - middle_row) * land.spacing_m);
            }
            land.posts_m.at(column, row) += static_cast<float>(sum);
        }
    });
}

}  // namespace

Landscape makeTerrain(const TerrainPlan& plan, const Materials& materials, int threads, Problems& problems) {
    if (plan.kind == TerrainPlan::Kind::island) {
        return makeIsland(
            plan.seed,
            [&](const std::string& name) {
                const auto found =
                    std::find_if(materials.begin(), materials.end(), [&](const Material& m) { return m.name == name; });
                if (found == materials.end())
                    throw InputError(Problem{
                        {"", 0, 0}, "material", "'" + name + "' is missing", "every material that the island is made of", ""});
                return static_cast<std::uint8_t>(found - materials.begin());
            },
            threads);
    }
    Landscape land;
    land.spacing_m = plan.spacing_m;
    if (plan.kind == TerrainPlan::Kind::level)
        land.posts_m = Raster<float>(plan.posts, plan.posts, static_cast<float>(plan.height_m));
    else readHeights(plan, land, problems);
    if (land.posts_m.empty()) return land;
    land.materials = Raster<std::uint8_t>(land.posts_m.columns() - 1, land.posts_m.rows() - 1, plan.material);
    if (!plan.materials.path.empty()) readMaterialMap(plan, land, problems);
    if (!plan.forms.empty()) addLandforms(plan, land, threads, problems);
    return land;
}

}  // namespace linefall
