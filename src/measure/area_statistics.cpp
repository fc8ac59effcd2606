#include "measure/area_statistics.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

/// Sums about the first value, so that a small spread about a large mean keeps its digits.
struct Sums {
    double origin = 0.0, sum = 0.0, squares = 0.0, least = 0.0, most = 0.0;
    bool any = false;

    /// Adds the values that are not sky.
    void add(std::span<const double> values, std::span<const std::uint8_t> sky) {
        for (std::size_t i = 0; i < values.size(); ++i) {
            if (sky[i] != 0) continue;
            if (!any) origin = least = most = values[i];
            any = true;
            const double x = values[i] - origin;
            sum += x;
            squares += x * x;
            least = std::min(least, values[i]);
            most = std::max(most, values[i]);
        }
    }
};

Kind kindOf(Scale scale) {
    switch (scale) {
        case Scale::counts: return Kind::number;
        case Scale::radiance: return Kind::radiance;
        case Scale::reflectance: return Kind::ratio;
    }
    return Kind::number;
}

}  // namespace

AreaStatistics areaStatistics(const Formation& formation, const Region& region, Scale scale) {
    const Image& image = formation.image();
    AreaStatistics out;
    out.scale = scale;
    out.unit = unitOf(scale);
    out.bands.resize(image.bands.size());
    std::vector<Sums> sums(image.bands.size());
    std::vector<double> values, falloffs;
    for (const PixelRun& run : pixelsIn(region, image.samples(), image.lines())) {
        const auto length = static_cast<std::size_t>(run.last - run.first);
        if (!formation.ready(run.line)) {
            out.not_formed += length;
            continue;
        }
        const auto first = static_cast<std::size_t>(run.first);
        const std::span<const std::uint8_t> sky = image.sky.row(run.line).subspan(first, length);
        const auto in_sky = static_cast<std::uint64_t>(std::count_if(sky.begin(), sky.end(), [](std::uint8_t s) { return s != 0; }));
        out.sky += in_sky;
        const LineScale line(formation, scale, run.line);
        if (!line.defined()) {
            out.no_sun += length - in_sky;
            continue;
        }
        out.pixels += length - in_sky;
        values.resize(length);
        falloffs.resize(length);
        line.falloffsOf(run.first, falloffs);
        for (std::size_t b = 0; b < sums.size(); ++b) {
            const std::span<const std::uint16_t> counts = image.counts[b].row(run.line).subspan(first, length);
            line.valuesOf(static_cast<int>(b), counts, falloffs, values);
            sums[b].add(values, sky);
            for (std::size_t i = 0; i < length; ++i) {
                if (sky[i] != 0) continue;
                if (counts[i] == 0) ++out.bands[b].at_zero;
                if (counts[i] == image.most_count) ++out.bands[b].at_most;
            }
        }
    }
    const double n = static_cast<double>(out.pixels);
    for (std::size_t b = 0; b < sums.size(); ++b) {
        BandStatistics& band = out.bands[b];
        band.band = image.bands[b].name;
        if (out.pixels == 0) continue;
        const Sums& s = sums[b];
        band.mean = s.origin + s.sum / n;
        if (out.pixels > 1) band.standard_deviation = std::sqrt(std::max(0.0, (s.squares - s.sum * s.sum / n) / (n - 1.0)));
        band.standard_error = band.standard_deviation / std::sqrt(n);
        band.least = s.least;
        band.most = s.most;
    }
    return out;
}

Reading AreaStatistics::mean(std::size_t band) const {
    const BandStatistics& b = bands.at(band);
    Reading reading{"mean " + scaleNames()[static_cast<std::size_t>(scale)] + ", " + b.band, b.mean, kindOf(scale), scale == Scale::counts ? unit : "",
                    b.standard_error, "m", "Σ x / {n}"};
    reading.terms = {{"n", "pixels", static_cast<double>(pixels), Kind::number}, {"s", "standard deviation of a pixel", b.standard_deviation, kindOf(scale)}};
    reading.assumes = {"pixels err independently of one another: sigma = s / √n"};
    if (!cautionOf(scale).empty()) reading.remarks.push_back(cautionOf(scale));
    if (b.at_most > 0) reading.remarks.push_back(std::to_string(b.at_most) + " pixels stand at the largest count: the true mean is higher");
    if (b.at_zero > 0) reading.remarks.push_back(std::to_string(b.at_zero) + " pixels stand at count 0");
    if (pixels == 0) reading.missing = not_formed > 0 ? "the area is not formed yet" : no_sun > 0 ? "the sun is down" : "no pixel of the ground lies in the area";
    return reading;
}

Reading AreaStatistics::spread(std::size_t band) const {
    const BandStatistics& b = bands.at(band);
    const double n = static_cast<double>(pixels);
    Reading reading{"spread of " + scaleNames()[static_cast<std::size_t>(scale)] + ", " + b.band, b.standard_deviation, kindOf(scale),
                    scale == Scale::counts ? unit : "", pixels > 1 ? b.standard_deviation / std::sqrt(2.0 * (n - 1.0)) : 0.0, "s",
                    "√(Σ (x - m)² / ({n} - 1))"};
    reading.terms = {{"n", "pixels", n, Kind::number}};
    if (pixels < 2) reading.missing = "a spread needs two pixels or more";
    return reading;
}

}  // namespace linefall
