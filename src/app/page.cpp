#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/tools.h"

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

Layout layoutOf(const Desk& desk, float width, float height) {
    const int pictures = desk.session.loaded() ? static_cast<int>(desk.pictures.size()) : 2;
    const float drawer = desk.open_tool >= 0 ? toolTable()[static_cast<std::size_t>(desk.open_tool)].height : desk.open_stop >= 0 ? 268.0f : 0.0f;
    return layoutOf(width, height, desk.ui.s, pictures, desk.session.picked().has_value(), drawer, desk.pictures_large);
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

}  // namespace

void drawPage(Desk& desk, const Layout& l) {
    Ui& ui = desk.ui;
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({l.page.w, l.page.h});
    ImGui::Begin("page", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse);
    ui.begin();
    if (!desk.session.loaded()) {
        drawWaiting(desk, l);
    } else {
        drawFlight(desk, l.flight);
        for (std::size_t i = 0; i < l.pictures.size() && i < desk.pictures.size(); ++i) drawPicture(desk, static_cast<int>(i), l.pictures[i]);
        drawLegend(desk, l.legend);
        drawClock(desk, l.clock);
        if (desk.open_stop >= 0 || desk.open_tool >= 0) drawDrawer(desk, l.drawer);
        drawPath(desk, l.path);
        if (desk.help) drawHelp(desk, {l.flight.x, l.flight.y, l.flight.w, l.clock.bottom() - l.flight.y});
    }
    ui.end();
    ImGui::End();
}

}  // namespace linefall
