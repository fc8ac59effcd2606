#include "instruments/frame_camera.h"

#include <cmath>

namespace linefall {

const Keys<FrameCameraSettings>& frameCameraKeys() {
    using F = FrameCameraSettings;
    static const Keys<F> keys = [] {
        Keys<F> k("instrument.");
        addFocalPlaneRows(k);
        k.count("rows", &F::rows, 800, 1, 65536, "detectors along the track")
            .number("exposure", Kind::time, &F::exposure_s, 2e-3, 1e-6, 60.0, "time for which the shutter is open")
            .number("station", Kind::ratio, &F::station, 0.5, 0.0, 1.0, "where along the flight the frame is taken");
        return k;
    }();
    return keys;
}

FrameCamera::FrameCamera(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems) {
    takeCommon(settings, std::move(bands), flight);
    const FrameCameraSettings s = frameCameraKeys().read(settings);
    Derived& d = derived_;
    solveFocalPlane(s, 0.1, 1e-5, 1000, d, problems);
    d.lines = s.rows;
    d.lines_at_once = s.rows;
    if (static_cast<double>(d.samples) * s.rows > 4e8) {
        problems.push_back({{"instrument", 0, 0}, "instrument.rows", std::to_string(s.rows) + " rows of " + std::to_string(d.samples),
                            "at most 400 million detectors", ""});
        d.lines = 1;
    }
    d.detectors = d.samples * d.lines;
    d.dwell_s = s.exposure_s;
    time_s_ = s.station * flight.length_m / flight.speed_m_s;
}

PlatformLook FrameCamera::look(int line, int sample, const Offset& offset) const {
    const Derived& d = derived_;
    const double starboard = (0.5 * d.samples - sample - 0.5 - offset.across) * d.detector_pitch_m;
    const double forward = (line + 0.5 - 0.5 * d.lines + offset.along) * d.detector_pitch_m;
    return {focalPlaneDirection(starboard, forward, d.focal_length_m), lookTime_s(line, sample, offset.dwell_share)};
}

double FrameCamera::lookTime_s(int, int, double dwell_share) const { return time_s_ + dwell_share * derived_.dwell_s; }

double FrameCamera::offAxisCosine(int line, int sample) const {
    const Derived& d = derived_;
    const double starboard = (0.5 * d.samples - sample - 0.5) * d.detector_pitch_m;
    const double forward = (line + 0.5 - 0.5 * d.lines) * d.detector_pitch_m;
    return d.focal_length_m / std::sqrt(d.focal_length_m * d.focal_length_m + starboard * starboard + forward * forward);
}

std::optional<FieldPoint> FrameCamera::field(double share, bool curved) const {
    const Derived& d = derived_;
    const double angle = std::atan(share * 0.5 * d.samples * d.detector_pitch_m / d.focal_length_m);
    const double c = std::cos(angle);
    return project(angle, d.ifov_rad * c * c, d.ifov_rad * c, d.ifov_rad * c * c, curved);
}

}  // namespace linefall
