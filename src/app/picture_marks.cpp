// What is drawn over a picture: arrows of north and sun, warnings, the picked pixel, the newest line. All cased.

#include "app/picture_marks.h"

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "base/angle.h"

namespace linefall {

namespace {

constexpr ImU32 dark = over_dark, light = over_light;

}  // namespace

void drawArrow(Ui& ui, ImVec2 from, ImVec2 to, ImU32 colour, ImU32 casing) {
    const float length = std::hypot(to.x - from.x, to.y - from.y);
    if (length < 1.0f) return;
    const ImVec2 u{(to.x - from.x) / length, (to.y - from.y) / length};
    const float head = 7 * ui.s, half = 4.5f * ui.s;
    const ImVec2 neck{to.x - u.x * head, to.y - u.y * head};
    const ImVec2 a{neck.x - u.y * half, neck.y + u.x * half}, b{neck.x + u.y * half, neck.y - u.x * half};
    ui.draw()->AddLine(from, neck, casing, 4.5f * ui.s);
    ui.draw()->AddTriangle(to, a, b, casing, 3.0f * ui.s);
    ui.draw()->AddLine(from, neck, colour, 2.0f * ui.s);
    ui.draw()->AddTriangleFilled(to, a, b, colour);
}

double downOf(const Formation& formation) { return formation.motion().track_rad(); }

void drawArrows(Desk& desk, double down_rad, const Rect& r, bool turned) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const auto direction = [&](double azimuth) {
        const double d = azimuth - down_rad + (turned ? constants::pi : 0.0);
        return ImVec2{static_cast<float>(-std::sin(d)), static_cast<float>(std::cos(d))};
    };
    const float reach = 17 * s;
    const ImVec2 c{r.x + 26 * s, r.y + 30 * s};
    const ImVec2 north = direction(0.0);
    drawArrow(ui, {c.x - north.x * reach * 0.6f, c.y - north.y * reach * 0.6f}, {c.x + north.x * reach * 0.6f, c.y + north.y * reach * 0.6f}, light, dark);
    ui.casedText(c.x + north.x * (reach + 2 * s), c.y + north.y * (reach + 2 * s) - 0.5f * ui.fonts.small->FontSize, ui.fonts.small, light, dark, "N", Align::centre);

    const Sunlight sun = desk.session.sunNow();
    const ImVec2 from = direction(sun.azimuth_rad);
    const ImVec2 k{r.right() - 30 * s, r.y + 30 * s};
    const ImVec2 disc{k.x + from.x * reach, k.y + from.y * reach};
    drawArrow(ui, disc, {k.x - from.x * reach * 0.8f, k.y - from.y * reach * 0.8f}, IM_COL32(255, 206, 58, 255), dark);
    ui.draw()->AddCircleFilled(disc, 6.5f * s, dark, 20);
    ui.draw()->AddCircleFilled(disc, 5.0f * s, IM_COL32(255, 206, 58, 255), 20);
    ui.casedText(r.right() - 7 * s, r.y + 60 * s, ui.fonts.small, light, dark,
                 std::to_string(std::lround(degreesFromRadians(wrappedToTurn(sun.azimuth_rad)))) + "° / " +
                     std::to_string(std::lround(degreesFromRadians(sun.elevation_rad))) + "° up", Align::right);
}

bool litFromBelow(const Sunlight& sun, double down_rad, bool turned) {
    return sun.up() && (turned ? -1.0 : 1.0) * std::cos(sun.elevation_rad) * std::cos(sun.azimuth_rad - down_rad) > 0.15;
}

std::vector<std::string> drawWarnings(Desk& desk, double down_rad, const Rect& r, bool turned, const std::string& key) {
    std::vector<std::string> said;
    Ui& ui = desk.ui;
    if (r.h < 84 * ui.s) return said;
    float y = r.bottom() - 6 * ui.s - ui.fonts.small->FontSize;
    const auto say = [&](const std::vector<std::string>& ways) {
        said.push_back(ui.fitting(ui.fonts.small, ways, r.w - 16 * ui.s));
        ui.casedText(r.x + 8 * ui.s, y, ui.fonts.small, light, dark, said.back());
        y -= 1.3f * ui.fonts.small->FontSize;
    };
    const double lean = desk.session.scene().flightSettings().lean;
    if (lean != 1.0) say({"lean × " + figuresText(lean, 3)});
    if (litFromBelow(desk.session.sunNow(), down_rad, turned)) {
        if (key.empty()) say({"relief may look inverted: lit from below", "lit from below"});
        else say({"relief may look inverted: " + key + " turns it, a profile (M) settles it", "relief may look inverted: " + key + " turns it", "lit from below (" + key + ")"});
    }
    return said;
}

void drawMark(Desk& desk, const PictureFrame& f, int craft, Pixel pixel, bool own) {
    Ui& ui = desk.ui;
    const ImVec2 c = f.at(pixel.sample + 0.5, pixel.line + 0.5);
    if (!f.seen.holds(c)) return;
    const float inner = 5 * ui.s, outer = (own ? 15.0f : 12.0f) * ui.s;
    const ImVec2 ways[4] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    const ImU32 colour = own ? light : colourOf(desk, craft);
    for (const ImVec2& w : ways) {
        ui.draw()->AddLine({c.x + w.x * inner, c.y + w.y * inner}, {c.x + w.x * outer, c.y + w.y * outer}, own ? dark : light, 5.0f * ui.s);
    }
    for (const ImVec2& w : ways) {
        ui.draw()->AddLine({c.x + w.x * inner, c.y + w.y * inner}, {c.x + w.x * outer, c.y + w.y * outer}, colour, 2.2f * ui.s);
    }
    const float half = std::max(2.5f * ui.s, 0.5f * std::max(f.cell_x, f.cell_y));
    ui.draw()->AddRect({c.x - half - 1, c.y - half - 1}, {c.x + half + 1, c.y + half + 1}, own ? dark : light, 0, 0, 3.0f);
    ui.draw()->AddRect({c.x - half, c.y - half}, {c.x + half, c.y + half}, own ? IM_COL32(255, 206, 58, 255) : colour, 0, 0, 1.5f);
}

void drawNewestLine(Desk& desk, const PictureFrame& f, int craft, int shown) {
    Ui& ui = desk.ui;
    const float y = f.at(0, shown).y;
    const float s = ui.s;
    if (y < f.seen.y || y > f.seen.bottom()) return;
    const ImU32 colour = colourOf(desk, craft);
    ui.cased({{f.seen.x, y}, {f.seen.right(), y}}, colour, ui.p.night ? dark : light, 2.0f, dashOf(craft));
    ui.draw()->AddTriangleFilled({f.seen.x - 7 * s, y - 6 * s}, {f.seen.x - 7 * s, y + 6 * s}, {f.seen.x + 1 * s, y}, colour);
    ui.draw()->AddTriangleFilled({f.seen.right() + 7 * s, y - 6 * s}, {f.seen.right() - 1 * s, y}, {f.seen.right() + 7 * s, y + 6 * s}, colour);
}

}  // namespace linefall
