#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/keeper.h"
#include "app/tools.h"
#include "flight/light_stops.h"

namespace linefall {

char letterOf(int craft) { return static_cast<char>('A' + craft % 26); }
ImU32 colourOf(const Desk& desk, int craft) { return desk.ui.p.craft[craft % 2]; }
float dashOf(int craft) { return craft % 2 == 0 ? 0.0f : 7.0f; }

const char* nameOf(ViewKind kind) {
    switch (kind) {
        case ViewKind::island: return "whole";
        case ViewKind::chase: return "chase";
        case ViewKind::side: return "side";
        default: return "top";
    }
}

float scaleFor(const Desk& desk, float width, float height) {
    const float fit = std::min(width / 1280.0f, height / 720.0f);
    float scale = fit > 1.0f ? 1.0f + 0.62f * (fit - 1.0f) : std::max(fit, 0.85f);
    scale *= desk.text_scale;
    if (desk.lecture) scale = std::max(scale, 0.04f * height / 20.0f);
    return std::min({scale, width / 560.0f, height / 300.0f});  // larger, and no control would fit
}

Layout layoutOf(Desk& desk, float width, float height) {
    PageWish wish;
    wish.width = width;
    wish.height = height;
    wish.scale = desk.ui.s;
    // Nothing moves under a hand that drags: a new shape of the pictures is taken when it lets go.
    if (desk.session.loaded() && (!desk.ui.dragging() || desk.shapes.size() != desk.pictures.size())) {
        desk.shapes.clear();
        for (const auto& craft : desk.session.crafts()) desk.shapes.push_back(static_cast<float>(shapeOf(craft->formation())));
    }
    if (!desk.shapes.empty()) wish.shapes = desk.shapes;
    wish.picked = desk.session.picked().has_value();
    wish.drawer = desk.open_tool >= 0 ? toolTable()[static_cast<std::size_t>(desk.open_tool)].height : desk.open_stop >= 0 ? 268.0f : 0.0f;
    wish.pictures_large = desk.pictures_large || desk.blink.on();
    if (desk.blink.on() && !wish.shapes.empty()) wish.shapes = {*std::max_element(wish.shapes.begin(), wish.shapes.end())};
    return layoutOf(wish);
}

void takeGeneration(Desk& desk) {
    if (desk.generation == desk.session.generation()) return;
    desk.generation = desk.session.generation();
    desk.pictures.resize(std::min(desk.pictures.size(), desk.session.crafts().size()));
    desk.picture_versions.assign(desk.pictures.size(), -1);
    desk.picture_views.assign(desk.pictures.size(), PictureView{});
    desk.active = 0;
    takeProfile(desk);
}

namespace {

void drawWaiting(Desk& desk, const Layout& l) {
    Ui& ui = desk.ui;
    const Rect& r = l.flight;
    if (!desk.session.failure().empty()) {
        ui.text(r.x, r.y + 40 * ui.s, ui.fonts.title, ui.p.wrong, "This scene cannot be flown");
        float y = r.y + 76 * ui.s;
        std::size_t at = 0;
        const std::string& words = desk.session.failure();
        while (at < words.size() && y < r.bottom()) {
            const std::size_t end = std::min(words.find('\n', at), words.size());
            y += ui.paragraph(r.x, y, r.w - 20 * ui.s, ui.fonts.body, ui.p.ink, words.substr(at, end - at)) + 4 * ui.s;
            at = end + 1;
        }
        return;
    }
    const float top = headingHeight(ui.s);
    ui.draw()->AddRectFilled({r.x, r.y + top}, r.max(), ui.p.blank);
    for (const Rect& picture : l.pictures) ui.draw()->AddRectFilled({picture.x, picture.y + top}, {picture.right(), picture.bottom() - 22 * ui.s}, ui.p.blank);
    drawPath(desk, l.path);
    ui.text(r.centre().x, r.centre().y - 24 * ui.s, ui.fonts.title, ui.p.ink, "Raising the land", Align::centre);
    ui.text(r.centre().x, r.centre().y + 8 * ui.s, ui.fonts.body, ui.p.quiet, "terrain, water, town: made from one seed", Align::centre);
}

/// All parts but the light path, in the order in which Tab visits them.
void drawBody(Desk& desk, const Layout& l) {
    const auto pictures = [&] {
        if (desk.blink.on()) return drawPicture(desk, desk.blink.shown(), l.pictures.front());
        for (std::size_t i = 0; i < l.pictures.size() && i < desk.pictures.size(); ++i) drawPicture(desk, static_cast<int>(i), l.pictures[i]);
    };
    const bool large = desk.pictures_large || desk.blink.on();
    if (large) pictures();
    else drawFlight(desk, l.flight);
    if (desk.open_stop >= 0 || desk.open_tool >= 0) drawDrawer(desk, l.drawer);
    drawClock(desk, l.clock);
    if (large) drawFlight(desk, l.flight);
    else pictures();
    if (l.legend.w > 0.0f) drawLegend(desk, l.legend);
}

/// The column of a small page: it rolls to what the keyboard reaches, and to a drawer that opens.
void drawRollingBody(Desk& desk, const Layout& l) {
    Ui& ui = desk.ui;
    ImGui::SetCursorScreenPos(l.body.min());
    ImGui::BeginChild("body", {l.body.w, l.body.h}, false, ImGuiWindowFlags_NoNav);
    desk.roll = ImGui::GetScrollY();
    const int open = desk.open_stop >= 0 ? desk.open_stop : desk.open_tool >= 0 ? stop_count + desk.open_tool : -1;
    drawBody(desk, l.rolled(desk.roll));
    ImGui::SetCursorPos({0, l.content});
    ImGui::Dummy({1, 1});
    if (open != desk.rolled_to && open >= 0) ImGui::SetScrollY(std::max(0.0f, l.drawer.y - 12 * ui.s));
    desk.rolled_to = open;
    if (const Rect* focus = ui.newlyFocused()) {
        const float margin = 10 * ui.s, above = focus->y - l.body.y - margin, below = focus->bottom() + margin - l.body.bottom();
        if (above < 0.0f || below > 0.0f) ImGui::SetScrollY(desk.roll + (above < 0.0f || focus->h > l.body.h ? above : below));
    }
    ImGui::EndChild();
}

/// What was just done, for some seconds: over the foot of the flight, or over the path when the page is a column.
void drawSaying(Desk& desk, const Layout& l) {
    desk.saying_left_s -= desk.seconds;
    if (desk.saying.empty() || desk.saying_left_s <= 0.0) {
        desk.saying.clear();
        return;
    }
    Ui& ui = desk.ui;
    const float s = ui.s, pad = 8 * s;
    const Rect over = l.stacked ? Rect{l.path.x, 0, l.path.w, l.path.y} : Rect{l.clock.x, 0, l.clock.w, l.clock.y - 8 * s};
    const float width = std::min(over.w, ui.size(ui.fonts.small, desk.saying).x + 2 * pad + 2 * s);
    const float height = ui.paragraph(0, 0, width - 2 * pad, ui.fonts.small, ui.p.ink, desk.saying, true) + 2 * pad - 4 * s;
    const Rect r{over.x, over.bottom() - height, width, height};
    ui.draw()->AddRectFilled(r.min(), r.max(), ui.p.ink, 4 * s);
    ui.layer = 1;
    ui.paragraph(r.x + pad, r.y + pad - 1 * s, width - 2 * pad, ui.fonts.small, ui.p.paper, desk.saying);
    ui.layer = 0;
}

}  // namespace

void drawPage(Desk& desk, const Layout& l) {
    Ui& ui = desk.ui;
    if (desk.blink.on()) {
        desk.blink.step(desk.seconds, !desk.reduced_motion);
        desk.animating = true;
    }
    desk.keep.maker.turn();
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({l.page.w, l.page.h});
    ImGui::Begin("page", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse);
    ui.begin();
    if (desk.blank) {
        ui.draw()->AddRectFilled(l.page.min(), l.page.max(), desk.night ? IM_COL32_BLACK : ui.p.paper);
    } else if (desk.test_card) {
        drawTestCard(desk, l.page);
    } else if (!desk.session.loaded()) {
        drawWaiting(desk, l);
    } else {
        ui.page_rolls = l.stacked && l.content > l.body.h;
        if (l.stacked) drawRollingBody(desk, l);
        if (l.stacked && desk.help) ui.cover({-1e6f, -1e6f, 2e6f, 2e6f});  // all that rolls under the help
        if (!l.stacked) drawBody(desk, l);
        drawPath(desk, l.path);
        drawSaying(desk, l);
        if (desk.help) drawHelp(desk, l.stacked ? l.body.inset(10 * ui.s) : Rect{l.clock.x, l.body.y + 6 * ui.s, l.clock.w, l.clock.bottom() - l.body.y - 6 * ui.s});
    }
    endCursor(desk);
    ui.end();
    drawOverPage(desk, l.page);
    ImGui::End();
}

}  // namespace linefall
