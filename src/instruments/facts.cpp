#include "instruments/facts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/constants.h"
#include "physics/detector.h"

namespace linefall {

namespace {

std::optional<FieldFacts> fieldFacts(const Instrument& instrument, const FlightFrame& flight, bool curved) {
    const auto nadir = instrument.field(0.0, curved);
    const auto edge = instrument.field(1.0, curved);
    if (!nadir || !edge) return std::nullopt;
    FieldFacts f;
    f.nadir = *nadir;
    f.edge = *edge;
    f.swath_m = 2.0 * edge->ground_distance_m;
    const Derived& d = instrument.derived();
    if (d.line_period_s > 0.0) {
        f.spacing_along_m = flight.speed_m_s * d.line_period_s;
        // A scan of n detectors covers n footprints along the track while the platform moves on by one scan period.
        const double advance = flight.speed_m_s * d.scan_period_s;
        f.overlap_nadir_m = d.lines_at_once * nadir->cell.along_m - advance;
        f.overlap_edge_m = d.lines_at_once * edge->cell.along_m - advance;
    } else {
        f.spacing_along_m = nadir->cell.along_m;
    }
    return f;
}

}  // namespace

Facts factsOf(const Instrument& instrument, const FlightFrame& flight, const LightPath& path, const Weather& weather) {
    Facts facts;
    const Derived& d = instrument.derived();
    facts.derived = d;
    facts.own = instrument.ownFacts();
    facts.caution = instrument.caution();
    facts.flat = fieldFacts(instrument, flight, false).value_or(FieldFacts{});
    facts.curved = fieldFacts(instrument, flight, true);
    facts.earth_radius_m = flight.earth_radius_m;
    if (!facts.curved) facts.curved_reason = "the edge of the field looks past the Earth";
    const double bits_a_line = static_cast<double>(d.samples) * static_cast<double>(instrument.bands().size()) * instrument.converter().bits;
    facts.bits_per_s = d.line_period_s > 0.0 ? bits_a_line / d.line_period_s : bits_a_line * d.lines;

    // The reference panel: level, at datum, under the same sun and air, seen at nadir, walked by the same stages.
    const std::array<double, 1> height{0.0};
    const std::array<double, 1> air_mass{relativeAirMass(0.0)};
    const std::array<double, 1> scattering{-weather.sun.towards.z};
    std::array<double, 1> beam{}, sky{}, transmission{}, haze{};
    const double read_e = path.effects.read_noise ? instrument.noise().read_noise_e : 0.0;
    const double dark_e = path.effects.dark_current ? instrument.detector().dark_current_e_s * d.dwell_s : 0.0;
    for (int b = 0; b < static_cast<int>(instrument.bands().size()); ++b) {
        const auto k = static_cast<std::size_t>(b);
        BandFacts f;
        f.name = instrument.bands()[k].name;
        const double irradiance = weather.sun.irradiance_W_m2_um[k];
        weather.air.down(b, height, beam, sky);
        weather.air.up(b, flight.height_m, height, air_mass, scattering, transmission, haze);
        const double on_surface = irradiance * (beam[0] * std::max(0.0, weather.sun.towards.z) + (path.effects.skylight ? sky[0] : 0.0));
        f.reference_radiance = facts.reference_reflectance * on_surface / constants::pi * transmission[0] + haze[0] * irradiance;
        const double electrons_per_radiance = electronsPerRadiance(instrument, b, path.wavelengths_um[k]);
        f.signal_e = f.reference_radiance * electrons_per_radiance;
        const double noise_e = std::sqrt((path.effects.shot_noise ? f.signal_e + dark_e : 0.0) + read_e * read_e);
        f.snr = noise_e > 0.0 ? f.signal_e / noise_e : std::numeric_limits<double>::infinity();
        f.noise_equivalent_radiance = noise_e / electrons_per_radiance;
        const Steps steps = stepsOf(path, b);
        const double most_e = std::min(instrument.detector().full_well_e, electronsOf(steps.most + (steps.half_e > 0.0 ? 0.0 : 1.0), steps));
        f.saturation_radiance = std::max(0.0, most_e - dark_e) / electrons_per_radiance;
        facts.bands.push_back(f);
    }
    return facts;
}

}  // namespace linefall
