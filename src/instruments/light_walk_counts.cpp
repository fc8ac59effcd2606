// The walk from the radiance at the sensor to the number: optics, detector, noise, converter.

#include <limits>

#include "instruments/light_walk.h"
#include "instruments/trace_inputs.h"

namespace linefall {

double fullWell_e(const LightPath& path) {
    return path.effects.saturation ? path.instrument->detector().full_well_e : std::numeric_limits<double>::infinity();
}

Steps stepsOf(const LightPath& path, int band) {
    Steps steps = stepsOf(path.instrument->converter(), path.instrument->detector().full_well_e, path.effects.quantisation);
    if (band >= 0) steps.half_e = path.instrument->bands()[static_cast<std::size_t>(band)].half_saturation_e;
    return steps;
}

LightPath::Looks LightPath::looksOf(int band) const {
    if (!instrument->hasReceptors()) return {0, offsets.size()};
    const std::size_t each = offsets.size() / instrument->bands().size();
    const auto b = static_cast<std::size_t>(band);
    return {b * each, (b + 1) * each};
}

NoiseKey LightPath::noiseKey(int line, int sample, int band) const {
    const NoiseKey own{noise_seed, static_cast<std::uint32_t>(line), static_cast<std::uint32_t>(sample), static_cast<std::uint32_t>(band)};
    if (!instrument->hasReceptors()) return own;
    const std::optional<ReceptorRead> read = instrument->receptorOf(line, sample, band);
    return read ? NoiseKey{noise_seed, 0, static_cast<std::uint32_t>(read->id), own.band} : own;
}

double electronsPerRadiance(const Instrument& instrument, int band, double effective_wavelength_um) {
    const Band& b = instrument.bands()[static_cast<std::size_t>(band)];
    const double pitch = instrument.derived().detector_pitch_m;
    return irradiancePerRadiance(instrument.optics().f_number, instrument.optics().transmission) * pitch * pitch * b.width_um() *
           instrument.derived().dwell_s * b.quantum_efficiency / photonEnergy_J(effective_wavelength_um);
}

void walkToCounts(const LightPath& path, std::span<const float> radiance, const LinePart& part, std::span<std::uint16_t> counts,
                  Trace* trace) {
    const Instrument& instrument = *path.instrument;
    const std::size_t n = static_cast<std::size_t>(part.count);
    std::vector<double> light(n), power(n), electrons(n), read(n), off_axis, gain, offset;
    if (path.effects.cos4 && !instrument.hasMirror()) {
        off_axis.resize(n);
        for (std::size_t i = 0; i < n; ++i) off_axis[i] = instrument.offAxisCosine(part.line, part.first + static_cast<int>(i));
    }
    std::vector<std::size_t> detectors;
    std::vector<NoiseKey> keys;  // of each sample, where pixels share receptors
    if (path.effects.pattern) {
        detectors.resize(n);
        gain.resize(n);
        offset.resize(n);
        for (std::size_t i = 0; i < n; ++i) {
            detectors[i] = static_cast<std::size_t>(instrument.detectorOf(part.line, part.first + static_cast<int>(i)));
        }
    }
    for (std::size_t band = 0; band < instrument.bands().size(); ++band) {
        const Band& b = instrument.bands()[band];
        const Steps steps = stepsOf(path, static_cast<int>(band));
        if (instrument.hasReceptors()) {
            keys.resize(n);
            for (std::size_t i = 0; i < n; ++i) {
                keys[i] = path.noiseKey(part.line, part.first + static_cast<int>(i), static_cast<int>(band));
                if (path.effects.pattern) detectors[i] = keys[i].first_sample;
            }
        }
        for (std::size_t i = 0; i < n; ++i) light[i] = static_cast<double>(radiance[band * n + i]);

        const double pitch = instrument.derived().detector_pitch_m;
        const double factor = irradiancePerRadiance(instrument.optics().f_number, instrument.optics().transmission);
        gatherLight({light}, off_axis, factor, pitch * pitch, b.width_um(), {power});

        if (path.effects.pattern) {
            const DetectorPattern& pattern = path.patterns[band];
            for (std::size_t i = 0; i < n; ++i) {
                gain[i] = pattern.gain[detectors[i]];
                offset[i] = pattern.offset_e[detectors[i]];
            }
        }
        Dwell dwell;
        dwell.time_s = instrument.derived().dwell_s;
        const double wavelength = path.wavelengths_um[band];
        dwell.electrons_per_joule = b.quantum_efficiency / photonEnergy_J(wavelength);
        dwell.dark_e = path.effects.dark_current ? instrument.detector().dark_current_e_s * dwell.time_s : 0.0;
        dwell.full_well_e = fullWell_e(path);
        gatherElectrons({power}, dwell, gain, offset, {electrons});

        const NoiseKinds kinds{path.effects.shot_noise, path.effects.read_noise ? instrument.noise().read_noise_e : 0.0};
        if (keys.empty()) {
            addNoise({electrons}, kinds, path.noiseKey(part.line, part.first, static_cast<int>(band)), {read});
        } else {
            for (std::size_t i = 0; i < n; ++i) addNoise({std::span(electrons).subspan(i, 1)}, kinds, keys[i], {std::span(read).subspan(i, 1)});
        }
        writeCounts({read}, steps, {counts.subspan(band * n, n)});

        if (trace != nullptr) {
            const int at = static_cast<int>(band);
            trace->add("optics", "N", "f-number", instrument.optics().f_number, "", at);
            trace->add("optics", "t_o", "transmission of the optics", instrument.optics().transmission, "", at);
            trace->add("optics", "cos a", "cosine of the angle off the axis", off_axis.empty() ? 1.0 : off_axis[0], "", at);
            trace->add("optics", "p", "detector pitch", pitch, "m", at);
            trace->add("optics", "dlambda", "width of the band", b.width_um(), "um", at);
            trace->add("optics", "P", "power on the detector", power[0], "W", at);
            trace->add("detector", "t_d", "dwell time", dwell.time_s, "s", at);
            trace->add("detector", "eta", "quantum efficiency", b.quantum_efficiency, "", at);
            trace->add("detector", "lambda", "effective wavelength", wavelength, "um", at);
            trace->add("detector", "g", "gain of this detector", gain.empty() ? 1.0 : gain[0], "", at);
            trace->add("detector", "o", "offset of this detector", offset.empty() ? 0.0 : offset[0], "e", at);
            trace->add("detector", "n_d", "dark electrons", dwell.dark_e, "e", at);
            trace->add("detector", "n_w", "full well", instrument.detector().full_well_e, "e", at);
            trace->add("detector", "n_e", "expected electrons", electrons[0], "e", at);
            trace->add("detector", "sigma_r", "read noise", kinds.read_e, "e", at);
            trace->add("detector", "n", "electrons read out, with noise", read[0], "e", at);
            if (steps.half_e > 0.0) trace->add("counts", "h", "electrons that give half of the largest reading", steps.half_e, "e", at);
            else trace->add("counts", "q", "electrons a count", steps.step_e, "e", at);
            trace->add("counts", "DN_max", "largest count", steps.most, "counts", at);
            trace->add("counts", "DN", "number written down", counts[band * n], "counts", at);
        }
    }
    if (trace != nullptr) traceReadout(path, part, *trace);
}

}  // namespace linefall
