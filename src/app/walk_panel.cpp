#include "app/walk_panel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "app/desk.h"
#include "app/formula.h"
#include "base/angle.h"
#include "flight/light_stops.h"
#include "scene/whole_files.h"

namespace linefall {

namespace {

const Craft* pickedCraft(Desk& desk) {
    const std::optional<Picked>& pick = desk.session.picked();
    return pick && pick->why ? desk.session.crafts()[static_cast<std::size_t>(pick->craft)].get() : nullptr;
}

WalkTitle titleOf(Desk& desk, const Craft& craft) { return {desk.session.scene().place->title, craft.title()}; }

std::string textNow(Desk& desk, const Craft& craft) {
    return walkText(titleOf(desk, craft), *desk.session.picked()->why, craft.formation(), {craft.look().bands.green});
}

/// What is met there, and which light it gets.
std::string groundVerdict(const Why& why, const Formation& formation) {
    const std::string beam = beamOf(why, formation);
    if (beam == "sky") return "No ground is met: nothing is counted.";
    std::string words = why.material;
    for (const Material& row : formation.place().materials) {
        if (row.name == why.material && !row.title.empty()) words = row.title;
    }
    if (!why.object.empty()) words = why.object + " (" + words + ")";
    if (why.moving) words += ", moving at " + shortText(why.moving->speed_m_s, Kind::speed, 3) + " and met where it stood " + shortText(why.time_s, Kind::time, 4) + " after the start";
    const bool skylight = formation.lightPath().effects.skylight;
    const std::string rest = skylight ? "the sky alone lights it" : "no light comes, for skylight is switched off";
    if (beam == "down") return words + ": the sun is below the horizon, " + rest + ".";
    if (beam == "away") return words + ", turned away from the sun: " + rest + ".";
    if (beam == "blocked") return words + ", in the shadow of " + (why.blocked_by == "terrain" ? "the terrain" : why.blocked_by) + ": " + (why.sun_share > 0.0 ? "a part of the sun is seen past it." : rest + ".");
    const double degrees = degreesFromRadians(formation.lightPath().effects.slope_shading ? why.local_incidence_rad : why.sun_incidence_rad);
    return words + ", lit by the sun from " + figuresText(degrees, degrees < 10.0 ? 2 : 3) + "° off its normal" + (skylight ? ", and by the sky." : "; skylight is switched off.");
}

/// What the counts become on the page.
std::string countsVerdict(const Why& why, const Craft& craft) {
    const PictureLook& look = craft.look();
    if (why.hit.meets == Meets::sky || look.limits.size() < 3) return "";
    std::string shown;
    const int bands[] = {look.bands.red, look.bands.green, look.bands.blue};
    const char* names[] = {"red ", "green ", "blue "};
    for (std::size_t k = 0; k < (look.bands.grey() ? 1u : 3u); ++k) {
        const int code = displayCode(static_cast<double>(why.counts[static_cast<std::size_t>(bands[k])]), look.limits[k], look.screen_curve);
        shown += (shown.empty() ? "" : ", ") + std::string(look.bands.grey() ? "grey " : names[k]) + std::to_string(code);
    }
    const StretchLimits& limits = look.limits[look.bands.grey() ? 0 : 1];
    const std::string of = craft.formation().image().bands[static_cast<std::size_t>(look.bands.green)].name;
    return "Shown on the page as " + shown + " of 255: the stretch puts black at " + std::to_string(std::lround(limits.low)) + " and white at " +
           std::to_string(std::lround(limits.high)) + " counts" + (look.bands.grey() ? "." : " of " + of + ".");
}

/// One number of the walk; returns the height used.
float drawRow(Ui& ui, const WalkRow& row, float x, float y, float width) {
    const float s = ui.s, top = y, indent = 66 * s, gap = 10 * s;
    drawFormula(ui, x, y, indent, ui.fonts.strong, ui.p.ink, row.symbol);
    const float result = formulaWidth(ui, ui.fonts.strong, row.result);
    drawFormula(ui, x + width - result, y, result + 4 * s, ui.fonts.strong, ui.p.ink, row.result);
    // The meaning beside the symbol, or under it when the result leaves too little room.
    const float room = width - indent - result - gap;
    const float beside = ui.size(ui.fonts.small, row.meaning).x, words = row.words.empty() ? 0.0f : formulaWidth(ui, ui.fonts.small, row.words) + 14 * s;
    bool said = row.words.empty();
    if (beside <= room) {
        ui.text(x + indent, y + 1 * s, ui.fonts.small, ui.p.ink, row.meaning);
        if (!said && row.formula.empty() && beside + words <= room) {  // a short word about where it comes from, on the same line
            drawFormula(ui, x + indent + beside + 12 * s, y + 1 * s, words, ui.fonts.small, ui.p.quiet, row.words);
            said = true;
        }
        y += 21 * s;
    } else {
        y += 21 * s;
        y += ui.paragraph(x + indent, y, width - indent, ui.fonts.small, ui.p.ink, row.meaning);
    }
    if (!row.formula.empty()) y += drawFormula(ui, x + indent, y, width - indent, ui.fonts.body, ui.p.ink, "= " + row.formula, 14 * s);
    if (!row.values.empty()) y += drawFormula(ui, x + indent, y, width - indent, ui.fonts.body, ui.p.ink, "= " + row.values, 14 * s);
    if (!said) y += drawFormula(ui, x + indent, y, width - indent, ui.fonts.small, ui.p.quiet, row.words);
    if (!row.mean.empty()) y += drawFormula(ui, x + indent, y, width - indent, ui.fonts.small, ui.p.quiet, "mean of all looks of the sample: " + row.mean);
    return y - top + 7 * s;
}

/// Which pixel this is, and what can be done with its walk; returns the height used.
float drawHead(Desk& desk, const Craft& craft, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const Picked& pick = *desk.session.picked();
    const float width = 52 * s, height = 24 * s;
    if (ui.button("copy walk", {place.right() - 2 * width - 6 * s, place.y, width, height}, "Copy", false, "the whole walk as text (Ctrl C)")) copyWalk(desk);
    if (ui.button("save walk", {place.right() - width, place.y, width, height}, "Save", false, "the whole walk as a text file (Ctrl Shift S)")) saveWalk(desk);
    const std::string line = "line " + std::to_string(pick.pixel.line), sample = "sample " + std::to_string(pick.pixel.sample);
    const std::string letter(1, letterOf(pick.craft));
    const std::string band = craft.formation().image().bands[static_cast<std::size_t>(craft.look().bands.green)].name;
    const float room = place.w - 2 * width - 16 * s;
    ui.text(place.x, place.y + 4 * s, ui.fonts.small, ui.p.quiet,
            ui.fitting(ui.fonts.small, {"picture " + letter + ", " + line + ", " + sample + ", band " + band, letter + ", " + line + ", " + sample + ", " + band,
                                        letter + " " + std::to_string(pick.pixel.line) + ", " + std::to_string(pick.pixel.sample) + ", " + band}, room));
    return height + 6 * s;
}

}  // namespace

const std::vector<WalkRow>& walkNow(Desk& desk) {
    WalkRead& read = desk.walk;
    const Craft* craft = pickedCraft(desk);
    const int band = craft != nullptr ? craft->look().bands.green : -1;
    if (read.version == desk.session.pickedVersion() && read.band == band) return read.rows;
    read.version = desk.session.pickedVersion();
    read.band = band;
    read.rows.clear();
    if (craft != nullptr) read.rows = walkRows(*desk.session.picked()->why, craft->formation(), band);
    return read.rows;
}

void drawWalk(Desk& desk, const Rect& place, int stop, bool whole) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const Craft* craft = pickedCraft(desk);
    desk.walk.verdict.clear();
    if (craft == nullptr) {
        ui.paragraph(place.x, place.y + 4 * s, place.w - 16 * s, ui.fonts.small, ui.p.quiet,
                     desk.session.picked() ? "The picked line is not gathered yet." : "Pick a pixel in a picture, and its numbers at this stop stand here.");
        return;
    }
    desk.walk.verdict = stop == 2 ? groundVerdict(*desk.session.picked()->why, craft->formation()) : stop == 7 ? countsVerdict(*desk.session.picked()->why, *craft) : "";
    const bool head_rolls = whole && place.h < 200 * s;  // too little room to keep it in sight
    const float head = head_rolls ? 0.0f : drawHead(desk, *craft, place);
    const Rect list{place.x, place.y + head, place.w, std::max(20 * s, place.h - head)};
    ImGui::SetCursorScreenPos(list.min());
    ImGui::BeginChild("walk", {list.w, list.h}, false, ImGuiWindowFlags_NoNav);
    // The arrow keys roll it, as the wheel does. The ring of the focus stays inside.
    const Touch t = ui.touch("walk rows", {list.x + 4 * s, list.y + 4 * s, list.w - 20 * s, list.h - 8 * s});
    ImGui::SetItemAllowOverlap();  // the buttons of a head that rolls with the rows take the pointer
    if (t.step_y != 0) ImGui::SetScrollY(std::clamp(ImGui::GetScrollY() - 48 * s * static_cast<float>(t.step_y), 0.0f, ImGui::GetScrollMaxY()));
    desk.walk.roll = ImGui::GetScrollY();
    float y = list.y - ImGui::GetScrollY() + 2 * s;
    const float start = y;
    if (whole) y += ui.paragraph(list.x, y, list.w - 14 * s, ui.fonts.small, ui.p.quiet, lightStops()[static_cast<std::size_t>(stop)].sentence) + 4 * s;
    const WhyLook* looks = desk.session.picked()->why->looks.data();
    const std::size_t count = desk.session.picked()->why->looks.size();
    if (!desk.walk.verdict.empty()) y += ui.paragraph(list.x, y, list.w - 16 * s, ui.fonts.body, ui.p.ink, desk.walk.verdict) + 5 * s;
    if (count > 1 && looks != nullptr && stop >= 1 && stop <= 4) {
        y += ui.paragraph(list.x, y, list.w - 14 * s, ui.fonts.small, ui.p.quiet,
                          "The sample gathers " + std::to_string(count) + " looks; the numbers are those of one of them.") + 4 * s;
    }
    // What the stop hands on stands first; what goes into it follows in travel order.
    const auto telling = [stop](const WalkRow& row) {
        static const std::array<std::vector<std::string>, stop_count> first{{{"E_0"}, {"E_b", "E_s"}, {"L_g"}, {"L", "L_a"}, {"θ_v", "D"}, {"P"}, {"n_e", "n"}, {"DN"}}};
        const std::vector<std::string>& symbols = first[static_cast<std::size_t>(stop)];
        return std::find(symbols.begin(), symbols.end(), row.symbol) != symbols.end();
    };
    for (const bool first : {true, false}) {
        for (const WalkRow& row : walkNow(desk)) {
            if (row.stop == stop && telling(row) == first) y += drawRow(ui, row, list.x, y, list.w - 16 * s);
        }
        if (!first) break;
        ui.line({list.x, y}, {list.x + list.w - 16 * s, y}, ui.p.hairline, 1.0f);
        y += 8 * s;
    }
    if (head_rolls) y += drawHead(desk, *craft, {list.x, y, list.w - 14 * s, 0});
    ImGui::SetCursorPos({0, y - start + 4 * s});
    ImGui::Dummy({1, 1});
    ImGui::EndChild();
}

void copyWalk(Desk& desk) {
    const Craft* craft = pickedCraft(desk);
    if (craft == nullptr) return desk.say("Pick a pixel first: then its walk can be copied.");
    const std::string text = textNow(desk, *craft);
    ImGui::SetClipboardText(text.c_str());
    desk.walk.copied = text.size();
    desk.say("The whole walk of this pixel is in the clipboard.");
}

void saveWalk(Desk& desk) {
    const Craft* craft = pickedCraft(desk);
    if (craft == nullptr) return desk.say("Pick a pixel first: then its walk can be saved.");
    const std::filesystem::path folder = desk.keep.folder.empty() ? std::filesystem::path(".") : std::filesystem::path(desk.keep.folder);
    const std::string path = (folder / walkFileName(titleOf(desk, *craft), *desk.session.picked()->why)).lexically_normal().string();
    try {
        std::error_code ignored;
        std::filesystem::create_directories(folder, ignored);  // a folder that cannot be made is told by the file that cannot be written
        WholeFiles files;
        files.addText(path, textNow(desk, *craft));
        files.commit();
        desk.walk.saved = path;
        desk.say("The walk is saved as " + path);
    } catch (const InputError& error) {
        desk.say(error.what());
    }
}

}  // namespace linefall
