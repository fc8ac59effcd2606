#include "app/tools.h"

#include "app/desk.h"

namespace linefall {

const std::vector<Tool>& toolTable() {
    static const std::vector<Tool> table{
        {"Hall", Act::tool_hall, "for the hall: lecture, theme, size of words (U)", "What the hall sees: words, paper and calm.", 118, drawHall},
    };
    return table;
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
