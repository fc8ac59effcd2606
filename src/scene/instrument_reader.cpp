#include <set>

#include "scene/scene_files.h"
#include "scene/toml_reader.h"

namespace linefall {

namespace {

Band readBand(const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, "band", problems);
    Band b;
    b.name = r.text("name", "", true);
    b.from_um = 1e6 * r.quantity("from", Kind::length, 0.5e-6, 0.25e-6, 4e-6, true);
    b.to_um = 1e6 * r.quantity("to", Kind::length, 0.6e-6, 0.25e-6, 4e-6, true);
    b.edge_um = 1e6 * r.quantity("edge", Kind::length, 0.0, 0.0, 1e-6);
    b.quantum_efficiency = r.quantity("quantum_efficiency", Kind::ratio, 0.5, 1e-6, 1.0, true);
    if (b.to_um <= b.from_um) r.refuse("to", shortText(b.to_um * 1e-6, Kind::length), "a wavelength above 'from'");
    else if (b.edge_um > b.to_um - b.from_um) r.refuse("edge", shortText(b.edge_um * 1e-6, Kind::length), "an edge no wider than the band");
    r.finish();
    return b;
}

}  // namespace

void readInstrumentFile(const std::string& path, InstrumentSetup& setup, Problems& problems) {
    const auto file = parseTomlFile(path, problems);
    if (!file) return;
    TableReader r(*file, path, "", problems);
    std::vector<std::string> kinds;
    for (const InstrumentKind& kind : instrumentKinds()) kinds.push_back(kind.name);
    const std::size_t before = problems.size();
    setup.kind = kinds[static_cast<std::size_t>(r.choice("kind", kinds, 0, true))];
    setup.title = r.text("title", setup.kindOf().title);
    (void)r.text("description", "");
    for (const toml::table* table : r.tables("band")) setup.bands.push_back(readBand(*table, path, problems));
    if (setup.bands.empty() || setup.bands.size() > 16) {
        r.refuse("band", std::to_string(setup.bands.size()) + " bands", "1 to 16 tables [[band]] with name, from, to, quantum_efficiency");
    }
    std::set<std::string> names;
    for (const Band& band : setup.bands) {
        if (!names.insert(band.name).second) r.refuse("band", "'" + band.name + "' twice", "a different name for each band");
    }
    if (problems.size() != before && !r.has("kind")) return;  // without the kind no key can be judged
    readSettings(*file, path, "instrument.", setup.kindOf().rows, Layer::preset, {"kind", "title", "description", "band"},
                 setup.settings, problems);
}

}  // namespace linefall
