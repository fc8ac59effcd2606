#include "app/tools.h"

#include "app/desk.h"

namespace linefall {

const std::vector<Tool>& toolTable() {
    static const std::vector<Tool> table{
        {"Measure", Act::tool_measure, "lengths, heights, angles, areas, profiles (M)", "What can be read off a picture, and how sure it is.", 226, drawMeasurePanel},
        {"Bands", Act::tool_bands, "bands, stretch, spectra (B)", "Which bands are shown, and how counts become brightness.", 222, drawBands},
        {"Keep", Act::tool_keep, "states saved and opened, figures (E)", "States that open to the same picture, and figures for a page.", 252, drawKeep},
        {"Twin", Act::tool_twin, "which instruments fly, side by side or by turns (N)", "Instruments over the same ground at the same instant.", 132, drawTwin},
        {"Causes", Act::tool_causes, "one cause at a time: switches, differences, maps (Y)", "Take one cause away and see what it did.", 212, drawCauses},
        {"Time", Act::tool_time, "slow motion, steps, one line by hand (K)", "From a whole pass down to one dwell.", 122, drawTime},
        {"Angles", Act::tool_angles, "angles on the spot, and the sun's path (G)", "Each angle is drawn where it is, with its number.", 186, drawAnglesTool},
        {"Hall", Act::tool_hall, "for the hall: lecture, theme, size of words (U)", "What the hall sees: words, paper and calm.", 172, drawHall},
        {"Tools", Act::tool_list, "all tools (F2)", "All tools: each opens here.", 300, drawToolList},
    };
    return table;
}

/// Every tool with its sentence; on a page too small for a button each.
void drawToolList(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, name = 92 * s, words = place.w - name - 16 * s;
    float y = place.y;
    for (const Tool& tool : toolTable()) {
        if (tool.act == Act::tool_list) continue;
        if (ui.button(std::string("open ") + tool.name, {place.x, y, name, 29 * s}, tool.name, false, tool.hint)) act(desk, tool.act);
        y += std::max(36 * s, ui.paragraph(place.x + name + 14 * s, y + 5 * s, words, ui.fonts.small, ui.p.quiet, tool.sentence) + 12 * s);
    }
    drawerReaches(y);
}

void toggleTool(Desk& desk, Act tool) {
    const std::vector<Tool>& table = toolTable();
    for (std::size_t i = 0; i < table.size(); ++i) {
        if (table[i].act != tool) continue;
        desk.open_tool = desk.open_tool == static_cast<int>(i) ? -1 : static_cast<int>(i);
        desk.open_stop = -1;
    }
}

}  // namespace linefall
