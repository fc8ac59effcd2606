// The Measure tool: what is measured, in which units, and the readings with their formulas; profile and histogram as plots.

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/desk.h"
#include "app/plot.h"
#include "app/tools.h"
#include "flight/light_stops.h"
#include "measure/histogram.h"
#include "measure/profile.h"
#include "measure/region.h"

namespace linefall {

namespace {

constexpr std::array<std::pair<MeasureKind, const char*>, 7> kinds{{{MeasureKind::length, "Length"},
                                                                   {MeasureKind::height, "Height"},
                                                                   {MeasureKind::angle, "Angle"},
                                                                   {MeasureKind::area, "Area"},
                                                                   {MeasureKind::profile, "Profile"},
                                                                   {MeasureKind::histogram, "Histogram"},
                                                                   {MeasureKind::parallax, "Parallax"}}};

const char* askFor(const MeasureTool& tool) {
    switch (tool.kind) {
        case MeasureKind::height: return "Drag from the foot of a thing to its top, or to the tip of its shadow.";
        case MeasureKind::angle: return "Click the corner, then an end of each arm.";
        case MeasureKind::area: return "Drag over an area.";
        case MeasureKind::histogram: return "Drag over an area; without one the whole picture is counted.";
        case MeasureKind::parallax: return "Foot and top of one thing in A, then the same two in B: two frames from two stations.";
        default: return "Drag from one place to another in a picture. By keys: pick, Enter; pick, Enter.";
    }
}

/// The next of a list of units.
void turn(std::string& unit, const std::vector<std::string>& all) {
    const auto at = std::find(all.begin(), all.end(), unit);
    unit = at == all.end() || at + 1 == all.end() ? all.front() : *(at + 1);
}

float drawChoices(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    MeasureTool& tool = desk.measure;
    const float s = ui.s, gap = 6 * s, height = 27 * s;
    float x = place.x, y = place.y;
    const auto next = [&](float width) {
        if (x > place.x && x + width > place.right()) {
            x = place.x;
            y += height + gap;
        }
        const Rect r{x, y, width, height};
        x += width + gap;
        return r;
    };
    for (const auto& [kind, name] : kinds) {
        const float width = ui.size(ui.fonts.small, name).x + 20 * s;
        if (ui.button(std::string("measure ") + name, next(width), name, tool.kind == kind)) {
            tool.kind = kind;
            tool.places.clear();
            tool.other.clear();
        }
    }
    x = place.x;
    y += height + gap;
    const bool values = tool.kind == MeasureKind::area || tool.kind == MeasureKind::profile || tool.kind == MeasureKind::histogram;
    if (values) {
        for (std::size_t i = 0; i < scaleNames().size(); ++i) {
            const float width = ui.size(ui.fonts.small, scaleNames()[i]).x + 20 * s;
            if (ui.button("scale " + scaleNames()[i], next(width), scaleNames()[i], tool.scale == static_cast<Scale>(i))) tool.scale = static_cast<Scale>(i);
        }
    }
    if (!values || tool.kind == MeasureKind::profile) {
        if (ui.button("length unit", next(52 * s), tool.units.length, false, "lengths in m, km or ft")) turn(tool.units.length, lengthUnits());
        if (ui.button("angle unit", next(56 * s), tool.units.angle, false, "angles in deg or mrad")) turn(tool.units.angle, angleUnits());
        if (ui.button("speed unit", next(56 * s), tool.units.speed, false, "speeds in m/s, km/h or kn")) turn(tool.units.speed, speedUnits());
    }
    if (ui.button("measure back", next(64 * s), "Undo", false, "take the last place back (Backspace)")) measureBack(desk);
    return y + height + 8 * s - place.y;
}

void drawReadings(Desk& desk, const Rect& place, const std::vector<Reading>& readings) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    ImGui::SetCursorScreenPos(place.min());
    ImGui::BeginChild("readings", {place.w, place.h}, false, ImGuiWindowFlags_NoNav);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float width = place.w - 16 * s;
    float y = start.y;
    for (const Reading& reading : readings) {
        const std::string value = textOf(reading, desk.measure.units);
        if (!reading.ok()) {
            y += ui.paragraph(start.x, y, width, ui.fonts.small, ui.p.quiet, reading.name + ": " + reading.missing) + 6 * s;
            continue;
        }
        ui.text(start.x, y, ui.fonts.body, ui.p.ink, reading.name);
        if (ui.size(ui.fonts.body, reading.name).x + ui.size(ui.fonts.strong, value).x + 12 * s > width) y += 20 * s;
        ui.text(start.x + width, y, ui.fonts.strong, ui.p.ink, value, Align::right);
        y += 20 * s;
        if (!reading.formula.empty()) y += ui.paragraph(start.x, y, width, ui.fonts.figures, ui.p.quiet, workedText(reading, desk.measure.units));
        std::string notes;
        for (const std::string& word : reading.assumes) notes += (notes.empty() ? "takes for granted: " : "; ") + word;
        for (const std::string& word : reading.remarks) notes += (notes.empty() ? "" : "; ") + word;
        if (!notes.empty()) y += ui.paragraph(start.x, y, width, ui.fonts.small, ui.p.quiet, notes);
        y += 8 * s;
    }
    const bool uncertain = std::any_of(readings.begin(), readings.end(), [](const Reading& reading) { return reading.ok() && reading.sigma > 0.0; });
    if (uncertain) y += ui.paragraph(start.x, y, width, ui.fonts.small, ui.p.quiet, desk.measure.kind == MeasureKind::area ? meaning_over_area : meaning_of_uncertainty);
    ImGui::SetCursorScreenPos({start.x, y});
    ImGui::Dummy({1, 1});
    ImGui::EndChild();
}

/// The step of a profile that lies nearest to a pixel; nothing when the pixel is not on the line.
const ProfileSample* stepAt(const Profile& profile, Pixel pixel) {
    const ProfileSample* best = nullptr;
    int best_off = 3;
    for (const ProfileSample& step : profile.samples) {
        const int off = std::max(std::abs(step.line - pixel.line), std::abs(step.sample - pixel.sample));
        if (off >= best_off) continue;
        best_off = off;
        best = &step;
    }
    return best;
}

/// The cursor and the picked pixel in both plots; the pointer over a plot is the cursor.
void linkProfile(Desk& desk, const Profile& profile, const Plot& values, const Plot& ground) {
    const int craft = desk.measure.craft;
    const auto mark = [&](const ProfileSample& step, ImU32 colour, float dash) {
        for (const Plot* plot : {&values, &ground}) {
            const float x = plot->at(step.section_m, 0.0).x;
            desk.ui.cased({{x, plot->inside().y}, {x, plot->inside().bottom()}}, colour, desk.ui.p.panel, 1.6f, dash);
        }
    };
    const std::optional<Picked>& pick = desk.session.picked();
    if (pick) {
        const bool linked = static_cast<std::size_t>(craft) < pick->linked.size() && pick->linked[static_cast<std::size_t>(craft)].has_value();
        const ProfileSample* step = nullptr;
        if (pick->craft == craft) step = stepAt(profile, pick->pixel);
        else if (linked) step = stepAt(profile, pick->linked[static_cast<std::size_t>(craft)]->pixel);
        if (step != nullptr) mark(*step, colourOf(desk, pick->craft), dashOf(pick->craft));
    }
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    for (const Plot* plot : {&values, &ground}) {
        if (!plot->inside().holds(mouse)) continue;
        const ProfileSample* nearest = nullptr;
        float best = 1e9f;
        for (const ProfileSample& step : profile.samples) {
            const float off = std::abs(plot->at(step.section_m, 0.0).x - mouse.x);
            if (off >= best) continue;
            best = off;
            nearest = &step;
        }
        if (nearest != nullptr && nearest->formed) pointAtPixel(desk, craft, {nearest->line, nearest->sample});
    }
    const LinkedCursor& cursor = desk.cursor;
    if (!cursor.on || static_cast<std::size_t>(craft) >= cursor.pixels.size() || !cursor.pixels[static_cast<std::size_t>(craft)]) return;
    if (const ProfileSample* step = stepAt(profile, *cursor.pixels[static_cast<std::size_t>(craft)])) mark(*step, desk.ui.p.ink, 0.0f);
}

void drawProfile(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const MeasureTool& tool = desk.measure;
    const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(tool.craft)];
    const Profile profile = profileAlong(craft.formation(), tool.places[0], tool.places[1], tool.scale);
    std::vector<double> x, terrain;
    std::vector<std::vector<double>> values(profile.bands.size());
    double low = 1e300, high = -1e300, ground_low = 1e300, ground_high = -1e300;
    MeasureTool::Span seen;
    for (const ProfileSample& sample : profile.samples) {
        x.push_back(sample.section_m);
        terrain.push_back(sample.surface_m);
        if (sample.surface_m < ground_low) seen.lowest_m = ground_low = sample.surface_m, seen.lowest_at_m = sample.section_m;
        if (sample.surface_m > ground_high) seen.highest_m = ground_high = sample.surface_m, seen.highest_at_m = sample.section_m;
        for (std::size_t band = 0; band < values.size(); ++band) {
            const double value = band < sample.values.size() && sample.formed ? sample.values[band] : std::nan("");
            values[band].push_back(value);
            if (!std::isfinite(value)) continue;
            low = std::min(low, value);
            high = std::max(high, value);
        }
    }
    if (x.size() < 2 || high < low) {
        ui.text(place.x, place.y, ui.fonts.small, ui.p.quiet, "nothing is gathered along this line yet");
        return;
    }
    desk.measure.profile = seen;
    const float left = ui.size(ui.fonts.small, "-1000").x + 8 * ui.s;  // both plots begin at one place
    const double end = std::max(x.back(), x.front() + 1e-6), pad = 0.06 * std::max(high - low, 1e-9);
    // The names of the bands stand beside the plot's title; where they have no room there, in rows of their own above it.
    const std::string title = scaleNames()[static_cast<std::size_t>(tool.scale)] + (profile.unit.empty() || tool.scale == Scale::counts ? "" : ", " + printedUnit(profile.unit));
    const float swatch = 26 * ui.s, row = 1.3f * ui.fonts.small->FontSize, titled = ui.size(ui.fonts.small, title).x + 14 * ui.s;
    std::vector<ImVec2> spots;
    float used = 0.0f, rows = 0.0f;
    for (const std::string& name : profile.bands) used += swatch + ui.size(ui.fonts.small, name).x + 12 * ui.s;
    float at_x = place.right() - used;
    if (titled + used > place.w) at_x = place.x, rows = row;
    for (const std::string& name : profile.bands) {
        const float width = swatch + ui.size(ui.fonts.small, name).x + 12 * ui.s;
        if (rows > 0.0f && at_x > place.x && at_x + width - 12 * ui.s > place.right()) at_x = place.x, rows += row;
        spots.push_back({at_x, place.y + std::max(0.0f, rows - row)});
        at_x += width;
    }
    const float half = 0.56f * place.h;
    const Plot plot(ui, {place.x, place.y + rows, place.w, half - rows}, 0.0, end, low - pad, high + pad, "", title, left);
    for (std::size_t band = 0; band < values.size(); ++band) {
        const BandInk ink = bandInk(ui, static_cast<int>(band));
        plot.line(x, values[band], ink.colour, 1.8f, ink.dash);
        const ImVec2 spot = spots[band];
        ui.cased({{spot.x, spot.y + 8 * ui.s}, {spot.x + swatch - 6 * ui.s, spot.y + 8 * ui.s}}, ink.colour, ui.p.panel, 2.0f, ink.dash);
        ui.text(spot.x + swatch, spot.y, ui.fonts.small, ui.p.ink, profile.bands[band]);
    }
    const double rise = 0.1 * std::max(ground_high - ground_low, 1.0);
    const Plot under(ui, {place.x, place.y + half, place.w, place.h - half}, 0.0, end, ground_low - rise, ground_high + rise, "m along the line", "surface, m above datum", left);
    under.line(x, terrain, ui.p.ink, 2.0f);
    linkProfile(desk, profile, plot, under);
}

void drawHistogram(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const MeasureTool& tool = desk.measure;
    const int chosen = tool.places.size() == 2 ? tool.craft : desk.active;
    const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(chosen)];
    if (craft.shown() < 1) return;
    const Region region = tool.places.size() == 2 ? rectangleOf(tool.places[0], tool.places[1]) : linesOf(craft.formation(), 0, craft.shown());
    const std::vector<Band>& bands = craft.formation().image().bands;
    const int count = static_cast<int>(bands.size());
    const int columns = place.w > 560 * ui.s ? 2 : 1, rows = (count + columns - 1) / columns;
    const float w = place.w / static_cast<float>(columns), h = place.h / static_cast<float>(rows);
    for (int band = 0; band < count; ++band) {
        const Histogram histogram(craft.formation(), band, tool.scale, region);
        const Bins bins = histogram.bins(64);
        const Rect r{place.x + static_cast<float>(band % columns) * w, place.y + static_cast<float>(band / columns) * h, w - 8 * ui.s, h};
        const double end = bins.low + bins.width * static_cast<double>(std::max<std::size_t>(1, bins.values.size()));
        const Plot plot(ui, r, bins.low, end, 0.0, static_cast<double>(std::max<std::uint64_t>(1, bins.highest())), "",
                        bands[static_cast<std::size_t>(band)].name + ": " + std::to_string(histogram.total()) + " pixels");
        for (std::size_t i = 0; i < bins.values.size(); ++i) {
            plot.bar(bins.low + bins.width * static_cast<double>(i), bins.low + bins.width * static_cast<double>(i + 1), static_cast<double>(bins.values[i]), bandInk(ui, band).colour);
        }
    }
}

}  // namespace

void drawMeasurePanel(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    MeasureTool& tool = desk.measure;
    const float s = ui.s;
    if (static_cast<std::size_t>(tool.craft) >= desk.session.crafts().size()) tool = MeasureTool{};
    tool.profile.reset();
    const float left = std::min(0.42f * place.w, 330 * s);
    const float used = drawChoices(desk, {place.x, place.y, left, place.h});
    const std::string caution = cautionOf(tool.scale);
    std::string words = askFor(tool);
    if (!caution.empty() && (tool.kind == MeasureKind::area || tool.kind == MeasureKind::profile || tool.kind == MeasureKind::histogram)) words += " " + caution;
    words += " Readings of a teaching model: no survey.";
    const float words_bottom = place.y + used + ui.paragraph(place.x, place.y + used, left - 8 * s, ui.fonts.small, ui.p.quiet, words) + 4 * s;
    drawerReaches(words_bottom);
    const Rect right{place.x + left + 18 * s, place.y, place.w - left - 18 * s, place.h};
    if (tool.kind == MeasureKind::histogram) {
        drawHistogram(desk, right);
    } else if (tool.kind == MeasureKind::profile && tool.places.size() == 2) {
        drawProfile(desk, right);
    } else if (const std::vector<Reading> readings = readingsOf(desk); !readings.empty()) {
        drawReadings(desk, right, readings);
    } else {
        ui.paragraph(right.x, right.y + 4 * s, right.w - 8 * s, ui.fonts.small, ui.p.quiet, "What is measured stands here, each number with the uncertainty that the size of a pixel gives it.");
        ui.line({place.x + left + 6 * s, place.y}, {place.x + left + 6 * s, words_bottom}, ui.p.hairline);
        return;
    }
    ui.line({place.x + left + 6 * s, place.y}, {place.x + left + 6 * s, place.bottom()}, ui.p.hairline);
    drawerReaches(place.bottom());
}

}  // namespace linefall
