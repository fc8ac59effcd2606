#include "scene/place.h"

#include <algorithm>
#include <filesystem>

#include "base/angle.h"
#include "scene/scene.h"
#include "scene/scene_files.h"
#include "scene/terrain_reader.h"

namespace linefall {

namespace {

constexpr int sine_steps = 96;  // grey materials of a sine grating: steps of about 1 % of its range

Object readObject(const toml::table& table, TableReader& parent, const Materials& materials) {
    TableReader r(table, parent.file(), "object", parent.problems());
    Object o;
    o.shape = static_cast<Shape>(r.choice("shape", shapeNames(), 0, true));
    o.name = r.text("name", "");
    o.east_m = r.quantity("east", Kind::length, 0.0, -1e6, 1e6, true);
    o.north_m = r.quantity("north", Kind::length, 0.0, -1e6, 1e6, true);
    o.height_m = r.quantity("height", Kind::length, 10.0, 0.01, 1e4, true);
    const bool round = o.shape == Shape::cone || o.shape == Shape::cylinder || o.shape == Shape::dome;
    if (round) {
        o.length_m = r.quantity("diameter", Kind::length, 10.0, 0.01, 1e5, true);
        o.width_m = o.length_m;
    } else {
        o.length_m = r.quantity("length", Kind::length, 10.0, 0.01, 1e5, true);
        o.width_m = r.quantity("width", Kind::length, o.shape == Shape::wall ? 0.3 : o.length_m, 0.01, 1e5);
        o.heading_rad = r.quantity("heading", Kind::angle, 0.0, -7.0, 7.0);
    }
    if (o.shape == Shape::gable) o.eaves_share = r.quantity("eaves", Kind::ratio, 0.6, 0.05, 0.99);
    const std::string top = r.text("material", "concrete");
    o.top_material = materialIndex(materials, top, r, "material");
    o.side_material = materialIndex(materials, r.text("sides", top), r, "sides");
    r.finish();
    return o;
}

Paint readPaint(const toml::table& table, TableReader& parent, Materials& materials) {
    TableReader r(table, parent.file(), "paint", parent.problems());
    Paint p;
    p.pattern = static_cast<Pattern>(r.choice("pattern", patternNames(), 0));
    p.name = r.text("name", "");
    p.east_m = r.quantity("east", Kind::length, 0.0, -1e6, 1e6, true);
    p.north_m = r.quantity("north", Kind::length, 0.0, -1e6, 1e6, true);
    p.length_m = r.quantity("length", Kind::length, 10.0, 0.01, 1e6, true);
    p.width_m = r.quantity("width", Kind::length, p.length_m, 0.01, 1e6);
    p.heading_rad = r.quantity("heading", Kind::angle, 0.0, -7.0, 7.0);
    if (p.pattern != Pattern::solid) p.period_m = r.quantity("period", Kind::length, 2.0, 1e-3, 1e6, true);
    if (p.pattern == Pattern::grid) p.line_width_m = r.quantity("line_width", Kind::length, 1.0, 1e-3, 1e5, true);
    if (p.pattern == Pattern::sine) {
        const double low = r.quantity("low", Kind::ratio, 0.1, 0.0, 1.0, true);
        const double high = r.quantity("high", Kind::ratio, 0.9, 0.0, 1.0, true);
        p.material = static_cast<std::uint16_t>(materials.size());
        p.count = sine_steps;
        for (int i = 0; i < sine_steps; ++i) {
            const double grey = low + (high - low) * (i + 0.5) / sine_steps;
            materials.push_back({p.name + " grey " + std::to_string(i), "grey of a sine grating", Spectrum::constant(grey), false, "the place's own"});
        }
    } else {
        p.material = materialIndex(materials, r.text("material", "", true), r, "material");
        if (p.pattern == Pattern::bars) p.other = materialIndex(materials, r.text("other", "", true), r, "other");
    }
    r.finish();
    return p;
}

}  // namespace

std::shared_ptr<const PlaceData> loadPlace(const std::string& name_or_path, bool make_ground, int threads) {
    Problems problems;
    const std::string path = resolveSceneFile("places", name_or_path, problems);
    if (!problems.empty()) throw InputError(problems);
    auto place = std::make_shared<PlaceData>();
    place->name = name_or_path;
    readPlace(path, *place, make_ground, threads, problems);
    if (!problems.empty()) throw InputError(problems);
    return place;
}

void readPlace(const std::string& path, PlaceData& place, bool make_ground, int threads, Problems& problems) {
    const std::string common_path = scenesFolder() + "/materials.toml";
    if (const auto common = parseTomlFile(common_path, problems)) {
        TableReader r(*common, common_path, "", problems);
        readMaterials(r, place.materials);
        r.finish();
    }
    const auto file = parseTomlFile(path, problems);
    if (!file) return;
    TableReader r(*file, path, "", problems);
    place.title = r.text("title", std::filesystem::path(path).stem().string());
    place.description = r.text("description", "");
    place.site.latitude_rad = r.quantity("latitude", Kind::angle, 0.0, radiansFromDegrees(-90.0), radiansFromDegrees(90.0));
    place.site.longitude_rad = r.quantity("longitude", Kind::angle, 0.0, radiansFromDegrees(-180.0), radiansFromDegrees(180.0));
    place.site.altitude_m = r.quantity("altitude", Kind::length, 0.0, -500.0, 9000.0);
    place.utc_offset_s = r.quantity("clock", Kind::time, 0.0, -14.0 * 3600.0, 14.0 * 3600.0);
    readMaterials(r, place.materials);
    if (place.materials.size() > 255) r.refuse("material", std::to_string(place.materials.size()) + " materials", "at most 255 in all");
    const std::uint16_t beyond = materialIndex(place.materials, r.text("beyond", "water"), r, "beyond");
    std::vector<Object> objects;
    for (const toml::table* table : r.tables("object")) objects.push_back(readObject(*table, r, place.materials));
    std::vector<Paint> paints;
    for (const toml::table* table : r.tables("paint")) paints.push_back(readPaint(*table, r, place.materials));
    if (place.materials.size() > 60000) r.refuse("paint", "too many sine gratings", "at most 600 of them");
    r.know("flight");
    const toml::table* terrain = r.table("terrain");
    if (terrain == nullptr) {
        if (!r.has("terrain")) r.refuse("terrain", "", "a table [terrain]; it is missing");
        r.finish();
        return;
    }
    r.finish();
    if (!make_ground) return;
    TableReader t(*terrain, path, "terrain", problems);
    try {
        Landscape land = readTerrain(t, place.materials, threads);
        if (!problems.empty() || land.posts_m.empty()) return;
        land.objects.insert(land.objects.end(), objects.begin(), objects.end());
        place.ground = std::make_shared<Ground>(HeightField(std::move(land.posts_m), land.spacing_m), std::move(land.materials),
                                                std::move(land.objects), beyond, std::move(paints));
    } catch (const InputError& e) {
        problems.insert(problems.end(), e.problems().begin(), e.problems().end());
    }
}

}  // namespace linefall
