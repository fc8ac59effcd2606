#include "instruments/instrument.h"

#include <cmath>

namespace linefall {

namespace {

template <class T>
void append(std::vector<Parameter>& rows, const Keys<T>& keys) {
    rows.insert(rows.end(), keys.rows().begin(), keys.rows().end());
}

}  // namespace

std::vector<Parameter> commonInstrumentRows() {
    std::vector<Parameter> rows;
    append(rows, opticsKeys());
    append(rows, detectorKeys());
    append(rows, noiseKeys());
    append(rows, converterKeys());
    return rows;
}

void Instrument::takeCommon(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight) {
    optics_ = opticsKeys().read(settings);
    detector_ = detectorKeys().read(settings);
    noise_ = noiseKeys().read(settings);
    converter_ = converterKeys().read(settings);
    bands_ = std::move(bands);
    flight_ = flight;
}

std::optional<FieldPoint> Instrument::project(double angle, double across_rad, double along_rad, double step_rad,
                                              bool curved) const {
    const double h = flight_.height_m;
    FieldPoint point;
    if (!curved) {
        // Flat: slant range h / cos t; the footprint across is stretched once more by the slant of the ground.
        const double c = std::cos(angle);
        if (c <= 0.0) return std::nullopt;
        const double slant = h / c;
        point.cell = {slant * across_rad / c, slant * along_rad, slant * step_rad / c};
        point.zenith_rad = angle;
        point.ground_distance_m = h * std::tan(angle);
        return point;
    }
    // Sphere of radius R: sin z = (R + h) / R sin t; g = z - t; slant D = R sin g / sin t; across = b D / cos z.
    const double radius = flight_.earth_radius_m;
    const double sine = (radius + h) / radius * std::sin(angle);
    if (sine >= 1.0) return std::nullopt;
    const double zenith = std::asin(sine);
    const double arc = zenith - angle;
    const double slant = angle == 0.0 ? h : radius * std::sin(arc) / std::sin(angle);
    point.cell = {slant * across_rad / std::cos(zenith), slant * along_rad, slant * step_rad / std::cos(zenith)};
    point.zenith_rad = zenith;
    point.ground_distance_m = radius * arc;
    return point;
}

}  // namespace linefall
