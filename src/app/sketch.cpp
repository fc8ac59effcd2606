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
    const GroundHit hit = ground_.intersect({eye, (point_m - eye) / distance});
    return hit.meets == Meets::sky || hit.distance_m > distance - std::max(8.0, 0.004 * distance);
}

void Sketch::line(const std::vector<Vec3>& points, ImU32 colour, float width, float dash, bool over_ground) const {
    std::vector<ImVec2> run;
    const auto flush = [&] {
        ui_.cased(run, colour, casing(), width, dash);
        run.clear();
    };
    bool before = points.empty() || !over_ground || visible(points.front());
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        Vec3 a = points[i], b = points[i + 1];
        const bool after = !over_ground || visible(b);
        const bool seen = before || after;
        before = after;
        if (!seen || !camera_.clip(a, b)) {
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

void Sketch::label(const Vec3& point_m, float dx, float dy, ImU32 colour, const std::string& words, bool strong) {
    const std::optional<ImVec2> p = at(point_m);
    if (!p || !view_.holds(*p)) return;
    ImFont* font = strong ? ui_.fonts.strong : ui_.fonts.small;
    const ImVec2 extent = ui_.size(font, words);
    const float pad = 3 * ui_.s;
    float x = std::clamp(p->x + dx * ui_.s, view_.x + pad, std::max(view_.x + pad, view_.right() - extent.x - pad));
    float y = std::clamp(p->y + dy * ui_.s, view_.y + pad, std::max(view_.y + pad, view_.bottom() - extent.y - pad));
    const auto taken = [&](float ax, float ay) {
        for (const Label& label : labels_) {
            const Rect& r = label.place;
            if (ax - pad < r.right() && ax + extent.x + pad > r.x && ay - 2 < r.bottom() && ay + extent.y + 2 > r.y) return true;
        }
        return false;
    };
    // Out of the way of earlier labels: a little up or down, then to the other side.
    const float row = extent.y + 5 * ui_.s, other = p->x - dx * ui_.s - extent.x;
    const ImVec2 tries[] = {{x, y}, {x, y - row}, {x, y + row}, {other, y}, {other, y - row}, {other, y + row}, {x, y - 2 * row}, {x, y + 2 * row}};
    for (const ImVec2& t : tries) {
        if (taken(t.x, t.y)) continue;
        x = t.x;
        y = t.y;
        break;
    }
    labels_.push_back({{x - pad, y - 1, extent.x + 2 * pad, extent.y + 2}, font, colour, words});
}

void Sketch::drawLabels() const {
    for (const Label& label : labels_) {
        ui_.draw()->AddRectFilled(label.place.min(), label.place.max(), faded(ui_.p.panel, 0.88f), 3 * ui_.s);
        ui_.text(label.place.x + 3 * ui_.s, label.place.y + 1, label.font, label.colour, label.words);
    }
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
    if (angle < 0.03) return;
    const Vec3 across = glm::normalize(to - glm::dot(from, to) * from);
    std::vector<Vec3> points;
    for (int i = 0; i <= 24; ++i) {
        const double a = angle * i / 24.0;
        points.push_back(centre + radius_m * (std::cos(a) * from + std::sin(a) * across));
    }
    line(points, colour, 1.5f);
    label(points[12], 6.0f, -8.0f, ui_.p.ink, words);
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
