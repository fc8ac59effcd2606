// Keep and show: the present state saved and opened again, figures of what is shown, and what a killed session left.

#include <filesystem>

#include "app/desk.h"
#include "app/keeper.h"
#include "app/tools.h"

namespace linefall {

namespace {

/// What was wrong, one mistake a paragraph under a heading; scrolls.
void drawProblems(Desk& desk, const Rect& place, const std::string& heading, const std::vector<std::string>& problems) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    ImGui::SetCursorScreenPos(place.min());
    ImGui::BeginChild("open problems", {place.w, place.h}, false, ImGuiWindowFlags_NoNav);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    float y = start.y;
    ui.text(start.x, y, ui.fonts.strong, ui.p.wrong, heading);
    y += 24 * s;
    for (const std::string& problem : problems) y += ui.paragraph(start.x, y, place.w - 16 * s, ui.fonts.small, ui.p.ink, problem) + 5 * s;
    ImGui::SetCursorScreenPos({start.x, y});
    ImGui::Dummy({1, 1});
    ImGui::EndChild();
}

}  // namespace

void actKeep(Desk& desk) {
    desk.keep.maker.forget();
    try {
        // What is saved opens to the same picture: a stretch that was held while the light changed is made anew first.
        for (const auto& craft : desk.session.crafts()) craft->stretchAgain();
        desk.keep.said = "Saved as " + saveState(desk, desk.keep.folder);
    } catch (const InputError& error) {
        desk.keep.said = error.what();
    }
}

void drawKeep(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const float width = 150 * s, height = 30 * s, gap = 10 * s;
    float y = place.y;
    if (ui.button("save state", {place.x, y, width, height}, "Save this state", false, "a small text file that opens to the same picture (Ctrl and S)")) actKeep(desk);
    const float field = std::min(340 * s, place.w - width - 2 * gap);
    std::string entered;
    const std::vector<std::string> ways{"Open a state, place, instrument or flight: type its path, or drop the file here",
                                        "Open a file: type its path, or drop it here", "Type a path, or drop a file"};
    ui.text(place.x + width + 2 * gap, y - 1 * s, ui.fonts.small, ui.p.quiet, ui.fitting(ui.fonts.small, ways, place.right() - place.x - width - 2 * gap));
    if (ui.field("open path", {place.x + width + 2 * gap, y + 19 * s, field, 28 * s}, desk.keep.opened.empty() ? "path.toml" : desk.keep.opened, entered,
                 !desk.session.openProblems().empty())) {
        openFile(desk, entered);
    }
    y += 54 * s;
    if (desk.keep.left) {
        const std::string words = "The last session ended without a goodbye.";
        const bool beside = ui.size(ui.fonts.body, words).x + gap + 210 * s <= place.w;
        y += beside ? 0.0f : ui.paragraph(place.x, y, place.w, ui.fonts.body, ui.p.ink, words) + 6 * s;
        if (beside) ui.text(place.x, y + 6 * s, ui.fonts.body, ui.p.ink, words);
        const float x = place.x + (beside ? ui.size(ui.fonts.body, words).x + gap : 0.0f);
        if (ui.button("restore", {x, y, 110 * s, height}, "Restore it")) {
            openFile(desk, *desk.keep.left);
            desk.keep.forget_left = true;
            desk.keep.left.reset();
        }
        if (ui.button("forget", {x + 120 * s, y, 90 * s, height}, "Forget it")) {
            desk.keep.forget_left = true;
            desk.keep.left.reset();
        }
        y += 40 * s;
    }
    y += drawFigureChoices(desk, {place.x, y, place.w, place.bottom() - y});
    drawerReaches(y + 8 * s);
    const float room = std::max(60 * s, place.bottom() - y);
    const std::vector<std::string>&wrong = desk.session.openProblems(), &failed = desk.keep.maker.problems();
    if (desk.session.opening()) ui.text(place.x, y, ui.fonts.small, ui.p.quiet, "opening …");
    else if (!wrong.empty()) drawProblems(desk, {place.x, y, place.w, room}, wrong.size() == 1 ? "One mistake: the scene before it flies on" : std::to_string(wrong.size()) + " mistakes: the scene before them flies on", wrong);
    else if (!failed.empty()) drawProblems(desk, {place.x, y, place.w, room}, "No figure was written", failed);
    else if (const std::string& said = desk.keep.said.empty() ? desk.keep.maker.said() : desk.keep.said; !said.empty()) drawerReaches(y + ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.ink, said) + 4 * s);
}

}  // namespace linefall
