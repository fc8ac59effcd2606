// What a hall needs before and between: a test card for the projector, a blank page, the word that the page is frozen.

#include <algorithm>
#include <cmath>

#include "app/desk.h"

namespace linefall {

namespace {

ImU32 grey(int count) { return IM_COL32(count, count, count, 255); }

/// Ten equal steps of counts from black to white.
void drawWedge(Ui& ui, const Rect& r) {
    constexpr int steps = 10;
    for (int i = 0; i < steps; ++i) {
        const float left = std::round(r.x + r.w * static_cast<float>(i) / steps), right = std::round(r.x + r.w * static_cast<float>(i + 1) / steps);
        const int count = static_cast<int>(std::lround(255.0 * i / (steps - 1)));
        ui.draw()->AddRectFilled({left, r.y}, {right, r.bottom()}, grey(count));
        ui.text(0.5f * (left + right), r.bottom() + 3 * ui.s, ui.fonts.small, ui.p.ink, std::to_string(count), Align::centre);
    }
    ui.draw()->AddRect(r.min(), r.max(), ui.p.control);
}

/// Eight patches, four counts apart, on black or on white.
void drawZones(Ui& ui, const Rect& r, bool near_black) {
    constexpr int zones = 8;
    ui.draw()->AddRectFilled(r.min(), r.max(), grey(near_black ? 0 : 255));
    ui.draw()->AddRect(r.min(), r.max(), ui.p.control);
    const float cell = r.w / zones;
    for (int i = 0; i < zones; ++i) {
        const int count = near_black ? 4 * (i + 1) : 255 - 4 * (zones - i);
        const float x = std::round(r.x + cell * static_cast<float>(i));
        ui.draw()->AddRectFilled({x + std::round(0.18f * cell), std::round(r.y + 0.2f * r.h)}, {x + std::round(0.82f * cell), std::round(r.y + 0.8f * r.h)}, grey(count));
        ui.text(x + 0.5f * cell, r.bottom() + 3 * ui.s, ui.fonts.small, ui.p.ink, std::to_string(count), Align::centre);
    }
}

/// Pairs of black and white lines, one to four pixels wide, upright above and level below.
void drawLinePairs(Ui& ui, const Rect& r) {
    const float each = r.w / 4, apart = std::round(5 * ui.s);
    const float side = std::round(std::min(each - 2 * apart, 0.5f * (r.h - 24 * ui.s - apart)));
    for (int wide = 1; wide <= 4; ++wide) {
        const float x = std::round(r.x + each * static_cast<float>(wide - 1)), y = std::round(r.y), w = static_cast<float>(wide);
        for (const bool level : {false, true}) {
            const float top = y + (level ? side + apart : 0.0f);
            ui.draw()->AddRectFilled({x, top}, {x + side, top + side}, grey(255));
            for (float at = 0; at + w <= side; at += 2 * w) {
                if (level) ui.draw()->AddRectFilled({x, top + at}, {x + side, top + at + w}, grey(0));
                else ui.draw()->AddRectFilled({x + at, top}, {x + at + w, top + side}, grey(0));
            }
        }
        ui.text(x, y + 2 * side + apart + 4 * ui.s, ui.fonts.small, ui.p.ink, std::to_string(wide) + " px");
    }
}

void drawTypeSizes(Ui& ui, float x, float y, float width) {
    const std::pair<ImFont*, const char*> sizes[] = {{ui.fonts.large, "An image is light"}, {ui.fonts.title, "that left a source,"}, {ui.fonts.strong, "met the air and the ground,"},
                                                    {ui.fonts.body, "was cut into samples"}, {ui.fonts.small, "became counts: 0 123 456 789"}};
    for (const auto& [font, words] : sizes) {
        ui.text(x, y, font, ui.p.ink, ui.fitted(font, words, width));
        y += 1.2f * font->FontSize;
    }
}

void drawCraftColours(Desk& desk, const Rect& r) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    for (int craft = 0; craft < 2; ++craft) {
        const float y = r.y + static_cast<float>(craft) * 46 * s;
        const Rect tag{r.x, y, 34 * s, 34 * s};
        ui.draw()->AddRectFilled(tag.min(), tag.max(), colourOf(desk, craft), 4 * s);
        ui.text(tag.centre().x, tag.centre().y - 0.5f * ui.fonts.title->FontSize, ui.fonts.title, ui.p.on_craft, std::string(1, letterOf(craft)), Align::centre);
        ui.cased({{tag.right() + 12 * s, tag.centre().y}, {r.right(), tag.centre().y}}, colourOf(desk, craft), ui.p.panel, 3.0f, dashOf(craft));
    }
    const float y = r.y + 2 * 46 * s + 17 * s;
    ui.cased({{r.x + 17 * s, y}, {r.right(), y}}, ui.p.sun, IM_COL32(31, 35, 40, 255), 3.0f);
    ui.draw()->AddCircleFilled({r.x + 17 * s, y}, 13 * s, IM_COL32(31, 35, 40, 255), 32);
    ui.draw()->AddCircleFilled({r.x + 17 * s, y}, 10.5f * s, ui.p.sun, 32);
}

}  // namespace

void drawTestCard(Desk& desk, const Rect& page) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    ui.draw()->AddRectFilled(page.min(), page.max(), ui.p.panel);
    // A line on the outermost pixels: all four sides of it must be seen.
    ui.draw()->AddRect(page.min(), page.max(), ui.p.ink, 0, 0, 2.0f);
    const Rect in = page.inset(22 * s);
    ui.text(in.x, in.y - 4 * s, ui.fonts.large, ui.p.ink, "Test card");
    const float used = ui.size(ui.fonts.large, "Test card").x + 18 * s;
    const std::vector<std::string> ways{"Each patch differs from its neighbours, each line pair is lines, the frame is whole. Esc leaves.",
                                        "Each patch must differ from its neighbours. Esc leaves.", "Esc leaves."};
    ui.text(in.x + used, in.y + 6 * s, ui.fonts.body, ui.p.quiet, ui.fitting(ui.fonts.body, ways, in.w - used));

    const float words = ui.fonts.small->FontSize + 12 * s, top = in.y + 44 * s, room = in.bottom() - top;
    const float wedge = std::round(0.24f * room), zone = std::round(0.18f * room), half = std::round(0.5f * (in.w - 20 * s));
    drawWedge(ui, {in.x, top, in.w, wedge});
    float y = std::round(top + wedge + words);
    drawZones(ui, {in.x, y, half, zone}, true);
    drawZones(ui, {in.right() - half, y, half, zone}, false);
    y = std::round(y + zone + words + 4 * s);
    const float third = in.w / 3;
    drawLinePairs(ui, {in.x, y, third - 24 * s, in.bottom() - y});
    drawTypeSizes(ui, in.x + third, y - 4 * s, third - 20 * s);
    drawCraftColours(desk, {in.x + 2 * third + 10 * s, y, third - 10 * s, in.bottom() - y});
}

void drawOverPage(Desk& desk, const Rect& page) {
    if (!desk.frozen) return;
    Ui& ui = desk.ui;
    const float s = ui.s;
    const std::string words = "frozen: F goes on";
    const ImVec2 extent = ui.size(ui.fonts.small, words);
    const Rect r{page.right() - extent.x - 28 * s, page.bottom() - extent.y - 20 * s, extent.x + 18 * s, extent.y + 10 * s};
    ImDrawList* above = ImGui::GetForegroundDrawList();
    above->AddRectFilled(r.min(), r.max(), ui.p.ink, 4 * s);
    above->AddText(ui.fonts.small, ui.fonts.small->FontSize, {r.x + 9 * s, r.y + 5 * s}, ui.p.paper, words.c_str());
}

}  // namespace linefall
