#pragma once
// The tools that open in the drawer beside the stops of the light path: one row each, nothing else knows them by name.

#include <vector>

#include "app/keys.h"
#include "app/ui.h"

namespace linefall {

struct Desk;

struct Tool {
    const char* name;      ///< on its button
    Act act;               ///< opens and closes it
    const char* hint;      ///< beside the pointer, with the key
    const char* sentence;  ///< at the head of the drawer
    float height;          ///< that its contents need in the drawer, in units of layout; it scrolls when it gets less
    void (*draw)(Desk&, const Rect&);
};

[[nodiscard]] const std::vector<Tool>& toolTable();

void drawMeasurePanel(Desk& desk, const Rect& place);
void drawBands(Desk& desk, const Rect& place);
void drawKeep(Desk& desk, const Rect& place);
void drawTwin(Desk& desk, const Rect& place);
void drawCauses(Desk& desk, const Rect& place);
void drawTime(Desk& desk, const Rect& place);
void drawHall(Desk& desk, const Rect& place);
void drawAnglesTool(Desk& desk, const Rect& place);
void drawToolList(Desk& desk, const Rect& place);

}  // namespace linefall
