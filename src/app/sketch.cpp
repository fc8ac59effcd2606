#include "app/sketch.h"

#include <algorithm>
#include <cmath>

#include "view/platform_shape.h"

namespace linefall {

ImU32 Sketch::casing() const { return ui_.p.night ? IM_COL32(16, 19, 22, 215) : IM_COL32(255, 253, 248, 215); }

std::optional<ImVec2> Sketch::at(const Vec3& point_m) const {
    const std::optional<ScreenPoint> p = camera_.project(point_m, view_.w, view_.h);
    if (!p || std::abs(p->x) > 20000.0 || std::abs(p->y) > 20000.0) return std::nullopt;
    return ImVec2{view_.x + static_cast<float>(p->x), view_.y + static_cast<float>(p->y)};
}

bool Sketch::visible(const Vec3& point_m) const {
    const Vec3 eye = camera_.eye_m();
    const double distance = glm::length(point_m - eye);
    if (distance <= 1.0) return true;
    const GroundHit hit = ground_.intersectStill({eye, (point_m - eye) / distance});
    return hit.meets == Meets::sky || hit.distance_m > distance - std::max(8.0, 0.004 * distance);
}

void Sketch::line(const std::vector<Vec3>& points, ImU32 colour, float width, float dash, bool over_ground) const {
    std::vector<char> seen(over_ground ? 0 : points.size(), 1);
    line(points, colour, width, dash, seen);
}

void Sketch::line(const std::vector<Vec3>& points, ImU32 colour, float width, float dash, std::vector<char>& seen) const {
    for (std::size_t i = seen.size(); i < points.size(); ++i) seen.push_back(visible(points[i]) ? 1 : 0);
    std::vector<ImVec2> run;
    const auto flush = [&] {
        ui_.cased(run, colour, casing(), width, dash);
        run.clear();
    };
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        Vec3 a = points[i], b = points[i + 1];
        if ((seen[i] == 0 && seen[i + 1] == 0) || !camera_.clip(a, b)) {
            flush();
            continue;
        }
        const std::optional<ImVec2> p = at(a), q = at(b);
        if (!p || !q) {
            flush();
            continue;
        }
        if (run.empty() || run.back().x != p->x || run.back().y != p->y) {
            flush();
            run.push_back(*p);
        }
        run.push_back(*q);
    }
    flush();
}

void Sketch::fan(const Vec3& from, const std::vector<Vec3>& points, ImU32 colour) const {
    ImDrawList* draw = ui_.draw();
    const ImDrawListFlags flags = draw->Flags;
    draw->Flags &= ~ImDrawListFlags_AntiAliasedFill;  // smoothed edges of neighbours would show as stripes
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const std::optional<ImVec2> a = at(from), b = at(points[i]), c = at(points[i + 1]);
        if (a && b && c) draw->AddTriangleFilled(*a, *b, *c, colour);
    }
    draw->Flags = flags;
}

void Sketch::label(const Vec3& point_m, float dx, float dy, ImU32 colour, const std::string& text, bool strong) {
    const std::optional<ImVec2> p = at(point_m);
    if (!p || !view_.holds(*p)) return;
    ImFont* font = strong ? ui_.fonts.strong : ui_.fonts.small;
    const float pad = 3 * ui_.s;
    const std::string words = ui_.fitted(font, text, view_.w - 2 * pad);
    const ImVec2 extent = ui_.size(font, words);
    float x = std::clamp(p->x + dx * ui_.s, view_.x + pad, std::max(view_.x + pad, view_.right() - extent.x - pad));
    float y = std::clamp(p->y + dy * ui_.s, view_.y + pad, std::max(view_.y + pad, view_.bottom() - extent.y - pad));
    const auto taken = [&](float ax, float ay) {
        const auto covers = [&](const Rect& r) { return ax - pad < r.right() && ax + extent.x + pad > r.x && ay - 2 < r.bottom() && ay + extent.y + 2 > r.y; };
        return std::any_of(labels_.begin(), labels_.end(), [&](const Label& label) { return covers(label.place); }) || std::any_of(free_.begin(), free_.end(), covers);
    };
    // Out of the way of earlier labels: up or down, to the other side, then farther and farther off.
    const float row = extent.y + 5 * ui_.s, other = std::clamp(p->x - dx * ui_.s - extent.x, view_.x + pad, std::max(view_.x + pad, view_.right() - extent.x - pad));
    const float lowest = view_.bottom() - extent.y - pad;
    bool placed = false;
    for (int step = 0; step <= 9 && !placed; ++step) {
        const float away = row * static_cast<float>(step);
        for (const ImVec2& t : {ImVec2{x, y - away}, ImVec2{x, y + away}, ImVec2{other, y - away}, ImVec2{other, y + away}}) {
            if (t.y < view_.y + pad || t.y > lowest || taken(t.x, t.y)) continue;
            x = t.x;
            y = t.y;
            placed = true;
            break;
        }
    }
    if (placed) labels_.push_back({{x - pad, y - 1, extent.x + 2 * pad, extent.y + 2}, font, colour, words, *p});
}

void Sketch::keepFree(const Vec3& point_m, float half_width, float half_height) {
    if (const std::optional<ImVec2> p = at(point_m)) free_.push_back({p->x - half_width * ui_.s, p->y - half_height * ui_.s, 2 * half_width * ui_.s, 2 * half_height * ui_.s});
}

void Sketch::drawLabels() const {
    for (const Label& label : labels_) {
        const ImVec2 near{std::clamp(label.point.x, label.place.x, label.place.right()), std::clamp(label.point.y, label.place.y, label.place.bottom())};
        if (std::hypot(near.x - label.point.x, near.y - label.point.y) > 36 * ui_.s) ui_.cased({near, label.point}, label.colour, casing(), 0.8f);
    }
    for (const Label& label : labels_) {
        ui_.draw()->AddRectFilled(label.place.min(), label.place.max(), faded(ui_.p.panel, 0.95f), 3 * ui_.s);
        ui_.text(label.place.x + 3 * ui_.s, label.place.y + 1, label.font, label.colour, label.words);
    }
}

std::vector<std::pair<std::string, Rect>> Sketch::labels() const {
    std::vector<std::pair<std::string, Rect>> out;
    for (const Label& label : labels_) out.emplace_back(label.words, label.place);
    return out;
}

void Sketch::ring(const Vec3& point_m, float radius, ImU32 colour) const {
    const std::optional<ImVec2> p = at(point_m);
    if (!p) return;
    ui_.draw()->AddCircle(*p, radius * ui_.s, casing(), 40, 5.0f * ui_.s);
    ui_.draw()->AddCircle(*p, radius * ui_.s, colour, 40, 2.5f * ui_.s);
}

void Sketch::faintLine(const Vec3& from, const Vec3& to, ImU32 colour) const {
    Vec3 a = from, b = to;
    if (!camera_.clip(a, b)) return;
    const std::optional<ImVec2> p = at(a), q = at(b);
    if (p && q) ui_.line(*p, *q, colour, 1.0f);
}

void Sketch::patch(const std::vector<Vec3>& corners, ImU32 colour) const {
    std::vector<ImVec2> points;
    for (const Vec3& corner : corners) {
        const std::optional<ImVec2> p = at(corner);
        if (!p) return;
        points.push_back(*p);
    }
    for (std::size_t i = 1; i + 1 < points.size(); ++i) ui_.draw()->AddTriangleFilled(points[0], points[i], points[i + 1], colour);
}

void Sketch::head(const Vec3& from, const Vec3& to, double share, ImU32 colour) const {
    Vec3 a = from, b = to;
    if (!camera_.clip(a, b)) return;
    const std::optional<ImVec2> p = at(a), q = at(b);
    if (!p || !q) return;
    // The part of the way that lies in the view.
    const float dx = q->x - p->x, dy = q->y - p->y, margin = 10 * ui_.s;
    float first = 0.0f, last = 1.0f;
    const auto cut = [&](float start, float step, float low, float high) {
        if (step == 0.0f) return;
        const float one = (low - start) / step, other = (high - start) / step;
        first = std::max(first, std::min(one, other));
        last = std::min(last, std::max(one, other));
    };
    cut(p->x, dx, view_.x + margin, view_.right() - margin);
    cut(p->y, dy, view_.y + margin, view_.bottom() - margin);
    const float length = std::hypot(dx, dy);
    if (first >= last || length * (last - first) < 12 * ui_.s) return;
    const float at_share = first + (last - first) * static_cast<float>(share);
    const ImVec2 u{dx / length, dy / length}, tip{p->x + dx * at_share, p->y + dy * at_share};
    const auto corner = [&](float back, float side) { return ImVec2{tip.x - back * u.x - side * u.y, tip.y - back * u.y + side * u.x}; };
    const float s = ui_.s;
    ui_.draw()->AddTriangleFilled({tip.x + 3 * s * u.x, tip.y + 3 * s * u.y}, corner(14 * s, 8.5f * s), corner(14 * s, -8.5f * s), casing());
    ui_.draw()->AddTriangleFilled(tip, corner(12 * s, 6 * s), corner(12 * s, -6 * s), colour);
}

void Sketch::cross(const Vec3& point_m, ImU32 colour) const {
    const std::optional<ImVec2> p = at(point_m);
    if (!p) return;
    const float r = 7 * ui_.s;
    ui_.cased({{p->x - r, p->y - r}, {p->x + r, p->y + r}}, colour, casing(), 3.0f);
    ui_.cased({{p->x - r, p->y + r}, {p->x + r, p->y - r}}, colour, casing(), 3.0f);
}

void Sketch::dot(const Vec3& point_m, float radius, ImU32 colour) const {
    const std::optional<ImVec2> p = at(point_m);
    if (!p) return;
    ui_.draw()->AddCircleFilled(*p, (radius + 1.5f) * ui_.s, casing(), 20);
    ui_.draw()->AddCircleFilled(*p, radius * ui_.s, colour, 20);
}

void Sketch::arc(const Vec3& centre, const Vec3& from, const Vec3& to, double radius_m, ImU32 colour, const std::string& words) {
    const double angle = std::acos(std::clamp(glm::dot(from, to), -1.0, 1.0));
    if (angle < 0.03) return label(centre + radius_m * from, 6.0f, -8.0f, ui_.p.ink, words);  // too narrow for an arc: its number alone
    const Vec3 across = glm::normalize(to - glm::dot(from, to) * from);
    std::vector<Vec3> points;
    for (int i = 0; i <= 24; ++i) {
        const double a = angle * i / 24.0;
        points.push_back(centre + radius_m * (std::cos(a) * from + std::sin(a) * across));
    }
    line(points, colour, 1.5f);
    // Beside its middle, or beside what is in view of it.
    for (const std::size_t i : {12u, 8u, 16u, 4u, 20u, 0u, 24u}) {
        const std::optional<ImVec2> p = at(points[i]);
        if (p && view_.holds(*p)) return label(points[i], 6.0f, -8.0f, ui_.p.ink, words);
    }
}

void drawPlatform(const Sketch& sketch, const Pose& pose) {
    const Camera& camera = sketch.camera();
    Ui& ui = sketch.ui();
    // About 70 pixels of a view 540 high from wing tip to wing tip, whatever the distance.
    struct Flat {
        std::vector<ImVec2> points;
        float shade;
    };
    std::vector<Flat> flats;
    for (const PlatformFace& face : platformFaces(camera, pose)) {
        Flat flat{{}, static_cast<float>(face.shade)};
        for (const Vec3& corner : face.corners) {
            const std::optional<ImVec2> p = sketch.at(corner);
            if (!p) return;
            flat.points.push_back(*p);
        }
        flats.push_back(std::move(flat));
    }
    for (const Flat& flat : flats) {
        ui.draw()->AddPolyline(flat.points.data(), static_cast<int>(flat.points.size()), IM_COL32(255, 253, 248, 215), ImDrawFlags_Closed, 3.0f * ui.s);
    }
    for (const Flat& flat : flats) {
        const auto grey = [&](int ink, int paper) { return ink + static_cast<int>(flat.shade * static_cast<float>(paper - ink)); };
        // ImGui fills convex shapes in one winding only when anti-aliased; turn the others.
        std::vector<ImVec2> points = flat.points;
        float area = 0;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const ImVec2 &a = points[i], &b = points[(i + 1) % points.size()];
            area += a.x * b.y - b.x * a.y;
        }
        if (area < 0) std::reverse(points.begin(), points.end());
        ui.draw()->AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), IM_COL32(grey(31, 255), grey(35, 253), grey(40, 248), 255));
    }
}

}  // namespace linefall
