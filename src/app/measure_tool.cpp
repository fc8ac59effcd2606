#include "app/measure_tool.h"

#include <SDL_scancode.h>

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/picture_marks.h"
#include "app/tools.h"
#include "measure/angles.h"
#include "measure/area_statistics.h"
#include "measure/heights.h"
#include "measure/lengths.h"
#include "measure/region.h"

namespace linefall {

int placesOf(MeasureKind kind) { return kind == MeasureKind::angle ? 3 : 2; }

bool measuring(const Desk& desk) {
    return desk.open_tool >= 0 && toolTable()[static_cast<std::size_t>(desk.open_tool)].act == Act::tool_measure;
}

namespace {

bool full(const std::vector<PicturePlace>& places, MeasureKind kind) { return static_cast<int>(places.size()) >= placesOf(kind); }

/// The places of a picture: those of the tool's own picture, or of the second one of a pair.
std::vector<PicturePlace>* placesIn(MeasureTool& tool, int craft) {
    if (craft == tool.craft) return &tool.places;
    return tool.kind == MeasureKind::parallax ? &tool.other : nullptr;
}

/// Sets a further place; a finished set, or another picture, begins anew.
void add(MeasureTool& tool, int craft, const PicturePlace& place) {
    if (placesIn(tool, craft) == nullptr || tool.places.empty()) {
        if (tool.kind != MeasureKind::parallax || tool.places.empty()) tool.places.clear();
        if (tool.kind != MeasureKind::parallax || tool.places.empty()) tool.craft = craft;
        if (tool.kind != MeasureKind::parallax) tool.other.clear();
    }
    std::vector<PicturePlace>& places = *placesIn(tool, craft);
    if (full(places, tool.kind)) places.clear();
    places.push_back(place);
}

PicturePlace middle(const PictureFrame& frame, ImVec2 page) {
    const Pixel pixel = frame.pixelAt(page);
    return centreOf(pixel.sample, pixel.line);
}

}  // namespace

bool measureTouch(Desk& desk, const PictureFrame& f, int craft, const Touch& t) {
    if (!measuring(desk)) return false;
    MeasureTool& tool = desk.measure;
    const Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    if (t.focused) {
        // By keys: Enter sets the picked pixel, Backspace takes the last place back.
        const std::optional<Picked>& pick = desk.session.picked();
        if (ImGui::IsKeyPressed(SDL_SCANCODE_RETURN) && pick && pick->craft == craft) add(tool, craft, centreOf(pick->pixel.sample, pick->pixel.line));
        if (ImGui::IsKeyPressed(SDL_SCANCODE_BACKSPACE)) measureBack(desk);
    }
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    // On a slow machine the pointer may have gone on and been let go since the last frame: the release counts too.
    const bool let_go = tool.setting == craft && t.released;
    if (!t.held && !let_go) {
        if (tool.setting == craft) tool.setting = -1;
        return false;
    }
    const Pixel pixel = f.pixelAt(mouse);
    if (!f.seen.holds(mouse) || !c.gathered(pixel)) return true;
    desk.active = craft;
    const bool begun = tool.setting == craft;
    tool.setting = let_go ? -1 : craft;
    if (!begun) {
        add(tool, craft, middle(f, mouse));
        return true;
    }
    std::vector<PicturePlace>* places = placesIn(tool, craft);
    if (places == nullptr || places->empty()) return true;
    const PicturePlace now = middle(f, mouse);
    if (now == places->back()) return true;
    // A drag from the first place sets the second; later it moves the last.
    if (places->size() == 1) places->push_back(now);
    else places->back() = now;
    return true;
}

void measureBack(Desk& desk) {
    MeasureTool& tool = desk.measure;
    if (!tool.other.empty()) tool.other.pop_back();
    else if (!tool.places.empty()) tool.places.pop_back();
}

namespace {

/// The mean of each band of an area, and how far single pixels spread.
std::vector<Reading> areaReadings(const Formation& formation, const MeasureTool& tool) {
    const AreaStatistics area = areaStatistics(formation, rectangleOf(tool.places[0], tool.places[1]), tool.scale);
    std::vector<Reading> out;
    for (std::size_t band = 0; band < area.bands.size(); ++band) {
        out.push_back(area.mean(band));
        out.push_back(area.spread(band));
    }
    const PicturePlace a = tool.places[0], b = tool.places[1];
    const std::vector<PicturePlace> corners{a, {b.sample, a.line}, b, {a.sample, b.line}};
    out.push_back(polygonArea(formation, corners));
    return out;
}

}  // namespace

std::vector<Reading> readingsOf(const Desk& desk) {
    const MeasureTool& tool = desk.measure;
    if (!desk.session.loaded() || static_cast<std::size_t>(tool.craft) >= desk.session.crafts().size() || !full(tool.places, tool.kind)) return {};
    const Formation& formation = desk.session.crafts()[static_cast<std::size_t>(tool.craft)]->formation();
    const PicturePlace &a = tool.places[0], &b = tool.places[1];
    switch (tool.kind) {
        case MeasureKind::length:
            return {groundDistance(formation, a, b), pictureDistance(formation, a, b), displacement(formation, a, b), bearing(formation, a, b),
                    heightDifference(formation, a, b), timeBetween(formation, a, b), speedBetween(formation, a, b)};
        case MeasureKind::height: {
            const ImpliedHeights heights = impliedHeights(formation, a, b);
            return {heights.shadow, heights.relief};
        }
        case MeasureKind::angle: return {angleAt(formation, a, b, tool.places[2]), lookAngle(formation, a, b), bearing(formation, a, b)};
        case MeasureKind::area: return areaReadings(formation, tool);
        case MeasureKind::profile: return {groundDistance(formation, a, b), heightDifference(formation, a, b)};
        case MeasureKind::parallax: {
            const std::size_t next = (static_cast<std::size_t>(tool.craft) + 1) % desk.session.crafts().size();
            if (next == static_cast<std::size_t>(tool.craft) || !full(tool.other, tool.kind)) return {};
            const Formation& other = desk.session.crafts()[next]->formation();
            return {parallaxHeight({formation, a, b}, {other, tool.other[0], tool.other[1]})};
        }
        case MeasureKind::histogram: return {};
    }
    return {};
}

void drawMeasure(Desk& desk, const PictureFrame& f, int craft) {
    if (!measuring(desk)) return;
    MeasureTool& tool = desk.measure;
    const std::vector<PicturePlace>* places = placesIn(tool, craft);
    if (places == nullptr || places->empty()) return;
    Ui& ui = desk.ui;
    std::vector<ImVec2> points;
    for (const PicturePlace& place : *places) points.push_back(f.at(place.sample, place.line));
    const bool box = (tool.kind == MeasureKind::area || tool.kind == MeasureKind::histogram) && points.size() == 2;
    std::vector<ImVec2> path = points;
    if (box) {
        path = {points[0], {points[1].x, points[0].y}, points[1], {points[0].x, points[1].y}, points[0]};
    } else if (tool.kind == MeasureKind::angle && points.size() == 3) {
        path = {points[1], points[0], points[2]};
    }
    ui.draw()->PushClipRect(f.seen.min(), f.seen.max(), true);
    ui.cased(path, IM_COL32(255, 206, 58, 255), over_dark, 2.0f);
    for (std::size_t i = 0; i < points.size(); ++i) {
        ui.draw()->AddCircleFilled(points[i], 5.0f * ui.s, over_dark, 20);
        ui.draw()->AddCircleFilled(points[i], 3.5f * ui.s, IM_COL32(255, 206, 58, 255), 20);
        ui.casedText(points[i].x + 8 * ui.s, points[i].y - 18 * ui.s, ui.fonts.small, over_light, over_dark, std::to_string(i + 1));
    }
    ui.draw()->PopClipRect();
}

}  // namespace linefall
