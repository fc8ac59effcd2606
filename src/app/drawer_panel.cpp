// A stop, opened: what happens there in one sentence, its part of the trace, and its controls.

#include <algorithm>

#include "app/desk.h"
#include "app/stops.h"
#include "app/tools.h"

namespace linefall {

namespace {

void drawControls(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    ImGui::SetCursorScreenPos(place.min());
    ImGui::BeginChild("controls", {place.w, place.h}, false, ImGuiWindowFlags_NoNav);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float inner = place.w - 16 * s;
    const int columns = inner > 430 * s ? 2 : 1;
    const float each = (inner - 18 * s * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    float tops[2] = {start.y + 4 * s, start.y + 4 * s};
    const std::vector<ParameterOf> all = parametersOf(desk.open_stop, desk.session.scene(), desk.active);
    // Numbers first, switches after them, in the order in which they are declared.
    for (const bool flags : {false, true}) {
        for (const ParameterOf& parameter : all) {
            if ((parameter.row->kind == Kind::flag) != flags) continue;
            const int column = columns == 2 && tops[1] < tops[0] ? 1 : 0;
            tops[column] += drawParameter(desk, parameter, {start.x + 4 * s + static_cast<float>(column) * (each + 18 * s), tops[column], each - 4 * s, 0});
        }
    }
    ImGui::SetCursorScreenPos({start.x, std::max(tops[0], tops[1])});
    ImGui::Dummy({1, 6 * s});  // the ring of the last one needs room
    ImGui::EndChild();
}

/// The contents of a tool. Each says with drawerReaches how low they reach: they roll when the drawer has less.
void drawTool(Desk& desk, const Tool& tool, const Rect& inside) {
    const float s = desk.ui.s, margin = 6 * s, wanted = tool.height * s;  // the ring of a focused control needs room
    const Rect place{inside.x - margin, inside.y - margin, inside.w + 2 * margin, inside.h + 2 * margin};
    ImGui::SetCursorScreenPos(place.min());
    ImGui::BeginChild(tool.name, {place.w, place.h}, false, ImGuiWindowFlags_NoNav);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const bool rolls = wanted + 2 * margin > place.h + 1.0f || ImGui::GetScrollMaxY() > 0.0f;
    tool.draw(desk, {start.x + margin, start.y + margin, inside.w - (rolls ? 12 * s : 0.0f), std::max(wanted, inside.h)});
    ImGui::EndChild();
}

}  // namespace

void drawerReaches(float y) {
    ImGui::SetCursorScreenPos({ImGui::GetCursorScreenPos().x, y});
    ImGui::Dummy({1, 1});
}

Rect drawDrawerFrame(Desk& desk, const Rect& place, const std::string& name, const std::string& sentence, float buttons) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    ui.draw()->AddRectFilled(place.min(), place.max(), ui.p.panel, 4 * s);
    ui.draw()->AddRect(place.min(), place.max(), ui.p.control, 4 * s, 0, 1.0f);
    const Rect in = place.inset(14 * s);
    ui.text(in.x, in.y - 4 * s, ui.fonts.title, ui.p.ink, name);
    const float used = ui.size(ui.fonts.title, name).x;
    if (ui.button("close", {in.right() - 28 * s, in.y - 5 * s, 28 * s, 28 * s}, "×", false, "close (Esc)")) desk.open_stop = desk.open_tool = -1;
    const float room = in.w - used - buttons - 60 * s;
    float top = 34 * s;
    if (ui.size(ui.fonts.body, sentence).x <= room) ui.text(in.x + used + 14 * s, in.y + 1 * s, ui.fonts.body, ui.p.quiet, sentence);
    else top += ui.paragraph(in.x, in.y + 26 * s, in.w, ui.fonts.small, ui.p.quiet, sentence) - 2 * s;
    return {in.x, in.y + top, in.w, std::max(20 * s, in.h - top)};
}

void drawDrawer(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    if (desk.open_tool >= 0) {
        const Tool& tool = toolTable()[static_cast<std::size_t>(desk.open_tool)];
        const Rect inside = drawDrawerFrame(desk, place, tool.name, tool.sentence);
        if (desk.open_tool >= 0) drawTool(desk, tool, inside);
        return;
    }
    const Stop& stop = lightStops()[static_cast<std::size_t>(desk.open_stop)];
    const float craft_buttons = 32 * s * static_cast<float>(desk.session.crafts().size());
    // Too narrow for both: the numbers or the controls, and the sentence rolls with the numbers.
    const bool narrow = place.w < 590 * s, walked = desk.session.picked() && desk.session.picked()->why;
    const bool numbers = narrow && walked && !desk.stop_controls;
    const float turn = narrow && walked ? 84 * s : 0.0f;
    const Rect inside = drawDrawerFrame(desk, place, stop.name, numbers ? "" : stop.sentence, craft_buttons + turn);
    if (desk.open_stop < 0) return;
    const Rect in = place.inset(14 * s);
    if (narrow && walked && ui.button("numbers or controls", {in.right() - 42 * s - craft_buttons - turn, in.y - 5 * s, turn - 8 * s, 28 * s}, numbers ? "Controls" : "Numbers")) {
        desk.stop_controls = !desk.stop_controls;
    }
    for (std::size_t i = 0; i < desk.session.crafts().size(); ++i) {
        const float x = in.right() - 42 * s - craft_buttons + 32 * s * static_cast<float>(i);
        const std::string letter(1, letterOf(static_cast<int>(i)));
        if (ui.button("controls of " + letter, {x, in.y - 5 * s, 28 * s, 28 * s}, letter, desk.active == static_cast<int>(i), "the controls of instrument " + letter)) {
            desk.active = static_cast<int>(i);
        }
    }
    const float top = inside.y;
    if (numbers) return drawWalk(desk, {in.x, top, in.w, in.bottom() - top}, desk.open_stop, true);
    if (narrow && walked) return drawControls(desk, {in.x, top, in.w, in.bottom() - top});
    // The walk has the larger part once there is one.
    const float trace = walked ? std::min(0.62f * in.w, 720 * s) : std::min(0.4f * in.w, 360 * s);
    drawWalk(desk, {in.x, top, trace, in.bottom() - top}, desk.open_stop, false);
    ui.line({in.x + trace + 8 * s, top}, {in.x + trace + 8 * s, in.bottom()}, ui.p.hairline, 1.0f);
    drawControls(desk, {in.x + trace + 20 * s, top, in.w - trace - 20 * s, in.bottom() - top});
}

}  // namespace linefall
