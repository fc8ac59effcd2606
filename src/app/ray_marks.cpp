#include "app/ray_marks.h"

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/sketch.h"
#include "base/constants.h"

namespace linefall {

namespace {

/// Which part of the ray a stop speaks of.
std::string legOf(int stop) {
    switch (stop) {
        case 0: case 1: return "sun to ground";
        case 2: return "ground";
        case 3: case 4: return "ground to sensor";
        case 5: case 6: case 7: return "sensor";
        default: return "";
    }
}

/// A piece of the surface where the light meets it, with its normal.
void facet(const Sketch& sketch, const GroundHit& hit, ImU32 colour, bool lit) {
    const double half = (lit ? 0.032 : 0.018) * sketch.camera().distance_m;
    const Vec3 along = glm::normalize(hit.north - glm::dot(hit.north, hit.normal) * hit.normal + 1e-9 * glm::cross(hit.up, hit.normal));
    const Vec3 across = glm::cross(hit.normal, along);
    std::vector<Vec3> corners;
    for (const auto& [a, b] : {std::pair{-1.0, -1.0}, std::pair{1.0, -1.0}, std::pair{1.0, 1.0}, std::pair{-1.0, 1.0}, std::pair{-1.0, -1.0}}) {
        corners.push_back(hit.point_m + half * (a * along + b * across));
    }
    sketch.patch(corners, faded(colour, lit ? 0.40f : 0.2f));
    sketch.line(corners, colour, lit ? 2.0f : 1.2f);
    const Vec3 tip = hit.point_m + (lit ? 2.6 : 2.0) * half * hit.normal;
    sketch.line({hit.point_m, tip}, sketch.ui().p.ink, 2.0f);
    sketch.head(hit.point_m, tip, 1.0, sketch.ui().p.ink);
}

/// Sun to ground; says in words what became of the beam.
void incoming(Sketch& sketch, Desk& desk, const Why& why, bool lit, bool dim, RayDrawn& drawn) {
    Ui& ui = desk.ui;
    const Vec3 point = why.hit.point_m, sunward = why.sun.towards;
    const double reach = 0.42 * sketch.camera().distance_m;
    const float width = lit ? 5.0f : 3.0f;
    const ImU32 sun = dim ? faded(ui.p.sun, 0.6f) : ui.p.sun;
    drawn.sun = beamOf(why, desk.session.crafts()[static_cast<std::size_t>(desk.session.picked()->craft)]->formation());
    if (drawn.sun == "down") {
        sketch.label(point, 12.0f, 14.0f, ui.p.ink, "the sun is below the horizon");
    } else if (drawn.sun == "away") {
        sketch.line({point + reach * sunward, point}, ui.p.quiet, 2.0f, 4.0f);
        sketch.label(point, 12.0f, 14.0f, ui.p.wrong, "faces away from the sun");
    } else if (drawn.sun == "blocked") {
        drawn.blocked_by = why.blocked_by;
        const Vec3 block = *why.blocked_at_m, from = block + reach * sunward;
        sketch.line({from, block}, sun, width);
        sketch.head(from, block, 0.55, ui.p.sun);
        sketch.line({block, point}, ui.p.quiet, 2.0f, 4.0f);
        sketch.cross(block, ui.p.wrong);
        sketch.label(block, 12.0f, -20.0f, ui.p.wrong, "blocked by " + why.blocked_by);
    } else {
        const Vec3 from = point + reach * sunward;
        sketch.line({from, point}, sun, width);
        sketch.head(from, point, 0.55, ui.p.sun);
    }
}

/// The same ground as another instrument sees it.
void linked(const Sketch& sketch, Desk& desk, const Picked& pick) {
    for (std::size_t i = 0; i < pick.linked.size(); ++i) {
        if (!pick.linked[i] || !desk.session.crafts()[i]->formation().ready(pick.linked[i]->pixel.line)) continue;
        const Pixel pixel = pick.linked[i]->pixel;
        const Formation& other = desk.session.crafts()[i]->formation();
        const Ray ray = lookRay(other.instrument(), other.motion(), Offset{}, desk.session.crafts()[i]->manner(), pixel.line, pixel.sample);
        sketch.line({groundOf(other, desk.session.crafts()[i]->manner(), pixel.line, pixel.sample), ray.origin_m}, colourOf(desk, static_cast<int>(i)), 1.4f, 5.0f);
    }
}

}  // namespace

std::string beamOf(const Why& why, const Formation& formation) {
    const auto& effects = formation.lightPath().effects;
    if (why.hit.meets == Meets::sky) return "sky";
    if (!why.sun.up()) return "down";
    // As the walk takes it: a surface that faces away has no beam by its slope and by its own shadow; nothing else blocks but shadow.
    if (why.local_incidence_rad >= 0.5 * constants::pi && (effects.slope_shading || effects.cast_shadow)) return "away";
    return why.blocked_at_m && effects.cast_shadow ? "blocked" : "free";
}

RayDrawn drawRay(Sketch& sketch, Desk& desk) {
    RayDrawn drawn;
    const std::optional<Picked>& pick = desk.session.picked();
    if (!pick || !pick->why) return drawn;
    const Why& why = *pick->why;
    const ImU32 own = colourOf(desk, pick->craft);
    const Vec3 sensor = why.sensor_m;
    drawn.lit = legOf(desk.open_stop);
    if (why.hit.meets == Meets::sky) {
        drawn.sun = "sky";
        const Vec3 end = sensor + 20000.0 * why.look;
        sketch.line({end, sensor}, own, 2.0f, dashOf(pick->craft));
        sketch.label(sensor, 14.0f, 16.0f, desk.ui.p.ink, "looks past the ground into the sky");
        return drawn;
    }
    const Vec3 point = why.hit.point_m;
    // Further looks of the same sample, faint.
    constexpr std::size_t most_looks = 48;
    if (why.looks.size() > 1) {
        const std::size_t step = (why.looks.size() + most_looks - 1) / most_looks;
        for (std::size_t k = 0; k < why.looks.size(); k += step) {
            if (why.looks[k].meets == Meets::sky) continue;
            sketch.faintLine(why.looks[k].point_m, why.looks[k].sensor_m, faded(own, 0.35f));
            sketch.dot(why.looks[k].point_m, 1.5f, own);
            ++drawn.looks;
        }
    }
    const bool open = !drawn.lit.empty();
    incoming(sketch, desk, why, drawn.lit == "sun to ground", open && drawn.lit != "sun to ground", drawn);
    const bool up = drawn.lit == "ground to sensor";
    sketch.line({point, sensor}, open && !up ? faded(own, 0.6f) : own, up ? 4.6f : 2.6f, dashOf(pick->craft));
    sketch.head(point, sensor, 0.5, own);
    Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(pick->craft)];
    std::vector<Vec3> cell = footprint(craft.formation(), craft.manner(), pick->pixel.line, pick->pixel.sample);
    cell.push_back(cell.front());
    sketch.line(cell, own, 2.0f);
    if (drawn.lit == "ground") facet(sketch, why.hit, desk.ui.p.sun, true);
    if (drawn.lit == "sensor") sketch.ring(sensor, 20.0f, own);
    sketch.dot(sensor, 3.5f, own);
    // The platform has flown on since, or has not come there yet.
    const Vec3 now = craft.formation().motion().positionAt(desk.session.clock().time_s());
    if (glm::length(now - why.pose.position_m) > 0.02 * sketch.camera().distance_m) {
        sketch.label(sensor, 10.0f, -8.0f, own, "looked from here at " + shortText(why.time_s, Kind::time, 4));
    }
    sketch.dot(point, 4.0f, own);
    linked(sketch, desk, *pick);
    return drawn;
}

}  // namespace linefall
