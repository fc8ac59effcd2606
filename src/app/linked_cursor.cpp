#include "app/linked_cursor.h"

#include "app/desk.h"
#include "app/picture_marks.h"

namespace linefall {

namespace {

std::vector<int> shownNow(const Desk& desk) {
    std::vector<int> shown;
    for (const auto& craft : desk.session.crafts()) shown.push_back(craft->shown());
    return shown;
}

/// Searches the point in all pictures; the pixel under the pointer is known.
void search(Desk& desk) {
    LinkedCursor& cursor = desk.cursor;
    auto& crafts = desk.session.crafts();
    cursor.pixels.assign(crafts.size(), std::nullopt);
    cursor.shown = shownNow(desk);
    for (std::size_t i = 0; i < crafts.size(); ++i) {
        if (cursor.from && cursor.from->first == static_cast<int>(i)) {
            cursor.pixels[i] = cursor.from->second;
            continue;
        }
        const std::optional<Nearest> near = nearestSample(crafts[i]->formation(), crafts[i]->shown(), cursor.point_m);
        if (near && near->off_m < sameGround_m(crafts[i]->formation())) cursor.pixels[i] = near->pixel;
    }
}

}  // namespace

void pointAtPixel(Desk& desk, int craft, Pixel pixel) {
    LinkedCursor& cursor = desk.cursor;
    cursor.touched = true;
    const std::pair<int, Pixel> from{craft, pixel};
    if (cursor.on && cursor.from && *cursor.from == from && cursor.shown == shownNow(desk)) return;
    const std::optional<Vec3> ground = desk.session.crafts()[static_cast<std::size_t>(craft)]->formation().groundPoint(pixel.line, pixel.sample);
    cursor.on = ground.has_value();
    cursor.from = from;
    if (!ground) return;
    cursor.point_m = *ground;
    search(desk);
}

void pointAtGround(Desk& desk, const Vec3& point_m) {
    LinkedCursor& cursor = desk.cursor;
    cursor.touched = true;
    if (cursor.on && !cursor.from && cursor.point_m == point_m && cursor.shown == shownNow(desk)) return;
    cursor.on = true;
    cursor.from.reset();
    cursor.point_m = point_m;
    search(desk);
}

void endCursor(Desk& desk) {
    if (!desk.cursor.touched) desk.cursor.on = false;
    desk.cursor.touched = false;
}

void drawCursorRing(Ui& ui, ImVec2 at) {
    ui.draw()->AddCircle(at, 8.0f * ui.s, over_dark, 28, 5.0f * ui.s);
    ui.draw()->AddCircle(at, 8.0f * ui.s, over_light, 28, 2.2f * ui.s);
}

void drawCursor(Desk& desk, const PictureFrame& f, int craft) {
    const LinkedCursor& cursor = desk.cursor;
    const std::size_t index = static_cast<std::size_t>(craft);
    if (!cursor.on || index >= cursor.pixels.size() || !cursor.pixels[index]) return;
    const ImVec2 at = f.at(cursor.pixels[index]->sample + 0.5, cursor.pixels[index]->line + 0.5);
    if (f.seen.holds(at) && !f.seen.holds(ImGui::GetIO().MousePos)) drawCursorRing(desk.ui, at);
}

}  // namespace linefall
