#include "instruments/push_broom.h"

#include <algorithm>
#include <cmath>

namespace linefall {

const Keys<PushBroomSettings>& pushBroomKeys() {
    using P = PushBroomSettings;
    static const Keys<P> keys = [] {
        Keys<P> k("instrument.");
        addFocalPlaneRows(k);
        k.derived("line_rate", Kind::frequency, &P::line_rate_Hz, 1e-4, 1e7, "image lines a second; auto: square pixels on level ground")
            .number("duty_cycle", Kind::ratio, &P::duty_cycle, 1.0, 0.001, 1.0, "share of the line period in which light is gathered");
        return k;
    }();
    return keys;
}

PushBroom::PushBroom(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems) {
    takeCommon(settings, std::move(bands), flight);
    const PushBroomSettings s = pushBroomKeys().read(settings);
    Derived& d = derived_;
    solveFocalPlane(s, 0.1, 1e-5, 1000, d, problems);
    d.detectors = d.samples;
    d.line_rate_Hz = s.line_rate_Hz.value_or(flight.speed_m_s / (flight.height_m * d.ifov_rad));
    d.line_period_s = 1.0 / d.line_rate_Hz;
    d.scan_period_s = d.line_period_s;
    d.duty_cycle = s.duty_cycle;
    d.dwell_s = d.duty_cycle * d.line_period_s;
    centres_.reserve(static_cast<std::size_t>(d.samples));
    for (int sample = 0; sample < d.samples; ++sample) centres_.push_back(direction(sample, Offset{}));
    const double lines = std::max(1.0, std::floor(flight.length_m / flight.speed_m_s / d.line_period_s * (1.0 + 1e-9)));
    if (lines > 1e6) {
        problems.push_back({{"instrument", 0, 0}, "instrument.line_rate", shortText(d.line_rate_Hz, Kind::frequency, 6),
                            "at most 1 000 000 lines in the flight", ""});
    }
    d.lines = static_cast<int>(std::min(lines, 1e6));
}

Vec3 PushBroom::direction(int sample, const Offset& offset) const {
    const Derived& d = derived_;
    const double starboard = (0.5 * d.samples - sample - 0.5 - offset.across) * d.detector_pitch_m;
    return focalPlaneDirection(starboard, offset.along * d.detector_pitch_m, d.focal_length_m);
}

PlatformLook PushBroom::look(int line, int sample, const Offset& offset) const {
    return {direction(sample, offset), lookTime_s(line, sample, offset.dwell_share)};
}

double PushBroom::lookTime_s(int line, int, double dwell_share) const {
    return lineTime_s(line) + dwell_share * derived_.dwell_s;
}

double PushBroom::offAxisCosine(int, int sample) const {
    const double starboard = (0.5 * derived_.samples - sample - 0.5) * derived_.detector_pitch_m;
    return derived_.focal_length_m / std::sqrt(derived_.focal_length_m * derived_.focal_length_m + starboard * starboard);
}

std::optional<FieldPoint> PushBroom::field(double share, bool curved) const {
    const Derived& d = derived_;
    // A flat focal plane: a detector off the axis sees pitch cos^2(t) / f across and pitch cos(t) / f along.
    const double angle = std::atan(share * 0.5 * d.samples * d.detector_pitch_m / d.focal_length_m);
    const double c = std::cos(angle);
    return project(angle, d.ifov_rad * c * c, d.ifov_rad * c, d.ifov_rad * c * c, curved);
}

}  // namespace linefall
