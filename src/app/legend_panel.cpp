// The three things that are there from the beginning: the sun (a dome to drag on, or two numbers), the height, and what
// the page itself can do.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/tools.h"
#include "base/angle.h"

namespace linefall {

namespace {

ImU32 ink(const Colour& c) { return IM_COL32(c[0], c[1], c[2], 255); }

constexpr int sky_rings = 7, sky_sides = 36;

/// The sky of the core over the whole dome, worked out again when the sun or the air is another.
const std::vector<ImU32>& skyColours(Desk& desk) {
    DomeSky& sky = desk.dome_sky;
    const Session& session = desk.session;
    const double time_s = sunKeys().read(session.scene().settings).moves ? session.clock().time_s() : 0.0;
    if (!sky.colours.empty() && sky.scene_version == session.sceneVersion() && sky.time_s == time_s) return sky.colours;
    const WorldLight& light = session.lightNow();
    sky = {session.sceneVersion(), time_s, {}};
    for (int ring = 0; ring <= sky_rings; ++ring) {
        for (int side = 0; side <= sky_sides; ++side) {
            const double elevation = 0.5 * constants::pi * (1.0 - static_cast<double>(ring) / sky_rings) + 0.01;
            const double azimuth = 2.0 * constants::pi * side / sky_sides;
            const Vec3 direction{std::cos(elevation) * std::sin(azimuth), std::cos(elevation) * std::cos(azimuth), std::sin(elevation)};
            sky.colours.push_back(ink(colourOf(skyRadianceRgb(light, 100.0, direction), light.white)));
        }
    }
    return sky.colours;
}

/// Zenith in the middle, horizon at the rim, north up.
void paintSky(const Ui& ui, const std::vector<ImU32>& colours, ImVec2 centre, float radius) {
    constexpr int rings = sky_rings, sides = sky_sides;
    ImDrawList* draw = ui.draw();
    const auto at = [&](int ring, int side) {
        const double a = 2.0 * constants::pi * side / sides;
        const float r = radius * static_cast<float>(ring) / rings;
        return ImVec2{centre.x + r * static_cast<float>(std::sin(a)), centre.y - r * static_cast<float>(std::cos(a))};
    };
    const ImVec2 white = ImGui::GetDrawListSharedData() != nullptr ? ImGui::GetFontTexUvWhitePixel() : ImVec2{0, 0};
    for (int ring = 0; ring < rings; ++ring) {
        for (int side = 0; side < sides; ++side) {
            draw->PrimReserve(6, 4);
            const ImDrawIdx first = static_cast<ImDrawIdx>(draw->_VtxCurrentIdx);
            for (const int k : {0, 1, 3, 2}) {
                const int r = ring + k / 2, s = side + k % 2;
                draw->PrimWriteVtx(at(r, s), white, colours[static_cast<std::size_t>(r * (sides + 1) + s)]);
            }
            for (const int k : {0, 1, 2, 0, 2, 3}) draw->PrimWriteIdx(static_cast<ImDrawIdx>(first + k));
        }
    }
}

/// The sun's way over the day, when it is asked for: a line with its whole hours, every third of them said.
void drawPathInDome(Desk& desk, ImVec2 centre, float radius) {
    const bool tool = desk.open_tool >= 0 && toolTable()[static_cast<std::size_t>(desk.open_tool)].act == Act::tool_angles;
    if (!tool && !desk.angles.shows(AngleMark::sun_path)) return;
    Ui& ui = desk.ui;
    const SunPath& path = sunPathNow(desk);
    const PathOf of = pathOf(desk);
    const ImU32 dark = IM_COL32(31, 35, 40, 255), light = IM_COL32(255, 253, 248, 255);
    std::vector<ImVec2> line;
    for (std::size_t i = 0; i < path.moments.size(); ++i) {
        const SunMoment& moment = path.moments[i];
        const float r = radius * static_cast<float>(1.0 - moment.elevation_rad / (0.5 * constants::pi));
        const ImVec2 at{centre.x + r * static_cast<float>(std::sin(moment.azimuth_rad)), centre.y - r * static_cast<float>(std::cos(moment.azimuth_rad))};
        if (moment.elevation_rad > 0.0) line.push_back(at);
        if (moment.elevation_rad <= 0.0 || i + 1 == path.moments.size()) {
            ui.cased(line, light, dark, 1.6f);
            line.clear();
        }
    }
    for (std::size_t i = 0; i + 1 < path.moments.size(); i += 6) {
        const SunMoment& moment = path.moments[i];
        if (moment.elevation_rad <= 0.0) continue;
        const float r = radius * static_cast<float>(1.0 - moment.elevation_rad / (0.5 * constants::pi));
        const ImVec2 at{centre.x + r * static_cast<float>(std::sin(moment.azimuth_rad)), centre.y - r * static_cast<float>(std::cos(moment.azimuth_rad))};
        const bool said = i / 6 % 3 == 0;
        ui.draw()->AddCircleFilled(at, (said ? 4.0f : 3.0f) * ui.s, dark, 16);
        ui.draw()->AddCircleFilled(at, (said ? 2.8f : 1.8f) * ui.s, light, 16);
        if (said) ui.casedText(at.x, at.y - 19 * ui.s, ui.fonts.small, light, dark, clockText(moment.time, of.utc_offset_s).substr(0, 2), Align::centre);
    }
}

void drawDome(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    Session& session = desk.session;
    const float s = ui.s;
    const float radius = 0.5f * std::min(place.w, place.h) - 17 * s;
    const ImVec2 c = place.centre();
    const Touch t = ui.touch("sun dome", {c.x - radius, c.y - radius, 2 * radius, 2 * radius});
    const Sunlight sun = session.sunNow();

    paintSky(ui, skyColours(desk), c, radius);
    ui.draw()->AddCircle(c, radius, ui.p.ink, 96, 1.5f * s);
    for (const float share : {1.0f / 3.0f, 2.0f / 3.0f}) ui.draw()->AddCircle(c, radius * share, IM_COL32(255, 255, 255, 110), 64, 1.0f);
    const char* names[4] = {"N", "E", "S", "W"};
    for (int i = 0; i < 4; ++i) {
        const float a = static_cast<float>(i * constants::pi / 2.0);
        const ImVec2 at{c.x + (radius + 9 * s) * std::sin(a), c.y - (radius + 9 * s) * std::cos(a)};
        const ImVec2 extent = ui.size(ui.fonts.small, names[i]);
        ui.text(at.x - 0.5f * extent.x, at.y - 0.5f * extent.y, i == 0 ? ui.fonts.strong : ui.fonts.small, i == 0 ? ui.p.ink : ui.p.quiet, names[i]);
    }
    drawPathInDome(desk, c, radius);
    // The sun, and the way its light runs over the place.
    const double elevation = std::clamp(sun.elevation_rad, 0.0, 0.5 * constants::pi);
    const float r = radius * static_cast<float>(1.0 - elevation / (0.5 * constants::pi));
    const ImVec2 at{c.x + r * static_cast<float>(std::sin(sun.azimuth_rad)), c.y - r * static_cast<float>(std::cos(sun.azimuth_rad))};
    ui.cased({at, c}, ui.p.sun, IM_COL32(31, 35, 40, 255), 2.0f);
    ui.draw()->AddCircleFilled(c, 3 * s, IM_COL32(31, 35, 40, 255), 12);
    ui.draw()->AddCircleFilled(at, (t.held ? 12.0f : 10.0f) * s, IM_COL32(31, 35, 40, 255), 32);
    ui.draw()->AddCircleFilled(at, (t.held ? 10.0f : 8.0f) * s, sun.up() ? IM_COL32(255, 206, 58, 255) : IM_COL32(120, 120, 120, 255), 32);
    if (t.hovered && !t.held) ui.hint("the sky from above, the zenith in the middle: drag the sun");

    double azimuth = sun.azimuth_rad, height = sun.elevation_rad;
    bool moved = false;
    if (t.held) {
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        const double dx = mouse.x - c.x, dy = c.y - mouse.y;
        const double off = std::hypot(dx, dy) / radius;
        if (off > 0.01) azimuth = wrappedToTurn(std::atan2(dx, dy));
        height = 0.5 * constants::pi * (1.0 - std::min(1.0, off));
        azimuth = radiansFromDegrees(std::round(10.0 * degreesFromRadians(azimuth)) / 10.0);
        height = radiansFromDegrees(std::round(10.0 * degreesFromRadians(height)) / 10.0);
        moved = azimuth != sun.azimuth_rad || height != sun.elevation_rad;
    } else if (t.step_x != 0 || t.step_y != 0) {
        azimuth = wrappedToTurn(azimuth + radiansFromDegrees(t.step_x));
        height = std::clamp(height + radiansFromDegrees(t.step_y), 0.0, 0.5 * constants::pi);
        moved = true;
    }
    if (moved) {
        session.setValues({{session.sceneParameter("sun.azimuth"), Value{azimuth}}, {session.sceneParameter("sun.elevation"), Value{height}}});
    }
}

/// A labelled typed value: the label above, or beside it in a narrow row. `place.h`: room for words about a wrong value.
void typed(Desk& desk, const char* key, const char* label, const Rect& place, const std::string& shown, bool beside) {
    Ui& ui = desk.ui;
    const ParameterOf parameter = desk.session.sceneParameter(key);
    const std::string wrong = desk.session.problemOf(parameter);
    std::string entered;
    const float left = beside ? 72 * ui.s : 0.0f;
    const Rect box{place.x + left, place.y + (beside ? 0.0f : 20 * ui.s), place.w - left, 28 * ui.s};
    ui.text(place.x, beside ? place.y + 5 * ui.s : place.y, ui.fonts.small, ui.p.quiet, label);
    if (ui.field(std::string("legend ") + key, box, shown, entered, !wrong.empty())) {
        const Sunlight before = desk.session.sunNow();
        const bool by_time = !std::get<std::string>(desk.session.valueOf(desk.session.sceneParameter("sun.time"))).empty();
        const bool azimuth = std::string(key) == "sun.azimuth", elevation = std::string(key) == "sun.elevation";
        if (desk.session.setText(parameter, entered).empty() && by_time && (azimuth || elevation)) {
            // A typed angle takes the place of the time of day: the other angle stays where the time had put it.
            desk.session.setValue(desk.session.sceneParameter(azimuth ? "sun.elevation" : "sun.azimuth"),
                                  Value{azimuth ? before.elevation_rad : before.azimuth_rad});
        }
    }
    if (!wrong.empty()) {
        const Rect words{place.x, box.bottom() + 2 * ui.s, place.h, 18 * ui.s};
        ui.text(words.x, words.y, ui.fonts.small, ui.p.wrong, ui.fitted(ui.fonts.small, wrong, words.w));
        if (words.holds(ImGui::GetIO().MousePos) || box.holds(ImGui::GetIO().MousePos)) ui.hint(wrong);
    }
}

/// The tools of the table and the keys, as many as have room; the list of tools stands for those that have none.
void drawToolButtons(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, gap = 7 * s, height = 29 * s;
    const std::vector<Tool>& tools = toolTable();
    float widest = ui.size(ui.fonts.small, "Keys ?").x;
    for (const Tool& tool : tools) widest = std::max(widest, ui.size(ui.fonts.small, tool.name).x);
    const int columns = std::clamp(static_cast<int>((place.w + gap) / (widest + 10 * s + gap)), 2, static_cast<int>(tools.size()));
    const int rows = std::max(1, static_cast<int>((place.h + gap) / (height + gap)));
    const float width = (place.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    int at = 0;
    const auto next = [&] {
        const Rect r{place.x + static_cast<float>(at % columns) * (width + gap), place.y + static_cast<float>(at / columns) * (height + gap), width, height};
        ++at;
        return r;
    };
    const bool all = static_cast<int>(tools.size()) <= columns * rows;  // the list of tools itself makes room for the keys
    for (std::size_t i = 0; i < tools.size(); ++i) {
        const bool list = tools[i].act == Act::tool_list;
        if (list ? all : !all && at + 2 >= columns * rows) continue;
        if (ui.button(std::string("tool ") + tools[i].name, next(), tools[i].name, desk.open_tool == static_cast<int>(i), tools[i].hint)) act(desk, tools[i].act);
    }
    if (ui.button("help", next(), "Keys ?", desk.help, "all keys, and what this is (?)")) act(desk, Act::help);
}

}  // namespace

void drawLegend(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    Session& session = desk.session;
    const float s = ui.s;
    const float dome = std::min(place.h, 0.42f * place.w);
    drawDome(desk, {place.x - 8 * s, place.y + 0.5f * (place.h - dome), dome, dome});

    const float x = place.x + dome + 10 * s;
    const float w = place.right() - x;
    const float half = 0.5f * (w - 10 * s);
    const Sunlight sun = session.sunNow();
    const ParameterOf height = session.sceneParameter("flight.height");
    const double now = std::get<double>(session.valueOf(height));
    const std::string azimuth = shortText(sun.azimuth_rad, Kind::angle, 4), elevation = shortText(sun.elevation_rad, Kind::angle, 4);
    const std::string metres = shortText(now, Kind::length, 4);
    float y = place.y + 2 * s;
    if (place.w < roomy_legend * s) {
        const float row = std::min(38 * s, (place.h - 4 * s) / 4);
        typed(desk, "sun.azimuth", "Azimuth", {x, y, w, w}, azimuth, true);
        typed(desk, "sun.elevation", "Elevation", {x, y + row, w, w}, elevation, true);
        typed(desk, "flight.height", "Height", {x, y + 2 * row, w, w}, metres, true);
        drawToolButtons(desk, {x, y + 3 * row, w, place.bottom() - y - 3 * row});
        return;
    }
    typed(desk, "sun.azimuth", "Sun from (azimuth)", {x, y, half, w}, azimuth, false);
    typed(desk, "sun.elevation", "Sun up (elevation)", {x + half + 10 * s, y, half, half}, elevation, false);

    y += 58 * s;
    typed(desk, "flight.height", "Height", {x, y, half, w}, metres, true);
    constexpr double least = 300.0, most = 30000.0;  // what the slider reaches; typed heights go farther
    double share = std::log(std::clamp(now, least, most) / least) / std::log(most / least);
    if (ui.slider("height slider", {x + half + 18 * s, y, half - 16 * s, 28 * s}, share, 0.01)) {
        const double chosen = least * std::pow(most / least, share);
        const double unit = std::pow(10.0, std::floor(std::log10(chosen)) - 1.0);
        session.setValue(height, Value{std::round(chosen / unit) * unit});
    }

    y += session.problemOf(height).empty() ? 36 * s : 54 * s;
    drawToolButtons(desk, {x, y, w, place.bottom() - y});
}

}  // namespace linefall
