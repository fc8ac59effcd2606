// What flies and looks: platform, swaths, lines of sight, footprints. The light of the picked pixel: ray_marks.cpp.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/instrument_plate.h"
#include "app/sketch.h"
#include "base/angle.h"

namespace linefall {

namespace {

void swath(Sketch& sketch, Desk& desk, int craft) {
    Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    const SwathEdges& edges = c.edges();
    std::vector<Vec3> starboard, port;
    for (std::size_t i = 0; i < edges.lines.size() && edges.lines[i] < c.shown(); ++i) {
        starboard.push_back(edges.starboard[i]);
        port.push_back(edges.port[i]);
    }
    const ImU32 colour = colourOf(desk, craft);
    desk.swath_sights.resize(desk.session.crafts().size());
    SwathSight& sight = desk.swath_sights[static_cast<std::size_t>(craft)];
    if (!(sight.camera == sketch.camera()) || sight.version != c.version() || sight.generation != desk.session.generation()) sight = {sketch.camera(), c.version(), desk.session.generation(), {}, {}};
    sketch.line(starboard, colour, 2.0f, dashOf(craft), sight.starboard);
    sketch.line(port, colour, 2.0f, dashOf(craft), sight.port);
    if (!port.empty()) {
        // The two letters stand at the two edges, so that they never cover each other.
        sketch.label(craft % 2 == 0 ? port.front() : starboard.front(), craft % 2 == 0 ? 6.0f : -16.0f, -18.0f, colour, std::string(1, letterOf(craft)), true);
    }
}

/// The footprint of a sample as large as it is; too small to be seen, a frame around it that says how much larger it is.
void footprintMark(Sketch& sketch, std::vector<Vec3> corners, ImU32 colour, const std::string& whose) {
    const Vec3 middle = 0.25 * (corners[0] + corners[1] + corners[2] + corners[3]);
    const double across_m = glm::length(corners[1] - corners[0]), along_m = glm::length(corners[2] - corners[1]);
    float extent = 0.0f;
    for (int i = 0; i < 4; ++i) {
        const std::optional<ImVec2> a = sketch.at(corners[static_cast<std::size_t>(i)]), b = sketch.at(corners[static_cast<std::size_t>((i + 1) % 4)]);
        if (!a || !b) return;
        extent = std::max(extent, std::hypot(a->x - b->x, a->y - b->y));
    }
    std::string words = whose + " sees " + shortText(across_m, Kind::length, 2) + " × " + shortText(along_m, Kind::length, 2);
    const float least = 16.0f * sketch.ui().s;
    if (extent < 0.5f * least && extent > 1e-6f) {
        const double unit = std::pow(10.0, std::floor(std::log10(least / extent)));
        const double times = std::ceil(least / extent / unit) * unit;
        for (Vec3& corner : corners) corner = middle + times * (corner - middle);
        words += ", drawn × " + shortText(times, Kind::number, 2);
    }
    corners.push_back(corners.front());
    sketch.line(corners, colour, 2.0f);
    sketch.label(middle, 14.0f, 8.0f, colour, words);
}

/// Between two sweeps: where the mirror points while no light is gathered.
void returning(Sketch& sketch, Desk& desk, int craft, const Pose& pose) {
    const Formation& formation = desk.session.crafts()[static_cast<std::size_t>(craft)]->formation();
    const std::optional<MirrorState> mirror = formation.instrument().mirrorAt(desk.session.clock().time_s());
    if (!mirror) return;
    const Ray ray{pose.position_m, pose.world_from_platform * Vec3{0.0, std::sin(mirror->angle_rad), std::cos(mirror->angle_rad)}, desk.session.clock().time_s()};
    const GroundHit hit = formation.place().ground->intersect(ray);
    if (hit.meets != Meets::sky) sketch.line({pose.position_m, hit.point_m}, colourOf(desk, craft), 1.2f, 3.0f);
}

/// Where the instrument looks just now.
void sight(Sketch& sketch, Desk& desk, int craft, const Pose& pose) {
    Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    const Formation& formation = c.formation();
    const Instrument& instrument = formation.instrument();
    const Moment now = momentOf(desk, craft);
    const ImU32 colour = colourOf(desk, craft);
    const bool slow = isSlow(desk, craft);
    const std::string letter(1, letterOf(craft));
    if (instrument.derived().line_period_s <= 0.0 && !now.sample) {  // all lines at once: the four edges of the field
        const int last = formation.lines() - 1, side = formation.samples() - 1;
        std::vector<Vec3> frame;
        const std::pair<int, int> corners[4] = {{0, 0}, {0, side}, {last, side}, {last, 0}};
        for (const auto& corner : corners) frame.push_back(groundOf(formation, c.manner(), corner.first, corner.second));
        const Vec3 from = formation.motion().positionAt(instrument.lineTime_s(0));  // where the shutter opens
        for (const Vec3& corner : frame) sketch.line({from, corner}, colour, 1.2f, dashOf(craft));
        frame.push_back(frame.front());
        sketch.line(frame, colour, now.gathering ? 3.5f : 2.0f, dashOf(craft));
        if (slow && now.gathering) footprintMark(sketch, footprint(formation, c.manner(), last / 2, side / 2, now.dwell - 0.5), colour, "each detector of " + letter);
        return;
    }
    const std::vector<Vec3> ground = lineOnGround(formation, c.manner(), now.line + now.lines / 2, 33);
    if (!now.sample) {
        const bool waits = slow && !now.gathering;
        sketch.fan(pose.position_m, ground, faded(colour, waits ? 0.05f : 0.16f));
        sketch.line({pose.position_m, ground.front()}, colour, waits ? 1.0f : 1.4f, dashOf(craft));
        sketch.line({pose.position_m, ground.back()}, colour, waits ? 1.0f : 1.4f, dashOf(craft));
        sketch.line(ground, colour, waits ? 1.2f : 2.6f, waits ? 3.0f : 0.0f, true);
        if (slow && now.gathering) footprintMark(sketch, footprint(formation, c.manner(), now.line, formation.samples() / 2, now.dwell - 0.5), colour, "each detector of " + letter);
        return;
    }
    sketch.line(ground, faded(colour, 0.75f), 1.2f, 3.0f, true);
    if (!now.gathering && slow && !c.hand()) {
        returning(sketch, desk, craft, pose);
        return;
    }
    Offset offset;
    offset.dwell_share = now.dwell - 0.5;
    const Vec3 spot = groundOf(formation, c.manner(), now.line + now.lines / 2, *now.sample, offset);
    sketch.line({pose.position_m, spot}, colour, now.gathering ? 2.4f : 1.2f, now.gathering ? 0.0f : 3.0f);
    if (slow && now.gathering) footprintMark(sketch, footprint(formation, c.manner(), now.line + now.lines / 2, *now.sample, offset.dwell_share), colour, letter);
    else if (now.gathering) sketch.dot(spot, 4.0f, colour);
}

void sunInTheSky(const Sketch& sketch, Desk& desk) {
    const Sunlight sun = desk.session.sunNow();
    if (!sun.up()) return;
    const Vec3 far = sketch.camera().eye_m() + 80000.0 * sun.towards;
    const std::optional<ImVec2> p = sketch.at(far);
    if (!p || !sketch.visible(far)) return;
    ImDrawList* draw = desk.ui.draw();
    for (int i = 5; i >= 1; --i) draw->AddCircleFilled(*p, (9.0f + 7.0f * static_cast<float>(i)) * desk.ui.s, IM_COL32(255, 236, 170, 26), 40);
    draw->AddCircleFilled(*p, 9.0f * desk.ui.s, IM_COL32(255, 250, 225, 255), 32);
}

}  // namespace

void drawFlightMarks(Desk& desk, const Rect& place) {
    Session& session = desk.session;
    const Ground& ground = *session.scene().place->ground;
    Sketch sketch(desk.ui, place, desk.view.camera, ground);
    const double time = session.clock().time_s();
    const Motion& motion = session.crafts().front()->formation().motion();
    const Pose pose = motion.at(time);

    sunInTheSky(sketch, desk);
    sketch.keepFree(pose.position_m, 26.0f, 10.0f);  // the platform itself
    for (const auto& plate : instrumentPlates(desk, place)) sketch.keepFree(plate.second);
    const int crafts = static_cast<int>(session.crafts().size());
    for (int i = 0; i < crafts; ++i) swath(sketch, desk, i);
    for (int i = crafts - 1; i >= 0; --i) sight(sketch, desk, i, pose);
    desk.ray = drawRay(sketch, desk);
    drawAngles(sketch, desk);
    if (desk.cursor.on && desk.cursor.from && sketch.visible(desk.cursor.point_m)) {
        if (const std::optional<ImVec2> at = sketch.at(desk.cursor.point_m)) drawCursorRing(desk.ui, *at);
    }
    drawPlatform(sketch, pose);
    // A platform beyond the upper edge: say where it is.
    const std::optional<ImVec2> seen = sketch.at(pose.position_m);
    if (!seen || seen->y < place.y) {
        desk.ui.casedText(place.centre().x, place.y + 8 * desk.ui.s, desk.ui.fonts.small, desk.ui.p.ink, sketch.casing(),
                          "↑ platform " + shortText(pose.position_m.z, Kind::length, 3) + " up", Align::centre);
    }
    if (desk.view.kind == ViewKind::top || desk.view.kind == ViewKind::island) {
        const std::optional<ImVec2> p = sketch.at(pose.position_m);
        if (p && place.holds(*p)) sketch.label(pose.position_m, 26.0f, -26.0f, desk.ui.p.ink, shortText(motion.height_m(), Kind::length, 3));
    }
    sketch.drawLabels();
    desk.flight_labels = sketch.labels();
}

}  // namespace linefall
