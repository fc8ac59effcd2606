// What lessons read from facts, settings and pictures. Nothing is computed here that the core does not compute.

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "lesson/flown.h"
#include "measure/angles.h"
#include "measure/area_statistics.h"
#include "measure/heights.h"
#include "measure/lengths.h"
#include "measure/plane_fit.h"

namespace linefall {

namespace {

[[noreturn]] void refuse(const LessonMeasure& measure, const std::string& read, const std::string& expected, const std::string& nearest = "") {
    throw InputError(Problem{measure.place, "measures." + measure.name, read, expected, nearest});
}

Amount ofReading(const LessonMeasure& measure, const Reading& reading) {
    if (!reading.ok()) refuse(measure, reading.missing, "a place where '" + measure.of + "' can be read");
    return {reading.value, Dimension::of(reading.kind)};
}

int bandOf(const LessonMeasure& measure, const Image& image) {
    if (measure.band_name.empty()) return 0;
    std::vector<std::string> names;
    for (const Band& band : image.bands) names.push_back(band.name);
    const auto found = std::find(names.begin(), names.end(), measure.band_name);
    if (found == names.end()) refuse(measure, "band '" + measure.band_name + "'", "a band of the instrument", nearestName(measure.band_name, names));
    return static_cast<int>(found - names.begin());
}

Amount ofArea(const LessonMeasure& measure, const Formation& formation, const PixelIndex& pixel, int size) {
    const int half = (size - 1) / 2;
    if (pixel.sample - half < 0 || pixel.line - half < 0 || pixel.sample + half >= formation.samples() || pixel.line + half >= formation.lines())
        refuse(measure, "an area of " + std::to_string(size) + " pixels that leaves the picture", "a smaller size, or a point farther inside");
    const Region region = squareRound(pixel, size);
    const Scale scale = scaleOf(measure);
    const Dimension dimension = scale == Scale::radiance ? Dimension::of(Kind::radiance) : scale == Scale::counts ? Dimension::of(Dimension::count) : Dimension{};
    const int band = bandOf(measure, formation.image());
    if (measure.of == "residual") return {planeFit(formation, region, band, scale).residual, dimension};
    const AreaStatistics all = areaStatistics(formation, region, scale);
    if (all.pixels == 0) refuse(measure, "no pixel that can be read", "an area of the ground, by day");
    const BandStatistics& one = all.bands[static_cast<std::size_t>(band)];
    return {measure.of == "mean" ? one.mean : one.standard_deviation, dimension};
}

}  // namespace

std::optional<Amount> factOf(const Facts& f, const std::string& name) {
    const Derived& d = f.derived;
    const auto& names = factNames();
    const auto known = std::find_if(names.begin(), names.end(), [&](const FactName& one) { return one.name == name; });
    if (known == names.end()) return std::nullopt;
    const auto curved = [&](double FieldFacts::*member) {
        if (!f.curved) throw std::runtime_error(f.curved_reason.empty() ? "no value on a sphere" : f.curved_reason);
        return (*f.curved).*member;
    };
    const auto value = [&]() -> double {
        if (name == "samples") return d.samples;
        if (name == "lines") return d.lines;
        if (name == "line_rate") return d.line_period_s > 0.0 ? 1.0 / d.line_period_s : 0.0;
        if (name == "line_period") return d.line_period_s;
        if (name == "scan_period") return d.scan_period_s;
        if (name == "dwell") return d.dwell_s;
        if (name == "duty_cycle") return d.duty_cycle;
        if (name == "ifov") return d.ifov_rad;
        if (name == "fov") return d.fov_rad;
        if (name == "focal_length") return d.focal_length_m;
        if (name == "detector_pitch") return d.detector_pitch_m;
        if (name == "gsd_across") return f.flat.nadir.cell.across_m;
        if (name == "gsd_along") return f.flat.nadir.cell.along_m;
        if (name == "gsd_edge_across") return f.flat.edge.cell.across_m;
        if (name == "gsd_edge_along") return f.flat.edge.cell.along_m;
        if (name == "spacing_across") return f.flat.nadir.cell.spacing_across_m;
        if (name == "spacing_along") return f.flat.spacing_along_m;
        if (name == "swath") return f.flat.swath_m;
        if (name == "overlap_nadir") return f.flat.overlap_nadir_m;
        if (name == "overlap_edge") return f.flat.overlap_edge_m;
        if (name == "zenith_edge") return f.flat.edge.zenith_rad;
        if (name == "curved_swath") return curved(&FieldFacts::swath_m);
        if (name == "curved_overlap_edge") return curved(&FieldFacts::overlap_edge_m);
        if (name == "curved_gsd_edge_across") return curved(&FieldFacts::swath_m) > 0.0 ? f.curved->edge.cell.across_m : 0.0;
        if (name == "curved_gsd_edge_along") return curved(&FieldFacts::swath_m) > 0.0 ? f.curved->edge.cell.along_m : 0.0;
        if (name == "bits_per_s") return f.bits_per_s;
        if (name == "signal") return f.bands.empty() ? 0.0 : f.bands.front().signal_e;
        return f.bands.empty() ? 0.0 : f.bands.front().snr;
    }();
    return Amount{value, Dimension::of(known->kind)};
}

Amount settingAmount(const Scene& scene, const Parameter& row, int instrument) {
    const bool own = findSceneRow(row.key) == nullptr;
    const Settings& settings = own ? scene.instruments.at(static_cast<std::size_t>(instrument)).settings : scene.settings;
    const Setting* given = settings.find(row.key);
    const Value& value = given != nullptr ? given->value : row.default_value;
    if (const double* number = std::get_if<double>(&value)) return {*number, Dimension::of(row.kind)};
    if (const bool* flag = std::get_if<bool>(&value)) return {*flag ? 1.0 : 0.0, {}};
    if (std::holds_alternative<Auto>(value)) throw std::runtime_error(row.key + " is derived here: use a fact, such as A.swath");
    throw std::runtime_error(row.key + " is a word, where a number is expected");
}

std::optional<double> propertyOf(const Object& object, const std::string& property) {
    if (property == "height") return object.height_m;
    if (property == "east") return object.east_m;
    if (property == "north") return object.north_m;
    if (property == "base") return object.base_m;
    if (property == "length") return object.length_m;
    if (property == "width") return object.width_m;
    return std::nullopt;
}

bool readsAreas(const LessonMeasure& measure) { return measure.of == "mean" || measure.of == "spread" || measure.of == "residual" || measure.of == "count"; }

bool readsCounts(const LessonMeasure& measure) { return readsAreas(measure) || measure.of == "trace"; }

Scale scaleOf(const LessonMeasure& measure) { return measure.scale == "radiance" ? Scale::radiance : measure.scale == "reflectance" ? Scale::reflectance : Scale::counts; }

Amount readMeasure(const LessonMeasure& measure, Formation& formation, const std::vector<PicturePlace>& p, int area_pixels) {
    const std::string& of = measure.of;
    if (of == "sample") return {p[0].sample, {}};
    if (of == "line") return {p[0].line, {}};
    if (of == "samples between") return {std::abs(p[1].sample - p[0].sample), {}};
    if (of == "lines between") return {std::abs(p[1].line - p[0].line), {}};
    if (of == "ground distance") return ofReading(measure, groundDistance(formation, p[0], p[1]));
    if (of == "straight distance") return ofReading(measure, straightDistance(formation, p[0], p[1]));
    if (of == "picture distance") return ofReading(measure, pictureDistance(formation, p[0], p[1]));
    if (of == "displacement") return ofReading(measure, displacement(formation, p[0], p[1]));
    if (of == "height difference") return ofReading(measure, heightDifference(formation, p[0], p[1]));
    if (of == "shadow height") return ofReading(measure, shadowHeight(formation, p[0], p[1]));
    if (of == "relief height") return ofReading(measure, reliefHeight(formation, p[0], p[1]));
    if (of == "bearing") return ofReading(measure, bearing(formation, p[0], p[1]));
    if (of == "look angle") return ofReading(measure, lookAngle(formation, p[0], p[1]));
    if (of == "time between") return ofReading(measure, timeBetween(formation, p[0], p[1]));
    if (of == "speed between") return ofReading(measure, speedBetween(formation, p[0], p[1]));
    const PixelIndex pixel = pixelAt(formation, p[0]);
    if (of == "count") {
        const int band = bandOf(measure, formation.image());
        return {static_cast<double>(formation.image().counts[static_cast<std::size_t>(band)].at(pixel.sample, pixel.line)), Dimension::of(Dimension::count)};
    }
    if (of == "trace") {
        const Why why = formation.why(pixel.line, pixel.sample);
        const int band = bandOf(measure, formation.image());
        for (const TraceRow& row : why.trace.rows()) {
            if (row.symbol == measure.symbol && (row.band == band || row.band == -1)) return {row.value, {}};
        }
        std::vector<std::string> symbols;
        for (const TraceRow& row : why.trace.rows()) symbols.push_back(row.symbol);
        refuse(measure, "symbol '" + measure.symbol + "'", "a symbol of the walk of light: linefall why lists them", nearestName(measure.symbol, symbols));
    }
    return ofArea(measure, formation, pixel, area_pixels);
}

}  // namespace linefall
