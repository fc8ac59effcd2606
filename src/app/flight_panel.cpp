// The flight: the land in its light, and over it what flies and looks. Turned by dragging, zoomed by the wheel or keys.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "base/angle.h"

namespace linefall {

namespace {

void heading(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const Scene& scene = desk.session.scene();
    const std::string& title = scene.place->title;
    const float width = 58 * s, apart = 6 * s, all = 4 * width + 3 * apart;
    const bool roomy = ui.size(ui.fonts.title, title).x + 16 * s + all <= place.w;
    ui.text(place.x, place.y + 2 * s, ui.fonts.title, ui.p.ink, ui.fitted(ui.fonts.title, title, place.w - (roomy ? all : width) - 10 * s));
    const LectureSteps& steps = desk.steps;
    if (desk.lecture && steps.at >= 0) {  // where the lecture stands
        const std::string words = "step " + std::to_string(steps.at + 1) + " of " + std::to_string(steps.kept.size());
        const float x = place.x + ui.size(ui.fonts.title, title).x + 14 * s;
        if (x + ui.size(ui.fonts.small, words).x + 12 * s + (roomy ? all : width) <= place.right()) ui.text(x, place.y + 7 * s, ui.fonts.small, ui.p.quiet, words);
    }
    if (!roomy) {  // one button that goes round
        if (ui.button("view next", {place.right() - width, place.y + 1 * s, width, 24 * s}, nameOf(desk.view.kind), false, "next view (V)")) act(desk, Act::view_next);
        return;
    }
    for (int i = 0; i < 4; ++i) {
        const ViewKind kind = static_cast<ViewKind>(i);
        const Rect r{place.right() - all + static_cast<float>(i) * (width + apart), place.y + 1 * s, width, 24 * s};
        if (ui.button(std::string("view ") + nameOf(kind), r, nameOf(kind), desk.view.kind == kind, "view (V)")) {
            act(desk, static_cast<Act>(static_cast<int>(Act::view_1) + i));
        }
    }
}

void steer(Desk& desk, const Rect& view, const Touch& t) {
    ImGuiIO& io = ImGui::GetIO();
    if (t.held && (io.MouseDelta.x != 0.0f || io.MouseDelta.y != 0.0f)) {
        desk.view.turn_rad -= 0.006 * io.MouseDelta.x / desk.ui.s;
        desk.view.rise_rad += 0.004 * io.MouseDelta.y / desk.ui.s;
    }
    if (t.step_x != 0 || t.step_y != 0) {
        desk.view.turn_rad += radiansFromDegrees(3.0) * t.step_x;
        desk.view.rise_rad += radiansFromDegrees(2.0) * t.step_y;
    }
    desk.view.rise_rad = std::clamp(desk.view.rise_rad, -1.5, 1.5);
    if (t.hovered && !t.held) {
        const ImVec2 mouse = io.MousePos;
        Ray ray = desk.view.camera.ray(mouse.x - view.x, mouse.y - view.y, view.w, view.h);
        ray.time_s = desk.session.clock().time_s();
        const GroundHit hit = desk.session.scene().place->ground->intersect(ray);
        if (hit.meets != Meets::sky) pointAtGround(desk, hit.point_m);
    }
    if (t.hovered && desk.ui.wheel() != 0.0f) desk.view.zoom = std::clamp(desk.view.zoom * std::pow(0.88, static_cast<double>(desk.ui.wheel())), 0.02, 20.0);
}

/// The line that is gathered by hand: dragging over the land moves the line of sight to the nearest of its samples.
void sweepOverGround(Desk& desk, const Rect& view, const Touch& t) {
    if (!t.held) return;
    Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(*desk.session.handCraft())];
    constexpr int points = 129;
    const std::vector<Vec3> ground = lineOnGround(craft.formation(), craft.manner(), craft.hand()->line() + craft.hand()->lines() / 2, points);
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    double best_off = 1e30, best = 0.0;
    std::optional<Vec2> before;
    for (int i = 0; i < points; ++i) {
        const std::optional<ScreenPoint> p = desk.view.camera.project(ground[static_cast<std::size_t>(i)], view.w, view.h);
        if (!p) {
            before.reset();
            continue;
        }
        const Vec2 here{view.x + p->x, view.y + p->y}, from = before.value_or(here), way = here - from;
        const double length = glm::dot(way, way);
        const double along = length > 0.0 ? std::clamp(glm::dot(Vec2{mouse.x, mouse.y} - from, way) / length, 0.0, 1.0) : 0.0;
        const double off = glm::length(from + along * way - Vec2{mouse.x, mouse.y});
        if (off < best_off) {
            best_off = off;
            best = i - (before ? 1.0 - along : 0.0);
        }
        before = here;
    }
    craft.moveHand(static_cast<int>(std::lround(best / (points - 1) * (craft.formation().samples() - 1))), ImGui::IsMouseClicked(0));
}

}  // namespace

void drawFlight(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    heading(desk, place);
    const float top = headingHeight(ui.s);
    const Rect view{place.x, place.y + top, place.w, place.h - top};
    const Touch t = ui.touch("flight", view);
    ImGui::SetItemAllowOverlap();  // the plates over it take the pointer
    if (desk.session.handCraft()) sweepOverGround(desk, view, t);
    else steer(desk, view, t);
    desk.flight_place = view;
    if (desk.world && desk.world->texture() != 0) {
        ui.draw()->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(desk.world->texture())), view.min(), view.max(), {0, 1}, {1, 0});
    } else {
        ui.draw()->AddRectFilled(view.min(), view.max(), ui.p.blank);
    }
    ui.draw()->PushClipRect(view.min(), view.max(), true);
    drawFlightMarks(desk, view);
    drawInstrumentPlates(desk, view);
    ui.draw()->PopClipRect();
    ui.draw()->AddRect(view.min(), view.max(), ui.p.ink, 0, 0, 1.0f * ui.s);
}

}  // namespace linefall
