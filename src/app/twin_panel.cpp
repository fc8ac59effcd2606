// Twin flight: which instruments fly together over the same ground at the same instant, and how their pictures are compared.

#include <algorithm>

#include "app/button_row.h"
#include "app/desk.h"
#include "app/tools.h"

namespace linefall {

namespace {

const std::vector<Listed>& presets() {
    static const std::vector<Listed> list = listScenes("instruments");
    return list;
}

/// One craft's choice of instruments; returns where it ends.
float drawChoice(Desk& desk, int craft, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    Session& session = desk.session;
    const bool flies = craft < static_cast<int>(session.crafts().size());
    const std::string letter(1, letterOf(craft));
    const Rect tag{place.x, place.y + 2 * s, 24 * s, 24 * s};
    ui.draw()->AddRectFilled(tag.min(), tag.max(), colourOf(desk, craft), 4 * s);
    const ImVec2 extent = ui.size(ui.fonts.strong, letter);
    ui.text(tag.centre().x - 0.5f * extent.x, tag.centre().y - 0.5f * extent.y, ui.fonts.strong, ui.p.on_craft, letter);
    ButtonRow row(ui, place.x + 34 * s, place.right(), place.y);
    const std::string now = flies ? session.scene().instruments[static_cast<std::size_t>(craft)].preset : "";
    bool known = !flies;
    for (const Listed& preset : presets()) {
        known = known || preset.name == now;
        if (row.button(letter + " " + preset.name, preset.title, preset.name == now, preset.description)) session.exchangeInstrument(static_cast<std::size_t>(craft), preset.name);
    }
    if (!known) (void)row.button(letter + " own", session.crafts()[static_cast<std::size_t>(craft)]->title(), true, now);
    const bool last = craft > 0 && craft + 1 >= static_cast<int>(session.crafts().size());
    if (last && row.button(letter + " none", "none", !flies, letter + " stays at home") && flies) session.removeLastInstrument();
    return row.bottom();
}

}  // namespace

void drawTwin(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    Session& session = desk.session;
    const ImVec2 start = place.min();
    const float width = place.w;
    float y = start.y;
    // Two to choose; whoever flies more than two by command sees them all.
    const int rows = std::max(2, static_cast<int>(session.crafts().size()));
    for (int craft = 0; craft < rows; ++craft) y = drawChoice(desk, craft, {start.x, y, width, 0}) + 4 * s;
    if (session.crafts().size() > 1) {
        ButtonRow row(ui, start.x, start.x + width, y);
        if (row.button("side by side", "Side by side", !desk.blink.on(), "each picture in its own place")) desk.blink.end();
        if (row.button("blink", desk.reduced_motion && desk.blink.on() ? "The other one" : "Blink", desk.blink.on(),
                       "by turns in one place, same ground under the same place; at most twice a second (Q)")) {
            act(desk, Act::blink);
        }
        y = row.bottom();
    }
    if (session.exchanging()) {
        ui.text(start.x, y + 2 * s, ui.fonts.small, ui.p.quiet, "It is made ready; the old one flies on until then.");
        y += 22 * s;
    } else if (!session.exchangeProblem().empty()) {
        y += ui.paragraph(start.x, y + 2 * s, width, ui.fonts.small, ui.p.wrong, session.exchangeProblem() + " The old one flies on.") + 4 * s;
    }
    drawerReaches(y + 4 * s);
}

}  // namespace linefall
