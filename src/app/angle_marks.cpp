// The angles in the flight view: each where it is, with its number beside it. Numbers come from the picked pixel's trace,
// from the instrument, and from its facts.

#include <algorithm>
#include <cmath>

#include "app/angles.h"
#include "app/desk.h"
#include "app/sketch.h"
#include "app/tools.h"
#include "instruments/moment.h"
#include "base/angle.h"

namespace linefall {

namespace {

/// The point at which the sun's angles are drawn: the picked one, else the nadir point.
struct Anchor {
    Vec3 point, up{0.0, 0.0, 1.0};
    const Why* why = nullptr;
};

void nadir(Sketch& sketch, Desk& desk, const Pose& pose, const GroundHit& below) {
    if (below.meets == Meets::sky || !desk.angles.shows(AngleMark::nadir)) return;
    sketch.line({pose.position_m, below.point_m}, desk.ui.p.ink, 1.0f, 3.0f);
    sketch.dot(below.point_m, 2.5f, desk.ui.p.ink);
    sketch.label(below.point_m, 8.0f, 4.0f, desk.ui.p.ink, "nadir, " + shortText(below.distance_m, Kind::length, 3) + " below");
}

void atThePoint(Sketch& sketch, Desk& desk, const Anchor& anchor, const Sunlight& sun) {
    const Angles& angles = desk.angles;
    Ui& ui = desk.ui;
    const double radius = 0.11 * sketch.camera().distance_m;
    const Vec3& point = anchor.point;
    // A stop that is open speaks of one leg: of the angles that are there from the beginning, the others step back.
    const bool standard = angles.on == Angles().on;
    const bool of_sun = angles.shows(AngleMark::solar_zenith) && !(standard && desk.open_stop >= 2);
    const bool of_view = angles.shows(AngleMark::view) && !(standard && desk.open_stop >= 0 && desk.open_stop <= 2);
    const bool arcs = of_sun || (anchor.why != nullptr && of_view);
    if (angles.shows(AngleMark::zenith) || arcs) sketch.line({point, point + 1.5 * radius * anchor.up}, ui.p.ink, 1.2f, 4.0f);
    if (angles.shows(AngleMark::zenith)) sketch.label(point + 1.5 * radius * anchor.up, -20.0f, -18.0f, ui.p.ink, "zenith");
    if (sun.up() && of_sun) {
        sketch.line({point, point + 1.15 * radius * sun.towards}, ui.p.ink, 1.0f, 3.0f);
        sketch.arc(point, anchor.up, sun.towards, radius, ui.p.ink, "solar zenith " + angleText(sun.zenith_rad()));
    }
    if (sun.up() && angles.shows(AngleMark::elevation)) {
        const Vec3 level = towardsOf(sun.azimuth_rad, 0.0);
        sketch.line({point, point + 1.6 * radius * level}, ui.p.ink, 1.2f, 4.0f);
        sketch.line({point, point + 1.45 * radius * sun.towards}, ui.p.ink, 1.0f, 3.0f);
        sketch.arc(point, level, sun.towards, 1.35 * radius, ui.p.ink, "elevation " + angleText(sun.elevation_rad));
    }
    if (anchor.why == nullptr) return;
    const Why& why = *anchor.why;
    if (of_view) {
        sketch.arc(point, anchor.up, glm::normalize(why.sensor_m - point), 0.75 * radius, colourOf(desk, desk.session.picked()->craft),
                   "view incidence " + angleText(why.view_incidence_rad));
    }
    if (sun.up() && (angles.shows(AngleMark::local) || desk.open_stop == 2)) {
        const Vec3 tip = point + 0.62 * radius * why.hit.normal;
        sketch.line({point, tip}, ui.p.ink, 1.8f);
        sketch.head(point, tip, 1.0, ui.p.ink);
        sketch.label(tip, 8.0f, -6.0f, ui.p.ink, "normal");
        sketch.arc(point, why.hit.normal, sun.towards, 0.5 * radius, ui.p.ink, "local incidence " + angleText(why.local_incidence_rad));
    }
}

/// A cone from a point: so wide that it can be seen, and how many times wider than true is said beside it.
void ifovCone(Sketch& sketch, const Vec3& from, const Vec3& to, double ifov_rad, ImU32 colour, const std::string& name) {
    double wider = 1.0;
    for (const double next : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1e3, 2e3, 5e3, 1e4, 1e5, 1e6}) {
        if (wider * ifov_rad < 0.10) wider = next;
    }
    const Vec3 way = to - from;
    const double length = std::min(glm::length(way), 0.20 * sketch.camera().distance_m);
    const Vec3 along = glm::normalize(way);
    const Vec3 across = glm::normalize(glm::cross(along, std::abs(along.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0})), third = glm::cross(along, across);
    const double radius = length * std::tan(0.5 * wider * ifov_rad);
    std::vector<Vec3> ring;
    for (int i = 0; i <= 24; ++i) {
        const double a = 2.0 * constants::pi * i / 24.0;
        ring.push_back(from + length * along + radius * (std::cos(a) * across + std::sin(a) * third));
    }
    sketch.patch(ring, faded(colour, 0.22f));
    sketch.line(ring, colour, 1.6f);
    // The two outlines: the points of the ring that lie farthest to either side of the axis, as seen.
    const std::optional<ImVec2> apex = sketch.at(from), middle = sketch.at(from + length * along);
    if (!apex || !middle) return;
    std::size_t least = 0, most = 0;
    float low = 0.0f, high = 0.0f;
    for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
        const std::optional<ImVec2> p = sketch.at(ring[i]);
        if (!p) return;
        const float side = (middle->x - apex->x) * (p->y - apex->y) - (middle->y - apex->y) * (p->x - apex->x);
        if (side < low) low = side, least = i;
        if (side > high) high = side, most = i;
    }
    sketch.line({from, ring[least]}, colour, 1.6f);
    sketch.line({from, ring[most]}, colour, 1.6f);
    sketch.label(from + length * along, 14.0f, -8.0f, colour, name + "IFOV " + angleText(ifov_rad, 3, true) + (wider > 1.0 ? ", drawn " + figuresText(wider, 1) + " × as wide" : ""));
}

/// What the active instrument sees: one detector's cone, the angle of a line, and the strip of ground.
void ofTheInstrument(Sketch& sketch, Desk& desk) {
    const Angles& angles = desk.angles;
    if (!angles.shows(AngleMark::ifov) && !angles.shows(AngleMark::fov) && !angles.shows(AngleMark::swath)) return;
    const int index = desk.active;
    Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(index)];
    const Formation& formation = craft.formation();
    const Derived& d = formation.instrument().derived();
    const ImU32 colour = colourOf(desk, index);
    const std::string name = desk.session.crafts().size() > 1 ? std::string(1, letterOf(index)) + ": " : "";
    const std::optional<Picked>& pick = desk.session.picked();
    const bool own = pick && pick->craft == index && pick->why;
    const Moment now = momentAt(formation.instrument(), desk.session.clock().time_s());
    const int line = own ? pick->pixel.line : std::min(now.line + now.lines / 2, formation.lines() - 1);
    const int sample = own ? pick->pixel.sample : now.sample.value_or(formation.samples() / 2);
    if (angles.shows(AngleMark::ifov)) {
        const Vec3 from = own ? pick->why->sensor_m : formation.ray(line, sample).origin_m;
        ifovCone(sketch, from, groundOf(formation, craft.manner(), line, sample), d.ifov_rad, colour, name);
    }
    const std::vector<Vec3> ground = lineOnGround(formation, craft.manner(), line, 33);
    const Vec3 platform = formation.ray(line, formation.samples() / 2).origin_m;
    if (angles.shows(AngleMark::fov)) {
        const double radius = std::min(0.16 * sketch.camera().distance_m, 0.7 * glm::length(ground[16] - platform));
        const Vec3 starboard = glm::normalize(ground.front() - platform), port = glm::normalize(ground.back() - platform);
        sketch.line({platform, platform + 1.25 * radius * starboard}, colour, 1.6f);
        sketch.line({platform, platform + 1.25 * radius * port}, colour, 1.6f);
        sketch.arc(platform, starboard, port, radius, colour, name + "FOV " + angleText(d.fov_rad));
    }
    if (angles.shows(AngleMark::swath)) {
        sketch.line(ground, colour, 3.0f, 0.0f, true);
        sketch.head(ground[1], ground.front(), 1.0, colour);
        sketch.head(ground[ground.size() - 2], ground.back(), 1.0, colour);
        const std::optional<FieldPoint> edge = formation.instrument().field(1.0, false);
        const std::string width = edge ? shortText(2.0 * edge->ground_distance_m, Kind::length, 3) + " on level ground" : "its edge looks past the ground";
        sketch.label(ground[12], 6.0f, 12.0f, colour, name + "swath " + width);
    }
}

/// The sun's way over the sky about a point, with its hours.
void path(Sketch& sketch, Desk& desk, const Vec3& centre) {
    const SunPath& day = sunPathNow(desk);
    const PathOf of = pathOf(desk);
    const double radius = 0.36 * sketch.camera().distance_m;
    std::vector<Vec3> arc;
    const ImU32 colour = desk.ui.p.sun;
    for (const SunMoment& moment : day.moments) {
        if (moment.elevation_rad > 0.0) {
            arc.push_back(centre + radius * towardsOf(moment.azimuth_rad, moment.elevation_rad));
        } else if (!arc.empty()) {
            sketch.line(arc, colour, 2.0f);
            arc.clear();
        }
    }
    sketch.line(arc, colour, 2.0f);
    if (day.noon.elevation_rad > 0.0) {
        sketch.label(centre + radius * towardsOf(day.noon.azimuth_rad, day.noon.elevation_rad), -30.0f, -40.0f, desk.ui.p.ink,
                     "sun's path " + dateText(of.date) + ", noon " + angleText(day.noon.elevation_rad) + " up");
    }
    for (std::size_t i = 0; i + 1 < day.moments.size(); i += 6) {  // whole hours of the path's clock
        const SunMoment& moment = day.moments[i];
        if (moment.elevation_rad <= 0.0) continue;
        const Vec3 spot = centre + radius * towardsOf(moment.azimuth_rad, moment.elevation_rad);
        sketch.dot(spot, 3.0f, colour);
        if (i / 6 % 3 == 0) sketch.label(spot, 6.0f, -18.0f, desk.ui.p.ink, clockText(moment.time, of.utc_offset_s));
    }
}

}  // namespace

void drawAngles(Sketch& sketch, Desk& desk) {
    Session& session = desk.session;
    const Pose pose = session.crafts().front()->formation().motion().at(session.clock().time_s());
    const GroundHit below = session.scene().place->ground->intersectStill({pose.position_m, {0.0, 0.0, -1.0}});
    nadir(sketch, desk, pose, below);
    Anchor anchor{below.point_m, below.up, nullptr};
    const std::optional<Picked>& pick = session.picked();
    if (pick && pick->why && pick->why->hit.meets != Meets::sky) anchor = {pick->why->hit.point_m, pick->why->hit.up, &*pick->why};
    if (anchor.why != nullptr || below.meets != Meets::sky) {
        // Without a pixel the view stays bare, unless angles were asked for: then the sun's are drawn at the nadir point.
        const bool tool = desk.open_tool >= 0 && toolTable()[static_cast<std::size_t>(desk.open_tool)].act == Act::tool_angles;
        if (anchor.why != nullptr) atThePoint(sketch, desk, anchor, anchor.why->sun);
        else if (tool || desk.angles.on != Angles().on) atThePoint(sketch, desk, anchor, session.sunNow());
        if (desk.angles.shows(AngleMark::sun_path)) path(sketch, desk, anchor.point);
    }
    ofTheInstrument(sketch, desk);
}

}  // namespace linefall
