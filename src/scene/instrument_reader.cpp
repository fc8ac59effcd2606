#include <algorithm>
#include <set>

#include "physics/pigment.h"
#include "scene/scene_files.h"
#include "scene/toml_reader.h"

namespace linefall {

namespace {

Band readBand(const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, "band", problems);
    Band b;
    b.name = r.name("name");
    // The name becomes part of a file's name.
    const auto plain = [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ' || c == '-' || c == '_';
    };
    if (!std::all_of(b.name.begin(), b.name.end(), plain) || b.name.size() > 40) {
        r.refuse("name", "'" + b.name + "'", "at most 40 letters a to z, digits, spaces, '-' and '_'");
        b.name.clear();
    }
    const bool pigment = r.has("receptor");  // then the band is a pigment's curve, whole unless it is cut
    if (pigment) {
        b.receptor = receptorNames()[static_cast<std::size_t>(r.choice("receptor", receptorNames(), 0, true))];
        b.response = pigmentSpectrum(b.receptor);
    }
    b.from_um = 1e6 * r.quantity("from", Kind::length, pigment ? 1e-6 * pigment_from_um : 0.5e-6, 0.25e-6, 4e-6, !pigment);
    b.to_um = 1e6 * r.quantity("to", Kind::length, pigment ? 1e-6 * pigment_to_um : 0.6e-6, 0.25e-6, 4e-6, !pigment);
    if (pigment && r.has("edge")) r.refuse("edge", "an edge", "no edge: a receptor's band has its pigment's curve");
    b.edge_um = 1e6 * r.quantity("edge", Kind::length, 0.0, 0.0, 1e-6);
    b.quantum_efficiency = r.quantity("quantum_efficiency", Kind::ratio, 0.5, 1e-6, 1.0, true);
    if (b.to_um <= b.from_um) r.refuse("to", shortText(b.to_um * 1e-6, Kind::length), "a wavelength above 'from'");
    else if (b.edge_um > b.to_um - b.from_um)
        r.refuse("edge", shortText(b.edge_um * 1e-6, Kind::length), "an edge no wider than the band");
    r.finish();
    return b;
}

}  // namespace

void readInstrument(const toml::table& file, const std::string& path, InstrumentSetup& setup, Problems& problems) {
    TableReader r(file, path, "", problems);
    std::vector<std::string> kinds;
    for (const InstrumentKind& kind : instrumentKinds()) kinds.push_back(kind.name);
    const std::size_t before = problems.size();
    setup.kind = kinds[static_cast<std::size_t>(r.choice("kind", kinds, 0, true))];
    const bool kind_known = problems.size() == before;
    setup.title = r.text("title", setup.kindOf().title);
    (void)r.text("description", "");
    const std::size_t before_bands = problems.size();
    std::set<std::string> names;
    for (const toml::table* table : r.tables("band")) {
        setup.bands.push_back(readBand(*table, path, problems));
        const std::string& name = setup.bands.back().name;
        if (!name.empty() && !names.insert(name).second) {
            problems.push_back(
                {placeOf(*table->get("name"), path), "band.name", "'" + name + "' again", "a name that no other band has", ""});
        }
    }
    if ((setup.bands.empty() && problems.size() == before_bands) || setup.bands.size() > 16) {
        r.refuse("band", std::to_string(setup.bands.size()) + " bands",
                 "1 to 16 tables [[band]] with name, from, to, quantum_efficiency");
    }
    if (!kind_known) return;  // without the kind no key can be judged
    readSettings(file, path, "instrument.", setup.kindOf().rows, Layer::preset, {"kind", "title", "description", "band"},
                 setup.settings, problems);
}

}  // namespace linefall
