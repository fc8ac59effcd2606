#include "instruments/whisk_broom.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"

namespace linefall {

const Keys<WhiskBroomSettings>& whiskBroomKeys() {
    using W = WhiskBroomSettings;
    static const Keys<W> keys = [] {
        Keys<W> k("instrument.");
        k.derived("ifov", Kind::angle, &W::ifov_rad, 1e-7, 0.2, "instantaneous field of view: the angle that one detector sees")
            .derived("fov", Kind::angle, &W::fov_rad, 1e-6, radiansFromDegrees(120.0), "field of view: the angle that the mirror sweeps")
            .derived("samples", Kind::count, &W::samples, 1.0, 65536.0, "samples a line; in place of the field of view")
            .insteadOf("fov")
            .number("focal_length", Kind::length, &W::focal_length_m, 0.2, 1e-3, 100.0, "focal length")
            .derived("detector_pitch", Kind::length, &W::detector_pitch_m, 1e-7, 0.1, "width of a detector; in place of the IFOV (IFOV = pitch / focal length)")
            .insteadOf("ifov")
            .derived("sample_step", Kind::angle, &W::sample_step_rad, 1e-8, 0.2, "angle between neighbouring samples; auto: the IFOV")
            .derived("line_rate", Kind::frequency, &W::line_rate_Hz, 1e-4, 1e7, "image lines a second; auto: scans touch at nadir")
            .derived("duty_cycle", Kind::ratio, &W::duty_cycle, 0.001, 1.0, "share of the scan period spent on samples; auto: 80 %")
            .derived("facets", Kind::count, &W::facets, 1.0, 64.0, "facets of a mirror that turns evenly; in place of the duty cycle (facets * FOV / 360 deg)")
            .insteadOf("duty_cycle")
            .count("detectors", &W::detectors, 1, 1, 256, "detectors along track: lines made in one sweep")
            .choice("sweep", &W::sweep, Sweep::one_way, {"one-way", "two-way"}, "one-way: every sweep from starboard to port; two-way: to and fro");
        return k;
    }();
    return keys;
}

WhiskBroom::WhiskBroom(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems) {
    takeCommon(settings, std::move(bands), flight);
    const WhiskBroomSettings s = whiskBroomKeys().read(settings);
    Derived& d = derived_;
    sweep_ = s.sweep;
    facets_ = static_cast<int>(s.facets.value_or(0.0));
    d.lines_at_once = s.detectors;
    d.detectors = s.detectors;
    d.focal_length_m = s.focal_length_m;
    d.ifov_rad = s.detector_pitch_m ? *s.detector_pitch_m / s.focal_length_m : s.ifov_rad.value_or(2e-3);
    d.detector_pitch_m = d.ifov_rad * s.focal_length_m;
    d.sample_step_rad = s.sample_step_rad.value_or(d.ifov_rad);
    if (s.samples) {
        d.samples = static_cast<int>(*s.samples);
        d.fov_rad = d.samples * d.sample_step_rad;
    } else {
        d.fov_rad = s.fov_rad.value_or(radiansFromDegrees(80.0));
        // A field that holds a whole number of steps but for rounding holds that number.
        d.samples = static_cast<int>(std::min(1e9, std::floor(d.fov_rad / d.sample_step_rad * (1.0 + 1e-9))));
    }
    const auto refuse = [&](const char* key, const std::string& read, const std::string& expected) {
        problems.push_back({{"instrument", 0, 0}, key, read, expected, ""});
    };
    if (d.fov_rad > radiansFromDegrees(120.0) * (1.0 + 1e-12)) {
        refuse("instrument.samples", std::to_string(d.samples), "samples that sweep no more than 120 deg: a mirror sees +-60 deg");
    }
    if (d.samples < 1 || d.samples > 65536) {
        refuse("instrument.fov", shortText(d.fov_rad, Kind::angle, 6) + " in steps of " + shortText(d.sample_step_rad, Kind::angle, 4),
               "1 to 65 536 samples a line");
        d.samples = 1;
    }
    const double auto_rate = flight.speed_m_s / (flight.height_m * d.ifov_rad);
    d.line_rate_Hz = s.line_rate_Hz.value_or(auto_rate);
    d.line_period_s = 1.0 / d.line_rate_Hz;
    d.scan_period_s = d.lines_at_once * d.line_period_s;
    d.duty_cycle = s.facets ? *s.facets * d.fov_rad / (2.0 * constants::pi) : s.duty_cycle.value_or(0.8);
    if (d.duty_cycle > 1.0) {
        refuse("instrument.facets", shortText(*s.facets, Kind::count), "so few facets that facets * FOV is at most 360 deg");
    }
    d.dwell_s = d.scan_period_s * d.duty_cycle * d.sample_step_rad / d.fov_rad;
    if (problems.empty()) {
        centres_.reserve(static_cast<std::size_t>(d.lines_at_once) * static_cast<std::size_t>(d.samples));
        for (int detector = 0; detector < d.lines_at_once; ++detector) {
            for (int sample = 0; sample < d.samples; ++sample) centres_.push_back(direction(detector, sample, Offset{}, false));
        }
    }
    const double scans = std::max(1.0, std::floor(flight.length_m / flight.speed_m_s / d.scan_period_s * (1.0 + 1e-9)));
    if (scans * d.lines_at_once > 1e6) {
        refuse("instrument.line_rate", shortText(d.line_rate_Hz, Kind::frequency, 6), "at most 1 000 000 lines in the flight");
        d.lines = 1;
    } else {
        d.lines = static_cast<int>(scans) * d.lines_at_once;
    }
}

Vec3 WhiskBroom::direction(int detector, int sample, const Offset& offset, bool back) const {
    const Derived& d = derived_;
    // The mirror goes on turning during the dwell, by one step in a whole dwell.
    const double turned = offset.dwell_share * (back ? -1.0 : 1.0);
    // Starboard positive.
    const double angle = (0.5 * d.samples - sample - 0.5 - turned) * d.sample_step_rad - offset.across * d.ifov_rad;
    const double forward = (detector - 0.5 * (d.lines_at_once - 1) + offset.along) * d.ifov_rad;
    const double c = std::cos(forward);
    return {std::sin(forward), c * std::sin(angle), c * std::cos(angle)};
}

PlatformLook WhiskBroom::look(int line, int sample, const Offset& offset) const {
    const int scan = line / derived_.lines_at_once;
    const bool back = sweep_ == Sweep::two_way && scan % 2 != 0;
    return {direction(line % derived_.lines_at_once, sample, offset, back), lookTime_s(line, sample, offset.dwell_share)};
}

std::span<const Vec3> WhiskBroom::centreDirections(int line) const {
    const auto samples = static_cast<std::size_t>(derived_.samples);
    return std::span<const Vec3>(centres_).subspan(static_cast<std::size_t>(line % derived_.lines_at_once) * samples, samples);
}

double WhiskBroom::lookTime_s(int line, int sample, double dwell_share) const {
    const Derived& d = derived_;
    const int scan = line / d.lines_at_once;
    const bool back = sweep_ == Sweep::two_way && scan % 2 != 0;
    const int order = back ? d.samples - 1 - sample : sample;  // place in the sweep's time
    return (scan + 0.5) * d.scan_period_s + (order + 0.5 - 0.5 * d.samples + dwell_share) * d.dwell_s;
}

std::optional<MirrorState> WhiskBroom::mirrorAt(double time_s) const {
    const Derived& d = derived_;
    const double scan = std::floor(time_s / d.scan_period_s);
    const double turned = (time_s - (scan + 0.5) * d.scan_period_s) / d.dwell_s;  // samples from the middle of the sweep
    const double half = 0.5 * d.samples;
    const bool back = sweep_ == Sweep::two_way && std::fmod(std::abs(scan), 2.0) != 0.0;
    MirrorState mirror;
    const double gap = d.scan_period_s / d.dwell_s - d.samples;  // between two sweeps, in samples; half of it lies in each period
    mirror.sweeping = std::abs(turned) <= half || gap < 1e-6;
    mirror.facets = facets_;
    const double way = back ? 1.0 : -1.0;  // starboard to port: the angle falls
    if (mirror.sweeping || facets_ > 0) {
        mirror.angle_rad = way * turned * d.sample_step_rad;
        return mirror;
    }
    const double share = turned > 0.0 ? (turned - half) / gap : 1.0 + (turned + half) / gap;  // of the gap that has passed
    if (sweep_ == Sweep::two_way) {
        // It slows down, stops and comes back with a steady force, over no more than a tenth of the half field.
        const double over = std::min(0.25 * gap, 0.1 * half) * 4.0 * share * (1.0 - share);
        mirror.angle_rad = (turned > 0.0 ? way : -way) * (half + over) * d.sample_step_rad;
    } else {
        mirror.angle_rad = -half * std::cos(constants::pi * share) * d.sample_step_rad;
    }
    return mirror;
}

double WhiskBroom::lineTime_s(int line) const { return (line / derived_.lines_at_once + 0.5) * derived_.scan_period_s; }

double WhiskBroom::lineDone_s(int line) const {
    return lineTime_s(line) + 0.5 * derived_.samples * derived_.dwell_s;
}

std::optional<FieldPoint> WhiskBroom::field(double share, bool curved) const {
    const Derived& d = derived_;
    return project(share * 0.5 * d.fov_rad, d.ifov_rad, d.ifov_rad, d.sample_step_rad, curved);
}

}  // namespace linefall
