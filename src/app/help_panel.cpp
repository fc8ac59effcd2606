// All keys, from the one table, and what this program is and is not.

#include <algorithm>

#include "app/desk.h"

namespace linefall {

void drawHelp(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, row = 23 * s, pad = 22 * s;
    // Over the flight, never over the pictures; in a window of its own, so that nothing under it takes the pointer.
    ImGui::SetNextWindowPos(place.min());
    ImGui::SetNextWindowSize({place.w, place.h});
    ImGui::SetNextWindowFocus();
    ImGui::Begin("help", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    ui.layer = 1;
    ui.cover(place);
    ui.draw()->AddRectFilled(place.min(), place.max(), ui.p.panel, 6 * s);
    ui.draw()->AddRect(place.min(), place.max(), ui.p.ink, 6 * s, 0, 1.5f * s);
    const Rect in = place.inset(pad);
    ui.text(in.x, in.y - 6 * s, ui.fonts.large, ui.p.ink, "Linefall");
    const float used = ui.size(ui.fonts.large, "Linefall").x + 14 * s;
    ui.text(in.x + used, in.y + 5 * s, ui.fonts.body, ui.p.quiet,
            ui.fitting(ui.fonts.body, {"how a remote-sensing image is formed, line by line", "how an image is formed", ""}, in.w - used - 40 * s));
    if (ui.button("close help", {in.right() - 28 * s, in.y - 6 * s, 28 * s, 28 * s}, "×", false, "close (Esc)")) act(desk, Act::help);

    // The rows in as many columns as have room for their words; they roll when there are many.
    const Rect body{in.x - 6 * s, in.y + 36 * s, in.w + 12 * s, in.bottom() - in.y - 36 * s};
    const Touch t = ui.touch(help_control, body);
    ImGui::SetItemAllowOverlap();
    ImGui::SetCursorScreenPos(body.min());
    ImGui::BeginChild("help rows", {body.w, body.h}, false, ImGuiWindowFlags_NoNav);
    if (t.step_y != 0) ImGui::SetScrollY(std::clamp(ImGui::GetScrollY() - 2 * row * static_cast<float>(t.step_y), 0.0f, ImGui::GetScrollMaxY()));
    const ImVec2 start{ImGui::GetCursorScreenPos().x + 6 * s, ImGui::GetCursorScreenPos().y};
    const float inner = body.w - 20 * s, keys = 100 * s;
    const int columns = std::clamp(static_cast<int>(inner / (270 * s)), 1, 3);
    const float width = inner / static_cast<float>(columns), words = width - keys - 8 * s;
    const auto heightOf = [&](const KeyRow& key) {
        return ui.paragraph(0, 0, words, ui.fonts.small, ui.p.ink, key.what, true) + row - 1.35f * ui.fonts.small->FontSize;
    };
    float whole = 0;
    for (const KeyRow& key : keyTable()) {
        if (key.shown[0] != '\0') whole += heightOf(key);
    }
    float x = start.x, y = start.y, lowest = start.y;
    for (const KeyRow& key : keyTable()) {
        if (key.shown[0] == '\0') continue;
        if (y - start.y > whole / static_cast<float>(columns) - 1.0f) {
            x += width;
            y = start.y;
        }
        ui.text(x, y, ui.fonts.figures, ui.p.ink, key.shown);
        ui.paragraph(x + keys, y, words, ui.fonts.small, ui.p.ink, key.what);
        y += heightOf(key);
        lowest = std::max(lowest, y);
    }
    y = lowest + 8 * s;
    y += ui.paragraph(start.x, y, inner, ui.fonts.small, ui.p.quiet,
                      "Counts are digital numbers (DN). Teaching models only: not for survey, navigation, engineering or safety decisions. "
                      "Never look at the sun through an optic; flying anything follows local aviation law.");
    if (!desk.notice.empty()) y += ui.paragraph(start.x, y, inner, ui.fonts.small, ui.p.ink, desk.notice);
    ImGui::SetCursorScreenPos({start.x, y});
    ImGui::Dummy({1, 1});
    ImGui::EndChild();
    ui.layer = 0;
    ImGui::End();
}

}  // namespace linefall
