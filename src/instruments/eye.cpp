#include "instruments/eye.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/constants.h"
#include "instruments/focal_plane.h"
#include "physics/ocular.h"
#include "physics/pigment.h"

namespace linefall {

namespace {

constexpr double arcmin = constants::pi / 10800.0;
constexpr double degree = constants::pi / 180.0;
constexpr double most_receptors = 3e6;
constexpr double most_pixels = 1.6e7;

/// The band behind the eye's media: its response at each wavelength times what they let through.
void putBehindMedia(Band& band, double age_years) {
    std::vector<Spectrum::Point> points;
    const int steps = 400;
    for (int i = 0; i <= steps; ++i) {
        const double w = band.first_um() + (band.last_um() - band.first_um()) * i / steps;
        points.push_back({w, band.responseAt(w) * mediaTransmission(w, age_years)});
    }
    band.from_um = points.front().wavelength_um;
    band.to_um = points.back().wavelength_um;
    band.edge_um = 0.0;
    band.response = Spectrum(std::move(points));
}

}  // namespace

const Keys<EyeSettings>& eyeKeys() {
    using E = EyeSettings;
    static const Keys<E> keys = [] {
        Keys<E> k("instrument.");
        k.number("focal_length", Kind::length, &E::focal_length_m, 0.01667, 0.005, 0.05, "from the nodal point to the retina (16.67 mm: the reduced eye of 60 dioptres, from memory)")
            .number("cone_spacing", Kind::angle, &E::cone_spacing_rad, 0.5 * arcmin, 0.1 * arcmin, 10.0 * arcmin, "between neighbouring cones at the middle of the fovea, and a pixel's width (about half an arc minute, from memory)")
            .count("samples", &E::samples, 800, 1, 8192, "pixels across the track")
            .count("rows", &E::rows, 800, 1, 8192, "pixels along the track")
            .number("integration", Kind::time, &E::integration_s, 0.05, 1e-4, 1.0, "time over which receptors add up light (cones in daylight about 50 ms, rods longer, from memory)")
            .flag("follow", &E::follow, true, "the eye turns with the ground while it gathers light; off: the craft's motion smears")
            .number("station", Kind::ratio, &E::station, 0.5, 0.0, 1.0, "where along the flight the fixation is")
            .number("spacing_doubles", Kind::angle, &E::spacing_doubles_rad, 1.06 * degree, 0.1 * degree, 90.0 * degree, "angle from the fovea at which the spacing of receptors has doubled (1.06 deg, Watson 2014, from memory)")
            .number("foveola", Kind::angle, &E::foveola_rad, 10.0 * arcmin, 0.0, 5.0 * degree, "radius without S cones (about 10 arc minutes, from memory)")
            .number("rod_free", Kind::angle, &E::rod_free_rad, 0.6 * degree, 0.0, 5.0 * degree, "radius without rods (about 0.6 deg, from memory)")
            .number("s_share", Kind::ratio, &E::s_share, 0.06, 0.001, 0.5, "S cones among the cones outside the foveola (5 to 7 %, from memory)")
            .number("l_share", Kind::ratio, &E::l_share, 0.66, 0.02, 0.98, "L cones among those that are not S (about two in three, and very different from eye to eye, from memory)");
        return k;
    }();
    return keys;
}

Eye::Eye(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems) {
    takeCommon(settings, std::move(bands), flight);
    const EyeSettings s = eyeKeys().read(settings);
    Derived& d = derived_;
    d.samples = s.samples;
    d.lines = s.rows;
    if (static_cast<double>(s.samples) * s.rows > most_pixels) {
        problems.push_back({{"instrument", 0, 0}, "instrument.rows", std::to_string(s.rows) + " rows of " + std::to_string(s.samples), "at most 16 million pixels", ""});
        d.lines = 1;
    }
    d.lines_at_once = d.lines;
    d.focal_length_m = s.focal_length_m;
    d.detector_pitch_m = s.focal_length_m * s.cone_spacing_rad;
    d.ifov_rad = d.detector_pitch_m / d.focal_length_m;
    d.sample_step_rad = d.ifov_rad;
    d.fov_rad = 2.0 * std::atan(0.5 * d.samples * d.detector_pitch_m / d.focal_length_m);
    d.dwell_s = s.integration_s;
    follow_ = s.follow;
    time_s_ = s.station * flight.length_m / flight.speed_m_s;

    const OcularSettings front = ocularKeys().read(settings);
    const ReceptorSettings receptors = receptorKeys().read(settings);
    pupil_m_ = front.pupil_m ? *front.pupil_m : front.adapting_luminance_cd_m2 ? pupilDiameter_m(*front.adapting_luminance_cd_m2) : 0.003;
    optics_.f_number = d.focal_length_m / pupil_m_;
    optics_.blur_pitch = std::hypot(optics_.blur_pitch, defocusBlur_rad(pupil_m_, front.defocus_D) / s.cone_spacing_rad);
    for (Band& band : bands_) {
        putBehindMedia(band, front.age_years);
        band.half_saturation_e = band.receptor == "rod" ? receptors.rod_half_saturation_e : band.receptor == "S" ? receptors.s_half_saturation_e : receptors.half_saturation_e;
    }

    RetinaPlan plan;
    plan.doubling = s.spacing_doubles_rad / s.cone_spacing_rad;
    plan.reach = 0.5 * std::hypot(d.samples, d.lines);
    plan.foveola = s.foveola_rad / s.cone_spacing_rad;
    plan.rod_free = s.rod_free_rad / s.cone_spacing_rad;
    plan.s_share = s.s_share;
    plan.l_share = s.l_share;
    plan.seed = std::strtoull(detector_.seed.c_str(), nullptr, 10);
    if (Retina::countOf(plan) > most_receptors) {
        problems.push_back({{"instrument", 0, 0}, "instrument.spacing_doubles", figuresText(Retina::countOf(plan), 3) + " receptors in this field",
                            "at most 3 million: a smaller field, or a spacing that grows faster", ""});
        plan.reach = plan.foveola = plan.rod_free = 1.0;
        plan.doubling = 10.0;
    }
    retina_ = std::make_shared<const Retina>(plan);
    for (const Band& band : bands_) {
        if (problems.empty() && !retina_->nearest(band.receptor, 0.0, 0.0)) {
            problems.push_back({{"instrument", 0, 0}, "instrument.s_share", "no receptor " + band.receptor + " in the field", "shares and a field that hold at least one of every band's receptors", ""});
        }
    }
    d.detectors = retina_->receptors();
}

std::optional<ReceptorRead> Eye::receptorOf(int line, int sample, int band) const {
    const double x = columnOf(sample), y = rowOf(line);
    const std::optional<Receptor> at = retina_->nearest(bands_[static_cast<std::size_t>(band)].receptor, x, y);
    if (!at) return std::nullopt;
    return ReceptorRead{at->id, std::atan(std::hypot(at->x, at->y) * derived_.ifov_rad), std::hypot(at->x - x, at->y - y)};
}

Offset Eye::placed(int line, int sample, const Offset& offset) const {
    if (offset.band < 0) return offset;
    const double x = columnOf(sample), y = rowOf(line);
    const std::optional<Receptor> at = retina_->nearest(bands_[static_cast<std::size_t>(offset.band)].receptor, x, y);
    if (!at) return offset;
    return {offset.across + at->x - x, offset.along + at->y - y, offset.dwell_share, offset.band};
}

PlatformLook Eye::look(int line, int sample, const Offset& offset) const {
    const Derived& d = derived_;
    const Offset at = placed(line, sample, offset);
    const double starboard = -(columnOf(sample) + at.across) * d.detector_pitch_m;
    const double forward = (rowOf(line) + at.along) * d.detector_pitch_m;
    return {focalPlaneDirection(starboard, forward, d.focal_length_m), lookTime_s(line, sample, offset.dwell_share)};
}

double Eye::lookTime_s(int, int, double dwell_share) const { return time_s_ + dwell_share * derived_.dwell_s; }

double Eye::offAxisCosine(int line, int sample) const {
    const double off = std::hypot(columnOf(sample), rowOf(line)) * derived_.ifov_rad;
    return 1.0 / std::sqrt(1.0 + off * off);
}

int Eye::detectorOf(int line, int sample) const {
    const std::optional<Receptor> at = retina_->nearest("", columnOf(sample), rowOf(line));
    return at ? at->id : 0;
}

std::optional<FieldPoint> Eye::field(double share, bool curved) const {
    const Derived& d = derived_;
    const double angle = std::atan(share * 0.5 * d.samples * d.detector_pitch_m / d.focal_length_m);
    const double c = std::cos(angle);
    return project(angle, d.ifov_rad * c * c, d.ifov_rad * c, d.ifov_rad * c * c, curved);
}

std::vector<OwnFact> Eye::ownFacts() const {
    const double half = 0.5 * derived_.samples, corner = 0.5 * std::hypot(derived_.samples, derived_.lines);
    const auto apart = [&](double e) { return retina_->spacing(e) * derived_.ifov_rad; };
    const double per_count[] = {double(retina_->count("L", corner)), double(retina_->count("M", corner)), double(retina_->count("S", corner)), double(retina_->count("rod", corner))};
    return {{"pupil_m", "pupil", pupil_m_, Kind::length, "f-number " + figuresText(optics_.f_number, 3)},
            {"cone_spacing_rad", "cones apart, fovea", apart(0.0), Kind::angle, "finest grating: " + figuresText(degree / (2.0 * apart(0.0)), 3) + " periods a degree"},
            {"cone_spacing_edge_rad", "cones apart, edge", apart(half), Kind::angle, "finest grating: " + figuresText(degree / (2.0 * apart(half)), 3) + " periods a degree"},
            {"l_cones", "L cones", per_count[0], Kind::count, "out to the field's corner"},
            {"m_cones", "M cones", per_count[1], Kind::count},
            {"s_cones", "S cones", per_count[2], Kind::count, "none in the foveola"},
            {"rods", "rods", per_count[3], Kind::count, "none in the fovea's middle; signals of rods, each of many"}};
}

}  // namespace linefall
