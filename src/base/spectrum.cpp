#include "base/spectrum.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

/// Integrals of weight and weight * quantity over a band by the midpoint rule.
template <class Weight, class Quantity>
double weightedMean(const Band& band, const Weight& weight, const Quantity& quantity) {
    constexpr int steps = 2000;
    const double first = band.first_um();
    const double step = (band.last_um() - first) / steps;
    double sum = 0.0;
    double total = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double wavelength = first + (i + 0.5) * step;
        const double w = weight(wavelength);
        total += w;
        sum += w * quantity(wavelength);
    }
    return total > 0.0 ? sum / total : quantity(0.5 * (band.from_um + band.to_um));
}

}  // namespace

double Spectrum::at(double wavelength_um) const {
    if (points_.empty()) return 0.0;
    const auto next = std::upper_bound(points_.begin(), points_.end(), wavelength_um,
                                       [](double w, const Point& p) { return w < p.wavelength_um; });
    if (next == points_.begin()) return points_.front().value;
    if (next == points_.end()) return points_.back().value;
    const Point& a = *(next - 1);
    const Point& b = *next;
    const double share = (wavelength_um - a.wavelength_um) / (b.wavelength_um - a.wavelength_um);
    return a.value + share * (b.value - a.value);
}

double Band::width_um() const {
    if (response.empty()) return to_um - from_um;
    // Exact: trapezoids between the points and the band's ends.
    double area = 0.0, at = from_um, value = response.at(from_um);
    for (const Spectrum::Point& point : response.points()) {
        if (point.wavelength_um <= from_um || point.wavelength_um >= to_um) continue;
        area += 0.5 * (value + point.value) * (point.wavelength_um - at);
        at = point.wavelength_um;
        value = point.value;
    }
    return area + 0.5 * (value + response.at(to_um)) * (to_um - at);
}

double Band::middle_um() const {
    if (response.empty()) return 0.5 * (from_um + to_um);
    return weightedMean(
        *this, [&](double w) { return responseAt(w); }, [](double w) { return w; });
}

double Band::responseAt(double wavelength_um) const {
    if (!response.empty()) return wavelength_um >= from_um && wavelength_um <= to_um ? response.at(wavelength_um) : 0.0;
    if (edge_um <= 0.0) return wavelength_um >= from_um && wavelength_um <= to_um ? 1.0 : 0.0;
    const double rise = (wavelength_um - first_um()) / edge_um;
    const double fall = (last_um() - wavelength_um) / edge_um;
    return std::clamp(std::min(rise, fall), 0.0, 1.0);
}

double bandMean(const Spectrum& quantity, const Band& band) {
    return weightedMean(
        band, [&](double w) { return band.responseAt(w); }, [&](double w) { return quantity.at(w); });
}

double bandMeanUnder(const Spectrum& quantity, const Spectrum& light, const Band& band) {
    return weightedMean(
        band, [&](double w) { return band.responseAt(w) * light.at(w); }, [&](double w) { return quantity.at(w); });
}

double effectiveWavelength_um(const Spectrum& light, const Band& band) {
    return weightedMean(
        band, [&](double w) { return band.responseAt(w) * light.at(w); }, [](double w) { return w; });
}

}  // namespace linefall
