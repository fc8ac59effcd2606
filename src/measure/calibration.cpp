#include "measure/calibration.h"

#include <cmath>

#include "base/constants.h"

namespace linefall {

const std::vector<std::string>& scaleNames() {
    static const std::vector<std::string> names{"counts", "radiance", "reflectance"};
    return names;
}

std::string unitOf(Scale scale) {
    switch (scale) {
        case Scale::counts: return "counts";
        case Scale::radiance: return "W m-2 sr-1 um-1";
        case Scale::reflectance: return "";
    }
    return "";
}

std::string cautionOf(Scale scale) {
    switch (scale) {
        case Scale::counts: return "";
        case Scale::radiance: return "radiance at the sensor, haze included";
        case Scale::reflectance: return "reflectance at the top of the air, as of level ground: air and slope are not taken off";
    }
    return "";
}

LineScale::LineScale(const Formation& formation, Scale scale, int line) : instrument_(&formation.instrument()), line_(line) {
    const LightPath& path = formation.lightPath();
    const std::size_t bands = instrument_->bands().size();
    bands_.resize(bands);
    if (scale == Scale::counts) return;

    falls_off_ = path.effects.cos4 && !instrument_->hasMirror();
    const double step_e = formation.image().step_e;
    const double dark_e = path.effects.dark_current ? instrument_->detector().dark_current_e_s * instrument_->derived().dwell_s : 0.0;
    const Sunlight sun = scale == Scale::reflectance ? formation.sun(line) : Sunlight{};
    defined_ = scale != Scale::reflectance || sun.up();
    for (std::size_t b = 0; b < bands; ++b) {
        double per_electron = 1.0 / electronsPerRadiance(*instrument_, static_cast<int>(b), path.wavelengths_um[b]);
        // The sun's irradiance is that at its distance: E_0 / d^2.
        if (scale == Scale::reflectance) per_electron *= constants::pi / (sun.irradiance_W_m2_um[b] * std::cos(sun.zenith_rad()));
        bands_[b] = {step_e * per_electron, (0.5 * step_e - dark_e) * per_electron};
        const Steps steps = stepsOf(path, static_cast<int>(b));
        if (steps.half_e <= 0.0) continue;
        soft_.resize(bands);
        soft_[b] = steps;
        bands_[b] = {per_electron, -dark_e * per_electron};
    }
}

double LineScale::softly(int band, double count) const {
    const Affine& a = bands_[static_cast<std::size_t>(band)];
    const Steps& steps = soft_[static_cast<std::size_t>(band)];
    return electronsOf(count + 0.5, steps) * a.per_count + a.offset;
}

void LineScale::valuesOf(int band, std::span<const std::uint16_t> counts, std::span<const double> falloffs, std::span<double> values) const {
    const Affine a = bands_[static_cast<std::size_t>(band)];
    if (!soft_.empty()) {
        for (std::size_t i = 0; i < counts.size(); ++i) values[i] = softly(band, counts[i]) / (falls_off_ ? falloffs[i] : 1.0);
        return;
    }
    if (falls_off_) {
        for (std::size_t i = 0; i < counts.size(); ++i) values[i] = (counts[i] * a.per_count + a.offset) / falloffs[i];
    } else {
        for (std::size_t i = 0; i < counts.size(); ++i) values[i] = counts[i] * a.per_count + a.offset;
    }
}

void LineScale::falloffsOf(int first, std::span<double> falloffs) const {
    if (!falls_off_) return;
    for (std::size_t i = 0; i < falloffs.size(); ++i) falloffs[i] = falloff(first + static_cast<int>(i));
}

double LineScale::falloff(int sample) const {
    if (!falls_off_) return 1.0;
    const double cosine = instrument_->offAxisCosine(line_, sample);
    return cosine * cosine * cosine * cosine;
}

}  // namespace linefall
