#include "measure/plane_fit.h"

#include <cmath>
#include <vector>

namespace linefall {

namespace {

struct Point {
    double sample, line, value;
};

std::vector<Point> pointsOf(const Formation& formation, const Region& region, int band, Scale scale) {
    const Image& image = formation.image();
    std::vector<Point> points;
    for (const PixelRun& run : pixelsIn(region, image.samples(), image.lines())) {
        if (!formation.ready(run.line)) continue;
        const LineScale line(formation, scale, run.line);
        if (!line.defined()) continue;
        for (int sample = run.first; sample < run.last; ++sample) {
            if (image.sky.at(sample, run.line) != 0) continue;
            const double count = image.counts[static_cast<std::size_t>(band)].at(sample, run.line);
            points.push_back({static_cast<double>(sample), static_cast<double>(run.line), line.valueOf(band, sample, count)});
        }
    }
    return points;
}

}  // namespace

PlaneFit planeFit(const Formation& formation, const Region& region, int band, Scale scale) {
    const std::vector<Point> points = pointsOf(formation, region, band, scale);
    PlaneFit fit;
    fit.pixels = points.size();
    if (points.empty()) return fit;
    const double n = static_cast<double>(points.size());
    Point mean{0.0, 0.0, 0.0};
    for (const Point& p : points) mean.sample += p.sample / n, mean.line += p.line / n, mean.value += p.value / n;
    double ss = 0.0, ll = 0.0, sl = 0.0, sv = 0.0, lv = 0.0;
    for (const Point& p : points) {
        const double s = p.sample - mean.sample, l = p.line - mean.line, v = p.value - mean.value;
        ss += s * s, ll += l * l, sl += s * l, sv += s * v, lv += l * v;
    }
    fit.mean = mean.value;
    const double turn = ss * ll - sl * sl;
    if (turn > 1e-9 * ss * ll) {
        fit.per_sample = (sv * ll - lv * sl) / turn;
        fit.per_line = (lv * ss - sv * sl) / turn;
    } else if (ss >= ll && ss > 0.0) {
        fit.per_sample = sv / ss;
    } else if (ll > 0.0) {
        fit.per_line = lv / ll;
    }
    if (points.size() < 4) return fit;
    double squares = 0.0;
    for (const Point& p : points) {
        const double left = p.value - mean.value - fit.per_sample * (p.sample - mean.sample) - fit.per_line * (p.line - mean.line);
        squares += left * left;
    }
    fit.residual = std::sqrt(squares / (n - 3.0));
    return fit;
}

}  // namespace linefall
