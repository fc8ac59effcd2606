#include "figure/world_marks.h"

#include <algorithm>
#include <cmath>

namespace linefall {

std::optional<Vec2> WorldMarks::at(const Vec3& point_m) const {
    const std::optional<ScreenPoint> p = camera_.project(point_m, view_.width, view_.height);
    if (!p || std::abs(p->x) > 20000.0 || std::abs(p->y) > 20000.0) return std::nullopt;
    return Vec2{view_.x + p->x, view_.y + p->y};
}

bool WorldMarks::inView(const Vec3& point_m) const {
    const std::optional<Vec2> p = at(point_m);
    return p && p->x >= view_.x && p->x <= view_.x + view_.width && p->y >= view_.y && p->y <= view_.y + view_.height;
}

bool WorldMarks::visible(const Vec3& point_m) const {
    const Vec3 eye = camera_.eye_m();
    const double distance = glm::length(point_m - eye);
    if (distance <= 1.0) return true;
    // A point on the ground, or a line just over it, must not be hidden by its own slope.
    const GroundHit hit = ground_.intersectStill({eye, (point_m - eye) / distance});
    return hit.meets == Meets::sky || hit.distance_m > distance - std::max(12.0, 0.004 * distance);
}

void WorldMarks::line(const std::vector<Vec3>& points, const Stroke& stroke) {
    std::vector<Vec2> run;
    const auto flush = [&] {
        if (run.size() > 1) page_.drawing.lines(run, stroke);
        run.clear();
    };
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        Vec3 a = points[i], b = points[i + 1];
        const bool cut = !camera_.clip(a, b);
        const std::optional<Vec2> p = cut ? std::nullopt : at(a), q = cut ? std::nullopt : at(b);
        if (!p || !q) {
            flush();
            continue;
        }
        // Steps of about two pixels, even in the world; a straight line stays straight on the page.
        const int steps = std::clamp(static_cast<int>(glm::length(*q - *p) / 2.0), 1, 2000);
        for (int k = 0; k <= steps; ++k) {
            const Vec3 point = a + (b - a) * (static_cast<double>(k) / steps);
            if (!visible(point)) {
                flush();
                continue;
            }
            const std::optional<Vec2> s = at(point);
            if (!s) continue;
            // Points in a row need not all be kept.
            if (run.size() > 1) {
                const Vec2 u = run.back() - run[run.size() - 2], v = *s - run.back();
                if (std::abs(u.x * v.y - u.y * v.x) < 1e-3 * glm::length(u) && glm::dot(u, v) >= 0.0) run.pop_back();
            }
            run.push_back(*s);
        }
        if (i + 2 < points.size() && !run.empty() && points[i + 1] != b) flush();
    }
    flush();
}

void WorldMarks::arc(const Vec3& centre, const Vec3& from, const Vec3& to, double radius_m, const Stroke& stroke, const std::string& words) {
    const double angle = std::acos(std::clamp(glm::dot(from, to), -1.0, 1.0));
    if (angle < 0.02 || angle > 3.12) return;
    const Vec3 across = glm::normalize(to - glm::dot(from, to) * from);
    std::vector<Vec3> points;
    for (int i = 0; i <= 32; ++i) {
        const double a = angle * i / 32.0;
        points.push_back(centre + radius_m * (std::cos(a) * from + std::sin(a) * across));
    }
    line(points, stroke);
    label(points[16], words, page_.colours.ink);
}

void WorldMarks::dot(const Vec3& point_m, double radius, Ink ink) {
    const std::optional<Vec2> p = at(point_m);
    if (p && visible(point_m)) page_.drawing.marks.emplace_back(Disc{*p, radius, Stroke{page_.colours.over, 1.5}, ink});
}

void WorldMarks::cross(const Vec3& point_m, Ink ink) {
    const std::optional<Vec2> p = at(point_m);
    if (!p) return;
    for (const double way : {1.0, -1.0}) page_.drawing.line(*p + Vec2{-6.0, -6.0 * way}, *p + Vec2{6.0, 6.0 * way}, {ink, 2.5, {}, page_.colours.over, 1.5});
}

void WorldMarks::label(const Vec3& point_m, const std::string& words, Ink ink, Weight weight, bool below) {
    if (words.empty() || !inView(point_m)) return;
    labels_.push_back({*at(point_m), words, ink, weight, below});
}

void WorldMarks::labels() {
    struct Box {
        double x, y, w, h;
    };
    std::vector<Box> taken;
    for (const Label& label : labels_) {
        const double w = page_.type.width(label.words, small_size, label.weight) + 8.0, h = small_size + 6.0;
        const auto box = [&](double dx, double dy, double align) {
            return Box{std::clamp(label.at.x + dx - align * w, view_.x + 3.0, view_.x + view_.width - w - 3.0), std::clamp(label.at.y + dy - 0.5 * h, view_.y + 3.0, view_.y + view_.height - h - 3.0), w, h};
        };
        const auto free = [&](const Box& b) {
            return std::none_of(taken.begin(), taken.end(), [&](const Box& t) { return b.x < t.x + t.w + 2.0 && t.x < b.x + b.w + 2.0 && b.y < t.y + t.h + 2.0 && t.y < b.y + b.h + 2.0; });
        };
        Box place = box(9.0, -12.0, 0.0);
        for (const double far : {0.0, 1.0, 2.0, 3.0}) {
            const double up = (label.below ? -1.0 : 1.0) * (13.0 + far * 21.0);
            bool found = false;
            for (const Box& b : {box(9.0, -up, 0.0), box(9.0, up, 0.0), box(-9.0, -up, 1.0), box(-9.0, up, 1.0)}) {
                if (!free(b)) continue;
                place = b;
                found = true;
                break;
            }
            if (found) break;
        }
        taken.push_back(place);
        const Vec2 near{std::clamp(label.at.x, place.x, place.x + place.w), std::clamp(label.at.y, place.y, place.y + place.h)};
        if (glm::length(near - label.at) > 16.0) page_.drawing.line(label.at, near, {page_.colours.ink, 0.8, {}, page_.colours.over.faded(0.7), 1.0});
        page_.plate({place.x + 4.0, place.y + small_size + 1.0}, label.words, label.ink, Anchor::start, label.weight);
    }
    labels_.clear();
}

}  // namespace linefall
