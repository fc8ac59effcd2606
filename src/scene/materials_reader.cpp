#include "scene/materials_reader.h"

namespace linefall {

namespace {

constexpr std::size_t most_materials = 255;  // a cell of the terrain names its own by one byte
constexpr double least_um = 0.2;
constexpr double most_um = 20.0;

/// One ["480 nm", 0.043] of a reflectance; adds problems.
std::optional<Spectrum::Point> readPoint(const toml::node& node, TableReader& reader) {
    const Place place = placeOf(node, reader.file());
    const toml::array* pair = node.as_array();
    if (pair == nullptr || pair->size() != 2) {
        reader.problems().push_back({place, "reflectance", shown(node), "a point like [\"480 nm\", 0.043]", ""});
        return std::nullopt;
    }
    const Parameter wavelength{"wavelength", Kind::length, 0.0, least_um * 1e-6, most_um * 1e-6, false, {}, {}, "", false};
    const Parameter share{"reflectance", Kind::ratio, 0.0, 0.0, 1.0, false, {}, {}, "", false};
    const auto w = readValue(wavelength, writtenAs(*pair->get(0)), placeOf(*pair->get(0), reader.file()), reader.problems());
    const auto r = readValue(share, writtenAs(*pair->get(1)), placeOf(*pair->get(1), reader.file()), reader.problems());
    if (!w || !r) return std::nullopt;
    return Spectrum::Point{std::get<double>(*w) * 1e6, std::get<double>(*r)};
}

Spectrum readReflectance(TableReader& reader) {
    const toml::node* node = reader.node("reflectance");
    if (node == nullptr) {
        reader.refuse("reflectance", "", "this key; it is missing");
        return Spectrum::constant(0.0);
    }
    const toml::array* array = node->as_array();
    if (array == nullptr) return Spectrum::constant(reader.quantity("reflectance", Kind::ratio, 0.0, 0.0, 1.0));
    std::vector<Spectrum::Point> points;
    for (const toml::node& element : *array) {
        const auto point = readPoint(element, reader);
        if (!point) continue;
        if (!points.empty() && point->wavelength_um <= points.back().wavelength_um) {
            reader.problems().push_back({placeOf(element, reader.file()), "reflectance",
                                         "a wavelength not above the one before it", "wavelengths in rising order", ""});
            continue;
        }
        points.push_back(*point);
    }
    if (points.empty()) {
        reader.refuse("reflectance", "no points", "at least one point like [\"480 nm\", 0.043], or one share like \"18 %\"");
        return Spectrum::constant(0.0);
    }
    return Spectrum(std::move(points));
}

}  // namespace

void readMaterials(TableReader& reader, Materials& materials) {
    for (const toml::table* table : reader.tables("material")) {
        if (materials.size() >= most_materials) {
            reader.problems().push_back({placeOf(*table, reader.file()), "material", "one more material",
                                         "at most " + std::to_string(most_materials) + " in all", ""});
            return;
        }
        TableReader r(*table, reader.file(), "material", reader.problems());
        Material m;
        m.name = r.name("name");
        m.title = r.text("title", m.name);
        m.source = r.text("source", "the place's own");
        m.water = r.flag("water", false);
        m.reflectance = readReflectance(r);
        for (const Material& other : materials) {
            if (other.name == m.name && !m.name.empty())
                r.refuse("name", "'" + m.name + "'", "a name that no other material has");
        }
        r.finish();
        materials.push_back(std::move(m));
    }
}

std::uint16_t materialIndex(const Materials& materials, const std::string& name, TableReader& reader, const std::string& key) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < materials.size(); ++i) {
        if (materials[i].name == name) return static_cast<std::uint16_t>(i);
        names.push_back(materials[i].name);
    }
    reader.refuse(key, "'" + name + "'", "the name of a material", nearestName(name, names));
    return 0;
}

}  // namespace linefall
