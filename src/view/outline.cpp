#include "view/outline.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "instruments/looks.h"

namespace linefall {

Vec3 groundOf(const Formation& formation, const LookManner& manner, int line, double sample, const Offset& offset) {
    const int whole = std::clamp(static_cast<int>(std::floor(sample)), 0, formation.samples() - 1);
    const Ray ray = lookRay(formation.instrument(), formation.motion(), offset, manner, line, whole);
    const GroundHit hit = formation.place().ground->intersect(ray);
    if (hit.meets != Meets::sky) return hit.point_m;
    return ray.at(60000.0);
}

std::vector<Vec3> lineOnGround(const Formation& formation, const LookManner& manner, int line, int count) {
    std::vector<Vec3> points;
    for (int i = 0; i < count; ++i) {
        points.push_back(groundOf(formation, manner, line, static_cast<double>(formation.samples() - 1) * i / (count - 1)));
    }
    return points;
}

SwathEdges swathEdges(const Formation& formation, const LookManner& manner, int count) {
    SwathEdges edges;
    const int last = formation.lines() - 1;
    for (int i = 0; i < count; ++i) {
        const int line = static_cast<int>(static_cast<long long>(last) * i / std::max(1, count - 1));
        if (!edges.lines.empty() && edges.lines.back() == line) continue;
        edges.lines.push_back(line);
        edges.starboard.push_back(groundOf(formation, manner, line, 0));
        edges.port.push_back(groundOf(formation, manner, line, formation.samples() - 1));
    }
    return edges;
}

std::vector<Vec3> footprint(const Formation& formation, const LookManner& manner, int line, int sample, double dwell_share) {
    std::vector<Vec3> corners;
    for (const Vec2& at : {Vec2{-0.5, -0.5}, Vec2{0.5, -0.5}, Vec2{0.5, 0.5}, Vec2{-0.5, 0.5}}) {
        Offset offset;
        offset.across = at.x;
        offset.along = at.y;
        offset.dwell_share = dwell_share;
        corners.push_back(groundOf(formation, manner, line, sample, offset));
    }
    return corners;
}

std::optional<Nearest> nearestSample(Formation& formation, int lines, const Vec3& point_m) {
    const int samples = formation.samples();
    if (lines < 1) return std::nullopt;
    std::optional<Nearest> best;
    double best_off = std::numeric_limits<double>::max();
    const auto look = [&](int line, int sample) {
        if (line < 0 || line >= lines || sample < 0 || sample >= samples || !formation.ready(line)) return;
        const std::optional<Vec3> ground = formation.groundPoint(line, sample);
        if (!ground) return;
        const double off = glm::length(*ground - point_m);
        if (off < best_off) {
            best_off = off;
            best = Nearest{{line, sample}, off};
        }
    };
    // A coarse grid first, then ever smaller steps around the best.
    const int coarse_lines = std::max(1, lines / 24), coarse_samples = std::max(1, samples / 24);
    for (int line = 0; line < lines; line += coarse_lines) {
        for (int sample = 0; sample < samples; sample += coarse_samples) look(line, sample);
    }
    look(lines - 1, samples / 2);
    if (!best) return std::nullopt;
    for (int a = coarse_lines, b = coarse_samples;;) {
        const Pixel centre = best->pixel;
        for (int i = -2; i <= 2; ++i) {
            for (int j = -2; j <= 2; ++j) look(centre.line + i * a, centre.sample + j * b);
        }
        if (best->pixel == centre) {
            if (a == 1 && b == 1) break;
            a = std::max(1, a / 2);
            b = std::max(1, b / 2);
        }
    }
    return best;
}

double sameGround_m(const Formation& formation) {
    const std::optional<FieldPoint> nadir = formation.instrument().field(0.0, false);
    return 4.0 * (nadir ? std::max(nadir->cell.across_m, nadir->cell.along_m) : 10.0);
}

}  // namespace linefall
