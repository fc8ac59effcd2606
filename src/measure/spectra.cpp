#include "measure/spectra.h"

#include <algorithm>
#include <map>

namespace linefall {

std::vector<MaterialSpectrum> spectraUnder(const Formation& formation, int line, int sample) {
    const LightPath& path = formation.lightPath();
    std::map<std::uint16_t, int> looks;
    for (const Offset& offset : path.offsets) {
        const GroundHit hit = path.ground->intersect(formation.ray(line, sample, offset));
        if (hit.meets != Meets::sky) ++looks[hit.material];
    }
    std::vector<MaterialSpectrum> out;
    for (const auto& [index, count] : looks) {
        const Material& material = formation.place().materials.at(index);
        MaterialSpectrum spectrum{material.name, material.title, material.source, count / static_cast<double>(path.offsets.size()),
                                  material.water, material.reflectance, {}};
        for (const std::vector<double>& band : path.reflectances) spectrum.band_means.push_back(band[index]);
        out.push_back(std::move(spectrum));
    }
    std::stable_sort(out.begin(), out.end(), [](const MaterialSpectrum& a, const MaterialSpectrum& b) { return a.share > b.share; });
    return out;
}

std::vector<Spectrum::Point> responseCorners(const Band& band) {
    if (!band.response.empty()) {
        std::vector<Spectrum::Point> curve;
        for (const Spectrum::Point& p : band.response.points()) {
            if (p.wavelength_um >= band.from_um && p.wavelength_um <= band.to_um) curve.push_back(p);
        }
        return curve;
    }
    const double half = 0.5 * band.edge_um;
    return {{band.from_um - half, 0.0}, {band.from_um + half, 1.0}, {band.to_um - half, 1.0}, {band.to_um + half, 0.0}};
}

}  // namespace linefall
