// The instrument, close by, while it is watched in slow motion: its mirror at its true angle, its line of detectors, its
// shutter; and the line that it gathers, enlarged. Everything from its own look times and directions.

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/desk.h"
#include "app/instrument_plate.h"
#include "app/pace.h"
#include "app/picture_marks.h"
#include "base/angle.h"

namespace linefall {

namespace {

/// What the plate shows of a craft at the clock's time.
struct Seen {
    const Craft& craft;
    const Instrument& instrument;
    Moment now;
    SweepTimes sweep;
    double time_s = 0.0;
    bool turned = false;  ///< as the picture: starboard is left, or right when it is turned
    ImU32 colour = 0;
    std::optional<MirrorState> mirror;  ///< at the clock's time, or in the hand
};

double angleOf(const Instrument& instrument, int line, int sample) {
    const Vec3 look = instrument.look(line, sample, Offset{}).direction;
    return std::atan2(look.y, look.z);
}

/// The sample that looks nearest to an angle off nadir, starboard positive; angles fall with the sample.
int sampleAtAngle(const Instrument& instrument, int line, double angle_rad) {
    int low = 0, high = instrument.samples() - 1;
    while (low < high) {
        const int middle = (low + high) / 2;
        if (0.5 * (angleOf(instrument, line, middle) + angleOf(instrument, line, middle + 1)) > angle_rad) low = middle + 1;
        else high = middle;
    }
    return low;
}

std::string angleWords(double angle_rad) {
    const double degrees = degreesFromRadians(std::abs(angle_rad));
    char digits[32];
    std::snprintf(digits, sizeof digits, "%.1f°", degrees);
    return std::string(digits) + (degrees < 0.05 ? ", nadir" : angle_rad > 0.0 ? " to starboard" : " to port");
}

std::string titleOf(const Seen& seen) {
    const Derived& d = seen.instrument.derived();
    if (seen.craft.hand() && !seen.mirror) return "by hand " + angleWords(angleOf(seen.instrument, seen.now.line, *seen.now.sample));
    if (seen.mirror) {
        if (seen.craft.hand()) return "mirror by hand " + angleWords(seen.mirror->angle_rad);
        return seen.mirror->sweeping ? "mirror " + angleWords(seen.mirror->angle_rad) : seen.mirror->facets > 0 ? "the next facet comes" : "the mirror returns";
    }
    if (d.line_period_s > 0.0) return std::to_string(d.detectors) + " detectors " + (seen.now.gathering ? "gather" : "wait");
    if (seen.instrument.hasReceptors()) {
        if (seen.now.gathering) return "receptors gather";
        return seen.time_s < seen.sweep.begins_s ? "fixation in " + shortText(seen.sweep.begins_s - seen.time_s, Kind::time, 3) : "fixation over";
    }
    if (seen.now.gathering) return "shutter open";
    return seen.time_s < seen.sweep.begins_s ? "shutter opens in " + shownTime(seen.sweep.begins_s - seen.time_s, 3) : "shutter closed";
}

std::string progressOf(const Seen& seen) {
    const Moment& now = seen.now;
    std::string words = now.lines > 1 && seen.instrument.derived().line_period_s > 0.0
                            ? "lines " + std::to_string(now.line) + " to " + std::to_string(now.line + now.lines - 1)
                            : now.lines > 1 ? "all lines" : "line " + std::to_string(now.line);
    if (seen.craft.hand()) return words + " · sample " + std::to_string(*now.sample) + " · " + std::to_string(seen.craft.hand()->count()) + " of " + std::to_string(seen.instrument.samples()) + " gathered";
    if (now.sample) words += " · sample " + std::to_string(*now.sample) + " of " + std::to_string(seen.instrument.samples());
    if (now.gathering) words += " · dwell " + std::to_string(static_cast<int>(100.0 * now.dwell)) + " %";
    return words;
}

/// A fan from `top` down to level ground, its edges at +-FOV/2; returns where a line of sight meets the ground.
struct Fan {
    ImVec2 top;
    float depth = 0.0f;
    double side = -1.0;  ///< of starboard on the page
    [[nodiscard]] ImVec2 at(double angle_rad) const {
        return {top.x + static_cast<float>(side * std::tan(std::clamp(angle_rad, -1.1, 1.1))) * depth, top.y + depth};
    }
};

void drawGround(Ui& ui, const Fan& fan, double half_rad) {
    const ImVec2 a = fan.at(half_rad), b = fan.at(-half_rad);
    const float left = std::min(a.x, b.x), right = std::max(a.x, b.x);
    ui.draw()->AddTriangleFilled(fan.top, {left, a.y}, {right, a.y}, faded(ui.p.quiet, 0.14f));
    ui.line({left - 8 * ui.s, a.y}, {right + 8 * ui.s, a.y}, ui.p.ink, 1.5f);
}

/// A mirror at 45 degrees to the axis it turns about, seen along that axis; or the polygon of its facets.
void drawMirror(Ui& ui, const Fan& fan, const MirrorState& mirror) {
    const float s = ui.s;
    const double a = mirror.angle_rad;
    const ImVec2 look{static_cast<float>(fan.side * std::sin(a)), static_cast<float>(std::cos(a))}, across{-look.y, look.x};
    std::vector<ImVec2> rim;
    if (mirror.facets >= 3) {
        const double half = constants::pi / mirror.facets;
        for (int i = 0; i < mirror.facets; ++i) {
            const double turn = half + 2.0 * half * i;
            const float x = 17 * s * static_cast<float>(std::cos(turn)), y = 17 * s * static_cast<float>(std::sin(turn));
            rim.push_back({fan.top.x + look.x * x + across.x * y, fan.top.y + look.y * x + across.y * y});
        }
    } else {
        for (int i = 0; i < 32; ++i) {
            const double turn = 2.0 * constants::pi * i / 32;
            const float x = 16 * s * 0.45f * static_cast<float>(std::cos(turn)), y = 16 * s * static_cast<float>(std::sin(turn));
            rim.push_back({fan.top.x + look.x * x + across.x * y, fan.top.y + look.y * x + across.y * y});
        }
    }
    ui.draw()->AddConvexPolyFilled(rim.data(), static_cast<int>(rim.size()), ui.p.paper);
    ui.draw()->AddPolyline(rim.data(), static_cast<int>(rim.size()), ui.p.ink, ImDrawFlags_Closed, 2.0f * s);
    ui.draw()->AddCircleFilled(fan.top, 2.5f * s, ui.p.ink, 12);
}

void drawSweeping(Ui& ui, const Seen& seen, const Fan& fan, const MirrorState& mirror) {
    const double half = 0.5 * seen.instrument.derived().fov_rad;
    drawGround(ui, fan, half);
    const ImVec2 ground = fan.at(mirror.angle_rad);
    ui.cased({fan.top, ground}, seen.colour, ui.p.panel, mirror.sweeping ? 3.0f : 1.5f, mirror.sweeping ? 0.0f : 3.0f);
    if (mirror.sweeping) ui.draw()->AddCircleFilled(ground, 4.0f * ui.s, seen.colour, 16);
    drawMirror(ui, fan, mirror);
}

/// Detectors over a lens: a row of them, or rows behind a shutter. They see the ground upside down through the lens.
void drawStaring(Ui& ui, const Seen& seen, const Fan& fan) {
    const float s = ui.s;
    const bool frame = seen.instrument.derived().line_period_s <= 0.0 && !seen.instrument.hasReceptors();  // an eye has no shutter
    const double half = 0.5 * seen.instrument.derived().fov_rad;
    drawGround(ui, fan, half);
    const float up = 20 * s, reach = up * static_cast<float>(std::tan(std::min(half, 1.1)));
    const float wide = std::clamp(reach, 14 * s, 90 * s);
    const Rect plane{fan.top.x - wide, fan.top.y - up - 8 * s, 2 * wide, 8 * s};
    const bool lit = seen.now.gathering && !seen.craft.hand();
    if (seen.craft.hand()) {  // one detector of the line
        const double angle = angleOf(seen.instrument, seen.now.line, *seen.now.sample);
        const float behind = -static_cast<float>(fan.side * std::tan(angle) / std::tan(std::max(1e-6, half))) * wide;
        ui.cased({{fan.top.x + behind, fan.top.y - up}, fan.top, fan.at(angle)}, seen.colour, ui.p.panel, 3.0f);
    }
    if (lit) {
        for (const double edge : {-half, half}) {
            const ImVec2 ground = fan.at(edge);
            const float behind = edge * fan.side > 0.0 ? -wide : wide;
            ui.cased({{fan.top.x + behind, fan.top.y - up}, fan.top, ground}, seen.colour, ui.p.panel, 2.0f);
        }
        ui.line(fan.at(half), fan.at(-half), seen.colour, 4.0f);
    }
    ui.draw()->AddRectFilled(plane.min(), plane.max(), lit ? seen.colour : ui.p.paper);
    ui.draw()->AddRect(plane.min(), plane.max(), ui.p.ink, 0, 0, 1.5f * s);
    for (float x = plane.x + 6 * s; x < plane.right() - 2 * s; x += 6 * s) ui.line({x, plane.y}, {x, plane.bottom()}, ui.p.ink, 1.0f);
    ui.draw()->AddBezierCubic({fan.top.x - 18 * s, fan.top.y}, {fan.top.x - 8 * s, fan.top.y - 8 * s}, {fan.top.x + 8 * s, fan.top.y - 8 * s}, {fan.top.x + 18 * s, fan.top.y}, ui.p.ink, 1.5f * s);
    ui.draw()->AddBezierCubic({fan.top.x - 18 * s, fan.top.y}, {fan.top.x - 8 * s, fan.top.y + 8 * s}, {fan.top.x + 8 * s, fan.top.y + 8 * s}, {fan.top.x + 18 * s, fan.top.y}, ui.p.ink, 1.5f * s);
    if (!frame) return;
    const float y = fan.top.y - 13 * s, gap = seen.now.gathering ? 14 * s : 0.0f;
    ui.draw()->AddRectFilled({fan.top.x - 30 * s, y}, {fan.top.x - gap, y + 3 * s}, ui.p.ink);
    ui.draw()->AddRectFilled({fan.top.x + gap, y}, {fan.top.x + 30 * s, y + 3 * s}, ui.p.ink);
}

/// The lines that are gathered just now, as wide as the plate: what has fallen of them, the rest blank.
void drawStrip(Desk& desk, const Seen& seen, int craft, const Rect& r) {
    Ui& ui = desk.ui;
    ui.draw()->AddRectFilled(r.min(), r.max(), ui.p.blank);
    const Partly& part = seen.craft.partly();
    const float samples = static_cast<float>(seen.instrument.samples()), lines = static_cast<float>(seen.instrument.lines());
    const auto xOf = [&](float sample) { return seen.turned ? r.right() - r.w * sample / samples : r.x + r.w * sample / samples; };
    const auto id = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(desk.pictures[static_cast<std::size_t>(craft)]->texture()));
    // Through the middles of the rows: no neighbour mixes in.
    float top = (static_cast<float>(part.line) + 0.5f) / lines, bottom = (static_cast<float>(part.line + part.lines) - 0.5f) / lines;
    if (seen.turned) std::swap(top, bottom);
    for (const SampleRun& run : seen.craft.partlyRuns()) {
        const float first = static_cast<float>(run.first), last = static_cast<float>(run.last);
        const float from = seen.turned ? last : first, to = seen.turned ? first : last;
        ui.draw()->AddImage(id, {xOf(from), r.y}, {xOf(to), r.bottom()}, {from / samples, top}, {to / samples, bottom});
    }
    if (seen.now.sample && (seen.now.gathering || seen.craft.hand())) {
        const float x = xOf(static_cast<float>(*seen.now.sample) + 0.5f);
        ui.cased({{x, r.y - 3 * ui.s}, {x, r.bottom() + 3 * ui.s}}, over_light, over_dark, 2.0f);
    }
    ui.draw()->AddRect(r.min(), r.max(), ui.p.ink, 0, 0, 1.0f * ui.s);
}

std::string countsOf(const Seen& seen, bool brief = false) {
    const HandSweep& hand = *seen.craft.hand();
    if (!seen.craft.gathered({hand.line(), hand.at()})) return brief ? "Drag, or arrow keys; Enter: let go" : "Drag, or use the arrow keys; Enter: the machine takes over";
    const Image& image = seen.craft.formation().image();
    const BandChoice& bands = seen.craft.look().bands;
    std::string words = "counts";
    for (const int band : bands.grey() ? std::vector<int>{bands.red} : std::vector<int>{bands.red, bands.green, bands.blue}) {
        words += (words == "counts" ? " " : " · ") + std::to_string(image.counts[static_cast<std::size_t>(band)].at(hand.at(), hand.line()));
    }
    if (brief) return words;
    return words + " in " + (bands.grey() ? image.bands[static_cast<std::size_t>(bands.red)].name : "red, green, blue as shown");
}

/// The mirror in the hand: dragged over the fan it follows the pointer, over the strip it goes to the sample there.
void takeHand(Desk& desk, int craft, const Seen& seen, const Touch& t, const std::optional<Fan>& fan, const Rect& strip) {
    Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const int samples = seen.instrument.samples();
    if (t.held && fan && mouse.y < strip.y - 4 * desk.ui.s) {
        const double angle = std::atan2(fan->side * (mouse.x - fan->top.x), std::max(4.0f * desk.ui.s, mouse.y - fan->top.y));
        c.moveHand(sampleAtAngle(seen.instrument, seen.now.line, angle), ImGui::IsMouseClicked(0));
    } else if (t.held) {
        const double share = (mouse.x - strip.x) / strip.w;
        c.moveHand(static_cast<int>(std::floor((seen.turned ? 1.0 - share : share) * samples)), ImGui::IsMouseClicked(0));
    } else if (t.step_x != 0) {
        const int stride = std::max(1, samples / 100);
        c.moveHand(c.hand()->at() + (seen.turned ? -1 : 1) * stride * t.step_x);
    } else if (t.pressed && !t.released) {  // Enter, not the end of a drag
        desk.session.endHand();
    }
}

void drawPlate(Desk& desk, int craft, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    const Instrument& instrument = c.formation().instrument();
    const double time_s = desk.session.clock().time_s();
    const Moment now = momentOf(desk, craft);
    const bool turned = static_cast<std::size_t>(craft) < desk.picture_views.size() && desk.picture_views[static_cast<std::size_t>(craft)].turned;
    Seen seen{c, instrument, now, sweepOf(instrument, now.line), time_s, turned, colourOf(desk, craft), instrument.mirrorAt(time_s)};
    if (c.hand() && seen.mirror) seen.mirror = MirrorState{angleOf(instrument, now.line, *now.sample), seen.mirror->facets, true};

    ui.draw()->AddRectFilled(place.min(), place.max(), faded(ui.p.panel, 0.95f), 4 * s);
    ui.draw()->AddRect(place.min(), place.max(), c.hand() ? seen.colour : ui.p.ink, 4 * s, 0, (c.hand() ? 2.0f : 1.0f) * s);
    const Rect in = place.inset(9 * s);
    const Rect tag{in.x, in.y, 18 * s, 18 * s};
    ui.draw()->AddRectFilled(tag.min(), tag.max(), seen.colour, 3 * s);
    ui.text(tag.centre().x, in.y + 1 * s, ui.fonts.small, ui.p.on_craft, std::string(1, letterOf(craft)), Align::centre);
    ui.text(tag.right() + 7 * s, in.y - 1 * s, ui.fonts.strong, ui.p.ink, ui.fitted(ui.fonts.strong, titleOf(seen), in.w - 26 * s));

    const float foot = (c.hand() ? 38 : 20) * s, strip = (c.hand() ? 22 : 12) * s;
    const Rect line{in.x, in.bottom() - foot - strip, in.w, strip};
    const Rect room{in.x, in.y + 24 * s, in.w, line.y - in.y - 34 * s};
    std::optional<Fan> fan;
    if (room.h > 50 * s) {
        ui.draw()->PushClipRect(room.min(), {room.right(), room.bottom() + 4 * s}, true);
        const float over = seen.mirror ? 18 * s : 30 * s;
        fan = Fan{{room.centre().x, room.y + over}, room.h - over - 1 * s, turned ? 1.0 : -1.0};
        if (seen.mirror) drawSweeping(ui, seen, *fan, *seen.mirror);
        else drawStaring(ui, seen, *fan);
        ui.draw()->PopClipRect();
        ui.text(room.x, room.y, ui.fonts.small, ui.p.quiet, turned ? "port" : "starboard");
        ui.text(room.right(), room.y, ui.fonts.small, ui.p.quiet, turned ? "starboard" : "port", Align::right);
    }
    drawStrip(desk, seen, craft, line);
    ui.text(in.x, line.bottom() + 4 * s, ui.fonts.small, ui.p.ink, ui.fitted(ui.fonts.small, progressOf(seen), in.w));
    if (!c.hand()) return;
    ui.text(in.x, line.bottom() + 22 * s, ui.fonts.small, ui.p.quiet, ui.fitting(ui.fonts.small, {countsOf(seen), countsOf(seen, true)}, in.w));
    takeHand(desk, craft, seen, ui.touch(hand_control, place), fan, line);
}

}  // namespace

std::vector<std::pair<int, Rect>> instrumentPlates(const Desk& desk, const Rect& view) {
    const float s = desk.ui.s, gap = 10 * s;
    const std::optional<int> by_hand = desk.session.handCraft();
    const float width = (by_hand ? 340 : 262) * s;
    const float height = view.h > (by_hand ? 400 : 300) * s ? (by_hand ? 220 : 162) * s : (by_hand ? 98 : 70) * s;
    std::vector<int> crafts;
    for (int i = 0; i < static_cast<int>(desk.session.crafts().size()); ++i) {
        if (by_hand ? *by_hand == i : isSlow(desk, i)) crafts.push_back(i);
    }
    const auto room = static_cast<std::size_t>(std::max(1.0f, (view.w - gap) / (width + gap)));
    if (crafts.size() > room) crafts.assign(1, desk.active);
    std::vector<std::pair<int, Rect>> plates;
    for (std::size_t i = 0; i < crafts.size(); ++i) {
        const float x = i == 0 ? view.x + gap : view.right() - (width + gap) * static_cast<float>(crafts.size() - i);
        plates.push_back({crafts[i], {x, view.bottom() - height - std::clamp(0.5f * (view.h - height), 0.0f, gap), std::min(width, view.w - 2 * gap), height}});
    }
    return plates;
}

void drawInstrumentPlates(Desk& desk, const Rect& view) {
    if (!desk.session.handCraft() && desk.ui.focused() == hand_control) desk.ui.focus("flight");
    for (const auto& [craft, place] : instrumentPlates(desk, view)) drawPlate(desk, craft, place);
}

}  // namespace linefall
