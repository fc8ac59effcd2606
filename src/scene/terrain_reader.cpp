#include "scene/terrain_reader.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace linefall {

namespace {

/// A path that a scene file names stands relative to that file.
NamedPicture pictureBeside(TableReader& r, const std::string& key, bool required) {
    const std::string path = r.text(key, "", required);
    NamedPicture picture{"", r.place(key)};
    if (!r.has(key) || !r.raw().get(key)->is_string()) return picture;
    if (path.empty() || path.size() > 4000 || path.find('\0') != std::string::npos) {
        r.refuse(key, "'" + path + "'", "the path of a PNG file, relative to this file");
        return picture;
    }
    const std::filesystem::path named(path);
    picture.path = named.is_absolute() ? path : (std::filesystem::path(r.file()).parent_path() / named).string();
    return picture;
}

std::uint8_t cellMaterial(TableReader& r, const Materials& materials) {
    return static_cast<std::uint8_t>(
        std::min<int>(materialIndex(materials, r.text("material", "green-grass"), r, "material"), 255));
}

void readLevel(TableReader& r, const Materials& materials, TerrainPlan& plan) {
    const double size = r.quantity("size", Kind::length, 2000.0, 2.0, 1e6);
    plan.spacing_m = r.quantity("spacing", Kind::length, 10.0, 0.01, 1e5);
    plan.height_m = r.quantity("height", Kind::length, 0.0, -1e4, 1e4);
    plan.material = cellMaterial(r, materials);
    plan.posts = static_cast<int>(std::lround(size / plan.spacing_m)) + 1;
    if (plan.posts < 2 || plan.posts > most_level_posts) {
        r.refuse("spacing", std::to_string(plan.posts) + " posts along a side (size / spacing + 1)",
                 "2 to " + std::to_string(most_level_posts) + " posts");
    }
}

void readHeightMap(TableReader& r, const Materials& materials, TerrainPlan& plan) {
    plan.heights = pictureBeside(r, "file", true);
    plan.spacing_m = r.quantity("spacing", Kind::length, 10.0, 0.01, 1e5, true);
    plan.lowest_m = r.quantity("lowest", Kind::length, 0.0, -12000.0, 12000.0, true);
    plan.highest_m = r.quantity("highest", Kind::length, 0.0, -12000.0, 12000.0, true);
    if (plan.highest_m < plan.lowest_m) r.refuse("highest", shortText(plan.highest_m, Kind::length), "a height not below lowest");
    plan.material = cellMaterial(r, materials);
    plan.materials = pictureBeside(r, "material_map", false);
    const toml::node* node = r.node("legend");
    if (node == nullptr) {
        if (r.has("material_map"))
            r.refuse("legend", "", "this key beside material_map: a list of names of materials, for values 0, 1, 2 ...");
        return;
    }
    if (!r.has("material_map")) r.refuse("legend", "a legend without a map", "material_map beside it, or neither");
    const toml::array* list = node->as_array();
    if (list == nullptr || list->empty() || list->size() > 256) {
        r.refuse("legend", list == nullptr ? shown(*node) : std::to_string(list->size()) + " names",
                 "a list of 1 to 256 names of materials, for values 0, 1, 2 ...");
        return;
    }
    for (const toml::node& name : *list) {
        if (!name.is_string()) {
            r.problems().push_back(
                {placeOf(name, r.file()), "terrain.legend", shown(name), "the name of a material in quotes", ""});
            continue;
        }
        plan.legend.push_back(
            static_cast<std::uint8_t>(std::min<int>(materialIndex(materials, writtenAs(name), r, "legend"), 255)));
    }
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
        f.radius_m = std::max(1e-3, std::abs(f.height_m) / std::tan(slope));
        if (r.has("radius")) r.refuse("slope", "both slope and radius", "either slope or radius: each follows from the other");
        if (f.kind == Landform::Kind::dome || f.kind == Landform::Kind::bump) {
            r.refuse("slope", "a slope", "a radius: the sides of a dome or bump are not straight");
        }
        r.know("radius");
    } else {
        f.radius_m = r.quantity("radius", Kind::length, 500.0, 0.1, 1e6, true);
        if (f.kind == Landform::Kind::dome && std::abs(f.height_m) > f.radius_m) {
            r.refuse("height", shortText(f.height_m, Kind::length),
                     "a dome no higher than its radius, " + shortText(f.radius_m, Kind::length));
        }
    }
    if (f.kind == Landform::Kind::ridge) {
        f.length_m = r.quantity("length", Kind::length, 1000.0, 0.1, 1e6);
        f.heading_rad = r.quantity("heading", Kind::angle, 0.0, -7.0, 7.0);
    }
    r.finish();
    return f;
}

}  // namespace

TerrainPlan readTerrain(TableReader& r, const Materials& materials) {
    TerrainPlan plan;
    const std::size_t before = r.problems().size();
    plan.kind = static_cast<TerrainPlan::Kind>(r.choice("kind", {"island", "level", "height-map"}, 1, true));
    if (r.problems().size() != before) return plan;  // without the kind no key can be judged
    if (plan.kind == TerrainPlan::Kind::island) {
        plan.seed = static_cast<std::uint64_t>(r.whole("seed", 1, 0, 1000000));
        r.finish();
        return plan;
    }
    if (plan.kind == TerrainPlan::Kind::level) readLevel(r, materials, plan);
    else readHeightMap(r, materials, plan);
    for (const toml::table* table : r.tables("landform")) plan.forms.push_back(readLandform(*table, r));
    plan.landform_place = r.place("landform");
    r.finish();
    return plan;
}

}  // namespace linefall
