// The Angles tool: which angles are drawn on the spot, and the sun's path by latitude and date.

#include <algorithm>
#include <cmath>

#include "app/angles.h"
#include "app/desk.h"
#include "app/tools.h"
#include "base/angle.h"

namespace linefall {

namespace {

/// The switches, and all of them at once; returns the height used.
float drawSwitches(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s, row = std::max(26 * s, 26.0f);  // no less than a target
    const int columns = place.w > 270 * s ? 2 : 1, rows = (static_cast<int>(angle_count) + columns - 1) / columns;
    const float width = place.w / static_cast<float>(columns);
    const float button = std::min(92 * s, 0.5f * place.w - 6 * s), top = place.y + 32 * s;
    if (ui.button("angles all on", {place.x, place.y, button, 26 * s}, "All on")) desk.angles.on.fill(true);
    if (ui.button("angles all off", {place.x + button + 8 * s, place.y, button, 26 * s}, "All off")) desk.angles.on.fill(false);
    for (std::size_t i = 0; i < angle_count; ++i) {
        const int column = static_cast<int>(i) / rows, at = static_cast<int>(i) % rows;
        const Rect r{place.x + static_cast<float>(column) * width, top + static_cast<float>(at) * row, width - 6 * s, row - 2 * s};
        bool on = desk.angles.on[i];
        if (ui.flag(std::string("angle ") + angleTable()[i].word, r, angleTable()[i].name, on)) desk.angles.on[i] = on;
        if (r.holds(ImGui::GetIO().MousePos)) ui.hint(angleTable()[i].hint);
    }
    return static_cast<float>(rows) * row + 34 * s;
}

void takeLatitude(Desk& desk, const std::string& entered) {
    Angles& angles = desk.angles;
    angles.latitude_wrong.clear();
    if (entered.find_first_not_of(' ') == std::string::npos) return angles.typed.latitude_rad.reset();
    // Bare numbers are degrees: nobody types a latitude in radians.
    ParsedQuantity read = parseQuantity(entered, Kind::angle);
    if (!read.ok()) read = parseQuantity(entered + " deg", Kind::angle);
    if (read.ok() && std::abs(read.value) <= 0.5 * constants::pi) angles.typed.latitude_rad = read.value;
    else angles.latitude_wrong = "expected -90 to 90 deg";
}

void takeDate(Desk& desk, const std::string& entered) {
    Angles& angles = desk.angles;
    angles.date_wrong.clear();
    if (entered.find_first_not_of(' ') == std::string::npos) return angles.typed.date.reset();
    const ParsedInstant read = parseInstant(entered + "T12:00:00Z");
    if (read.ok()) angles.typed.date = localDate(read.instant, 0);
    else angles.date_wrong = "expected a date like 2026-06-21";
}

/// Puts the sun of the scene where the path has it at noon; asked for by a button.
void takeNoonSun(Desk& desk) {
    const SunPath& path = sunPathNow(desk);
    const PathOf of = pathOf(desk);
    Session& session = desk.session;
    if (of.latitude_rad == session.scene().place->site.latitude_rad) {
        session.setText(session.sceneParameter("sun.time"), instantText(path.day.transit, of.utc_offset_s));
        return;
    }
    // Another latitude than the place's: the two angles are set by hand.
    const double elevation = std::round(degreesFromRadians(path.noon.elevation_rad) * 10.0) / 10.0, azimuth = std::round(degreesFromRadians(path.noon.azimuth_rad) * 10.0) / 10.0;
    session.setValues({{session.sceneParameter("sun.azimuth"), Value{radiansFromDegrees(azimuth)}}, {session.sceneParameter("sun.elevation"), Value{radiansFromDegrees(elevation)}}});
}

float drawPathSide(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    Angles& angles = desk.angles;
    const float s = ui.s, half = 0.5f * (place.w - 10 * s);
    const PathOf of = pathOf(desk);
    float y = place.y;
    ui.text(place.x, y, ui.fonts.small, ui.p.quiet, ui.fitting(ui.fonts.small, {"Sun's path at latitude", "Latitude"}, half));
    ui.text(place.x + half + 10 * s, y, ui.fonts.small, ui.p.quiet, ui.fitting(ui.fonts.small, {"on the day", "Day"}, half));
    y += 20 * s;
    std::string entered;
    if (ui.field("path latitude", {place.x, y, half, 28 * s}, shortText(of.latitude_rad, Kind::angle, 4), entered, !angles.latitude_wrong.empty())) takeLatitude(desk, entered);
    if (ui.field("path date", {place.x + half + 10 * s, y, half, 28 * s}, dateText(of.date), entered, !angles.date_wrong.empty())) takeDate(desk, entered);
    y += 32 * s;
    if (const std::string wrong = angles.latitude_wrong + (angles.latitude_wrong.empty() || angles.date_wrong.empty() ? "" : "; ") + angles.date_wrong; !wrong.empty()) {
        y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.wrong, wrong);
    }
    const SunPath& path = sunPathNow(desk);
    std::string words;
    if (path.polarNight()) words = "polar night: the sun stays below the horizon";
    else if (path.polarDay()) words = "polar day: the sun never sets";
    else {
        if (path.day.sunrise) words += "rises " + clockText(*path.day.sunrise, of.utc_offset_s) + ", ";
        words += "noon " + clockText(path.noon.time, of.utc_offset_s) + " at " + angleText(path.noon.elevation_rad) + " up";
        if (path.day.sunset) words += ", sets " + clockText(*path.day.sunset, of.utc_offset_s);
        words += "; " + figuresText(path.length_s / 3600.0, 3) + " h of day";
    }
    const int minutes = std::abs(of.utc_offset_s) / 60;
    words += " (clock of UTC" + std::string(of.utc_offset_s < 0 ? "−" : "+") + std::to_string(minutes / 60) + (minutes % 60 != 0 ? ":" + std::to_string(minutes % 60) : "") + ").";
    y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.ink, words) + 6 * s;
    if (std::get<std::string>(desk.session.valueOf(desk.session.sceneParameter("sun.time"))).empty()) {
        y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.quiet, "The scene's sun is set by hand: it need not stand on this path.") + 4 * s;
    }
    const bool other = angles.typed.latitude_rad || angles.typed.date;
    const float button = std::min(half, 150 * s);
    if (ui.button("path noon sun", {place.x, y, button, 26 * s}, "Take its noon sun", false, "sets the scene's sun to noon of this path")) takeNoonSun(desk);
    if (other && ui.button("path of the place", {place.x + button + 8 * s, y, button, 26 * s}, "As the place", false, "the place's own latitude and date again")) {
        angles.typed = {};
        angles.latitude_wrong.clear();
        angles.date_wrong.clear();
    }
    y += 32 * s;
    y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.quiet, "Never look at the sun: it blinds, and at once through an optic.");
    return y - place.y;
}

}  // namespace

void drawAnglesTool(Desk& desk, const Rect& place) {
    const float s = desk.ui.s;
    float used = 0.0f;
    if (place.w > 560 * s) {
        const float left = std::min(0.52f * place.w, 360 * s);
        used = std::max(drawSwitches(desk, {place.x, place.y, left, place.h}), drawPathSide(desk, {place.x + left + 16 * s, place.y, place.w - left - 16 * s, place.h}));
    } else {
        const float switches = drawSwitches(desk, place) + 10 * s;
        used = switches + drawPathSide(desk, {place.x, place.y + switches, place.w, place.h});
    }
    ImGui::SetCursorScreenPos({place.x, place.y + used});
    ImGui::Dummy({1, 1});
}

}  // namespace linefall
