#include "scene/place_reader.h"

#include <filesystem>

#include "base/angle.h"
#include "scene/scene.h"

namespace linefall {

namespace {

constexpr int sine_steps = 96;  // grey materials of a sine grating: steps of about 1 % of its range

Object readObject(const toml::table& table, TableReader& parent, const Materials& materials) {
    TableReader r(table, parent.file(), "object", parent.problems());
    Object o;
    const std::size_t before = r.problems().size();
    o.shape = static_cast<Shape>(r.choice("shape", shapeNames(), 0, true));
    if (r.problems().size() != before) return o;  // without the shape no key can be judged
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
    o.speed_m_s = r.quantity("speed", Kind::speed, 0.0, 0.0, 400.0);
    o.track_rad = r.quantity("track", Kind::angle, o.heading_rad, -7.0, 7.0);
    if (r.has("track") && !r.has("speed")) r.refuse("track", shown(*r.node("track")), "a speed beside it: without one an object stands still");
    if (o.shape == Shape::gable) o.eaves_share = r.quantity("eaves", Kind::ratio, 0.6, 0.05, 0.99);
    const std::string top = r.text("material", "concrete");
    o.top_material = materialIndex(materials, top, r, "material");
    o.side_material = r.has("sides") ? materialIndex(materials, r.text("sides", top), r, "sides") : o.top_material;
    r.finish();
    return o;
}

/// A material that a paint must name; told once when it is missing.
std::uint16_t paintMaterial(TableReader& r, const Materials& stated, const std::string& key) {
    const std::string name = r.text(key, "", true);
    return r.has(key) ? materialIndex(stated, name, r, key) : std::uint16_t{0};
}

Paint readPaint(const toml::table& table, TableReader& parent, const Materials& stated, Materials& materials) {
    TableReader r(table, parent.file(), "paint", parent.problems());
    Paint p;
    const std::size_t before = r.problems().size();
    p.pattern = static_cast<Pattern>(r.choice("pattern", patternNames(), 0));
    if (r.problems().size() != before) return p;  // without the pattern no key can be judged
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
            materials.push_back({p.name + " grey " + std::to_string(i), "grey of a sine grating", Spectrum::constant(grey), false,
                                 "the place's own"});
        }
    } else {
        p.material = paintMaterial(r, stated, "material");
        if (p.pattern == Pattern::bars) p.other = paintMaterial(r, stated, "other");
    }
    r.finish();
    return p;
}

/// Adds the materials that every place has.
void readCommonMaterials(Materials& materials, Problems& problems) {
    const std::string path = scenesFolder() + "/materials.toml";
    const auto common = parseTomlFile(path, problems);
    if (!common) return;
    TableReader r(*common, path, "", problems);
    readMaterials(r, materials);
    r.finish();
}

}  // namespace

void readPlace(const toml::table& file, const std::string& path, PlacePlan& plan, Problems& problems) {
    PlaceData& place = plan.data;
    readCommonMaterials(place.materials, problems);
    TableReader r(file, path, "", problems);
    place.title = r.text("title", std::filesystem::path(path).stem().string());
    place.description = r.text("description", "");
    place.site.latitude_rad = r.quantity("latitude", Kind::angle, 0.0, radiansFromDegrees(-90.0), radiansFromDegrees(90.0));
    place.site.longitude_rad = r.quantity("longitude", Kind::angle, 0.0, radiansFromDegrees(-180.0), radiansFromDegrees(180.0));
    place.site.altitude_m = r.quantity("altitude", Kind::length, 0.0, -500.0, 9000.0);
    place.utc_offset_s = r.quantity("clock", Kind::time, 0.0, -14.0 * 3600.0, 14.0 * 3600.0);
    readMaterials(r, place.materials);
    plan.beyond = materialIndex(place.materials, r.text("beyond", "water"), r, "beyond");
    // Sine gratings add materials of their own: names are looked up among the stated ones alone.
    const Materials stated = place.materials;
    for (const toml::table* table : r.tables("object")) {
        plan.objects.push_back(readObject(*table, r, stated));
        plan.object_places.push_back(placeOf(*table, path));
    }
    for (const toml::table* table : r.tables("paint")) plan.paints.push_back(readPaint(*table, r, stated, place.materials));
    if (place.materials.size() > 60000) r.refuse("paint", "too many sine gratings", "at most 600 of them");
    if (const toml::table* terrain = r.table("terrain")) {
        TableReader t(*terrain, path, "terrain", problems);
        plan.terrain = readTerrain(t, stated);
    } else if (!r.has("terrain")) {
        r.refuse("terrain", "", "a table [terrain]; it is missing");
    }
    r.finish();
}

}  // namespace linefall
