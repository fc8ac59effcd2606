#include "app/tools.h"

#include "app/desk.h"

namespace linefall {

const std::vector<Tool>& toolTable() {
    static const std::vector<Tool> table{
        {"Measure", Act::tool_measure, "lengths, heights, angles, areas, profiles (M)", "What can be read off a picture, and how sure it is.", 262, drawMeasurePanel},
        {"Bands", Act::tool_bands, "bands, stretch, spectra (B)", "Which bands are shown, and how counts become brightness.", 262, drawBands},
        {"Keep", Act::tool_keep, "states saved and opened (E)", "Any state is a small text file that opens to the same picture.", 190, drawKeep},
        {"Time", Act::tool_time, "slow motion, steps, one line by hand (K)", "From a whole pass down to one dwell.", 122, drawTime},
        {"Hall", Act::tool_hall, "for the hall: lecture, theme, size of words (U)", "What the hall sees: words, paper and calm.", 172, drawHall},
        {"Tools", Act::tool_list, "all tools (F2)", "All tools: each opens here.", 300, drawToolList},
    };
    return table;
}

/// Every tool with its sentence; on a page too small for a button each.
void drawToolList(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, row = 36 * s, name = 92 * s;
    const int columns = place.w > 640 * s ? 2 : 1;
    const float width = (place.w - 20 * s * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    int at = 0;
    for (const Tool& tool : toolTable()) {
        if (tool.act == Act::tool_list) continue;
        const float x = place.x + static_cast<float>(at % columns) * (width + 20 * s), y = place.y + static_cast<float>(at / columns) * row;
        ++at;
        if (ui.button(std::string("open ") + tool.name, {x, y, name, 29 * s}, tool.name, false, tool.hint)) act(desk, tool.act);
        ui.text(x + name + 12 * s, y + 6 * s, ui.fonts.small, ui.p.quiet, ui.fitted(ui.fonts.small, tool.sentence, width - name - 14 * s));
    }
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
