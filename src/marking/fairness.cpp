#include "marking/fairness.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace linefall {

namespace {

double meanOf(const std::vector<double>& values) {
    return values.empty() ? 0.0 : std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// The continued fraction of I_x(a, b), by the method that keeps numerator and denominator apart from zero.
double betaFraction(double x, double a, double b) {
    constexpr double tiny = 1e-300;
    const auto off_zero = [](double v) { return std::abs(v) < tiny ? tiny : v; };
    double c = 1.0;
    double d = 1.0 / off_zero(1.0 - (a + b) * x / (a + 1.0));
    double h = d;
    for (int m = 1; m <= 10000; ++m) {
        const double k = m;
        const double even = k * (b - k) * x / ((a + 2.0 * k - 1.0) * (a + 2.0 * k));
        d = 1.0 / off_zero(1.0 + even * d);
        c = off_zero(1.0 + even / c);
        h *= d * c;
        const double odd = -(a + k) * (a + b + k) * x / ((a + 2.0 * k) * (a + 2.0 * k + 1.0));
        d = 1.0 / off_zero(1.0 + odd * d);
        c = off_zero(1.0 + odd / c);
        h *= d * c;
        if (std::abs(d * c - 1.0) < 1e-14) break;
    }
    return h;
}

}  // namespace

double Summary::error() const {
    return n < 2 ? 0.0 : deviation / std::sqrt(static_cast<double>(n));
}

Summary summaryOf(const std::vector<double>& values) {
    Summary out{static_cast<int>(values.size()), meanOf(values), 0.0};
    if (out.n < 2) return out;
    double sum = 0.0;
    for (const double v : values) sum += (v - out.mean) * (v - out.mean);
    out.deviation = std::sqrt(sum / (out.n - 1));
    return out;
}

double betaShare(double x, double a, double b) {
    if (x <= 0.0) return 0.0;
    if (x >= 1.0) return 1.0;
    const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x));
    // The fraction converges fast on one side of the mean alone.
    return x < (a + 1.0) / (a + b + 2.0) ? front * betaFraction(x, a, b) / a : 1.0 - front * betaFraction(1.0 - x, b, a) / b;
}

double chanceOfF(double f, int between, int within) {
    if (!(f > 0.0)) return 1.0;
    return betaShare(within / (within + between * f), 0.5 * within, 0.5 * between);
}

std::optional<Variance> varianceOf(const std::vector<std::vector<double>>& all) {
    std::vector<const std::vector<double>*> groups;
    double sum = 0.0;
    int n = 0;
    for (const std::vector<double>& group : all) {
        if (group.size() < 2) continue;
        groups.push_back(&group);
        sum += std::accumulate(group.begin(), group.end(), 0.0);
        n += static_cast<int>(group.size());
    }
    if (groups.size() < 2) return std::nullopt;
    const double mean = sum / n;
    double between = 0.0, within = 0.0;
    for (const std::vector<double>* group : groups) {
        const double own = meanOf(*group);
        between += static_cast<double>(group->size()) * (own - mean) * (own - mean);
        for (const double v : *group) within += (v - own) * (v - own);
    }
    if (!(within > 1e-18 * static_cast<double>(n) * (1.0 + mean * mean))) return std::nullopt;
    Variance out;
    out.between = static_cast<int>(groups.size()) - 1;
    out.within = n - static_cast<int>(groups.size());
    out.f = (between / out.between) / (within / out.within);
    out.p = chanceOfF(out.f, out.between, out.within);
    return out;
}

std::optional<double> correlationOf(const std::vector<double>& x, const std::vector<double>& y) {
    if (x.size() != y.size() || x.size() < 3) return std::nullopt;
    const double mx = meanOf(x), my = meanOf(y);
    double xx = 0.0, yy = 0.0, xy = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        xx += (x[i] - mx) * (x[i] - mx);
        yy += (y[i] - my) * (y[i] - my);
        xy += (x[i] - mx) * (y[i] - my);
    }
    const double least = 1e-18 * static_cast<double>(x.size());
    if (!(xx > least * (1.0 + mx * mx)) || !(yy > least * (1.0 + my * my))) return std::nullopt;
    return std::clamp(xy / std::sqrt(xx * yy), -1.0, 1.0);
}

}  // namespace linefall
