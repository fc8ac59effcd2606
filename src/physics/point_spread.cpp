#include "physics/point_spread.h"

#include <array>
#include <cmath>

#include "base/constants.h"

namespace linefall {

namespace {

constexpr double pi = constants::pi;
constexpr double kept_energy = 0.995;

double encircledEnergy(double radius) {
    const double x = pi * radius;
    const double j0 = std::cyl_bessel_j(0.0, x);
    const double j1 = std::cyl_bessel_j(1.0, x);
    return 1.0 - j0 * j0 - j1 * j1;
}

/// The positive root of x^(d+1) = x + 1: the generalised golden ratio.
double goldenRoot(int dimensions) {
    double x = 1.5;
    for (int i = 0; i < 60; ++i) x = std::pow(1.0 + x, 1.0 / (dimensions + 1));
    return x;
}

}  // namespace

double airyRadius(double energy) {
    double low = 0.0;
    double high = 64.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (encircledEnergy(middle) < energy ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

std::vector<Offset> contributionOffsets(const PointSpread& spread) {
    std::vector<Offset> offsets;
    const int pairs = spread.contributions / 2;
    constexpr int dimensions = 7;
    std::array<double, dimensions> step{};
    const double root = goldenRoot(dimensions);
    double power = 1.0;
    for (double& s : step) {
        power /= root;
        s = power;
    }
    for (int i = 0; i < pairs; ++i) {
        std::array<double, dimensions> p{};
        for (std::size_t d = 0; d < p.size(); ++d) {
            const double x = 0.5 + (i + 1) * step[d];
            p[d] = x - std::floor(x);
        }
        Offset o;
        if (spread.footprint) {
            o.across += p[0] - 0.5;
            o.along += p[1] - 0.5;
        }
        if (spread.diffraction_pitch > 0.0) {
            const double radius = spread.diffraction_pitch * airyRadius(kept_energy * p[2]);
            o.across += radius * std::cos(2.0 * pi * p[3]);
            o.along += radius * std::sin(2.0 * pi * p[3]);
        }
        if (spread.blur_pitch > 0.0) {
            const double radius = spread.blur_pitch * std::sqrt(-2.0 * std::log(p[4] > 0.0 ? p[4] : 0.5 / spread.contributions));
            o.across += radius * std::cos(2.0 * pi * p[5]);
            o.along += radius * std::sin(2.0 * pi * p[5]);
        }
        if (spread.dwell) o.dwell_share = p[6] - 0.5;
        offsets.push_back(o);
        offsets.push_back({-o.across, -o.along, -o.dwell_share});
    }
    if (spread.contributions % 2 != 0) offsets.push_back({});
    return offsets;
}

double footprintTransfer(double cycles_per_pitch) {
    if (cycles_per_pitch == 0.0) return 1.0;
    return std::abs(std::sin(pi * cycles_per_pitch) / (pi * cycles_per_pitch));
}

double diffractionTransfer(double v) {
    if (v >= 1.0) return 0.0;
    return 2.0 / pi * (std::acos(v) - v * std::sqrt(1.0 - v * v));
}

double blurTransfer(double sigma_pitch, double cycles_per_pitch) {
    return std::exp(-2.0 * pi * pi * sigma_pitch * sigma_pitch * cycles_per_pitch * cycles_per_pitch);
}

}  // namespace linefall
