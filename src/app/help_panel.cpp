// All keys, from the one table, and what this program is and is not.

#include <algorithm>

#include "app/desk.h"

namespace linefall {

void drawHelp(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const float width = std::min(place.w, 900 * s), row = 24 * s;
    int rows = 0;
    for (const KeyRow& key : keyTable()) rows += key.shown[0] != '\0' ? 1 : 0;
    const int half = (rows + 1) / 2;
    const float height = std::min(place.h, 70 * s + static_cast<float>(half) * row + 112 * s);
    const Rect r{place.centre().x - 0.5f * width, place.centre().y - 0.5f * height, width, height};
    // Over the flight, never over the pictures; in a window of its own, so that nothing under it takes the pointer.
    ImGui::SetNextWindowPos(r.min());
    ImGui::SetNextWindowSize({r.w, r.h});
    ImGui::SetNextWindowFocus();
    ImGui::Begin("help", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    ui.draw()->AddRectFilled(r.min(), r.max(), ui.p.panel, 6 * s);
    ui.draw()->AddRect(r.min(), r.max(), ui.p.ink, 6 * s, 0, 1.5f * s);
    const Rect in = r.inset(26 * s);
    ui.text(in.x, in.y - 6 * s, ui.fonts.large, ui.p.ink, "Linefall");
    ui.text(in.x + ui.size(ui.fonts.large, "Linefall").x + 14 * s, in.y + 5 * s, ui.fonts.body, ui.p.quiet, "how a remote-sensing image is formed, line by line");
    if (ui.button("close help", {in.right() - 28 * s, in.y - 6 * s, 28 * s, 28 * s}, "×", false, "close (Esc)")) desk.help = false;
    const float top = in.y + 42 * s;
    int at = 0;
    for (const KeyRow& key : keyTable()) {
        if (key.shown[0] == '\0') continue;
        const float x = in.x + (at < half ? 0.0f : 0.5f * in.w + 10 * s);
        const float y = top + static_cast<float>(at % half) * row;
        ui.text(x, y, ui.fonts.figures, ui.p.ink, key.shown);
        ui.text(x + 104 * s, y, ui.fonts.small, ui.p.ink, ui.fitted(ui.fonts.small, key.what, 0.5f * in.w - 112 * s));
        ++at;
    }
    float y = top + static_cast<float>(half) * row + 10 * s;
    y += ui.paragraph(in.x, y, in.w, ui.fonts.small, ui.p.quiet,
                      "Counts are digital numbers (DN). Teaching models only: not for survey, navigation, engineering or safety decisions. "
                      "Never look at the sun through an optic; flying anything follows local aviation law.");
    if (!desk.notice.empty()) ui.text(in.x, y, ui.fonts.small, ui.p.ink, desk.notice);
    ImGui::End();
}

}  // namespace linefall
