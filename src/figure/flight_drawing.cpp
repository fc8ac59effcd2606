#include "figure/flight_drawing.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "figure/captions.h"
#include "figure/ground_view.h"
#include "view/platform_shape.h"

namespace linefall {

namespace {

/// The line that an instrument gathers at an instant.
int lineAt(const Formation& formation, double time_s) { return std::clamp(formation.linesBy(time_s), 0, formation.lines() - 1); }

Ink craftInk(const Page& page, int instrument) { return page.colours.craft[static_cast<std::size_t>(instrument % 2)]; }

}  // namespace

Stroke FlightDrawing::lineOf(int index, double width, bool cased) const {
    return {craftInk(page_, index), width, craftDash(index), cased ? std::optional<Ink>(casing().faded(0.85)) : std::nullopt, 1.3};
}

void FlightDrawing::swaths() {
    // Casings first: where two swaths end at the same place, A's line still shows between B's dashes.
    for (const bool under : {true, false}) {
        for (std::size_t i = 0; i < formations_.size(); ++i) {
            const Formation& formation = *formations_[i];
            const SwathEdges edges = swathEdges(formation, formation.manner(), 160);
            const Stroke stroke = under ? Stroke{casing().faded(0.85), 4.8} : lineOf(static_cast<int>(i), 2.2, false);
            marks_.line(edges.starboard, stroke);
            marks_.line(edges.port, stroke);
            if (!under) nameSwath(static_cast<int>(i), edges);
        }
    }
}

void FlightDrawing::nameSwath(int index, const SwathEdges& edges) {
    const std::optional<FieldPoint> edge = formations_[static_cast<std::size_t>(index)]->instrument().field(1.0, false);
    legend_.push_back({lineOf(index, 2.2), "swath of " + instrumentName(scene_, index) + (edge && !request_.plain ? ", " + shortText(2.0 * edge->ground_distance_m, Kind::length, 3) + " at datum" : "")});
    const std::vector<Vec3>& side = index % 2 == 0 ? edges.port : edges.starboard;
    // The letter stands where the edge is seen and in view.
    for (std::size_t k = side.size(); k-- > 0;) {
        if (!marks_.inView(side[k]) || !marks_.visible(side[k])) continue;
        marks_.label(side[k], std::string(1, letterOf(index)), craftInk(page_, index), Weight::strong);
        break;
    }
}

void FlightDrawing::platform(const Pose& pose) {
    const GroundHit below = scene_.place->ground->intersectStill({pose.position_m, {0.0, 0.0, -1.0}});
    marks_.line({pose.position_m, below.point_m}, {page_.colours.ink, 1.2, {3.0, 3.0}, casing().faded(0.7), 1.0});
    marks_.dot(below.point_m, 2.5, page_.colours.ink);
    marks_.label(below.point_m, "nadir", page_.colours.ink, Weight::regular, true);
    const Vec3 middle = 0.5 * (pose.position_m + below.point_m);
    marks_.label(middle, shortText(pose.position_m.z, Kind::length, 4) + " above datum", page_.colours.ink);
}

void FlightDrawing::aeroplane(const Pose& pose) {
    const Ink paper = over_light, ink = Ink::hex(0x1F2328);
    for (const bool under : {true, false}) {
        for (const PlatformFace& face : platformFaces(camera_, pose, 0.11)) {
            std::vector<Vec2> points;
            for (const Vec3& corner : face.corners) {
                if (const std::optional<Vec2> p = marks_.at(corner)) points.push_back(*p);
            }
            const auto mix = [&](int a, int b) { return static_cast<std::uint8_t>(std::lround(a + face.shade * (b - a))); };
            if (under) page_.drawing.lines(points, {paper, 3.0}, true);
            else page_.drawing.area(points, {mix(ink.red, paper.red), mix(ink.green, paper.green), mix(ink.blue, paper.blue), 1.0});
        }
    }
}

void FlightDrawing::field(const Pose& pose, int index) {
    const Formation& formation = *formations_[static_cast<std::size_t>(index)];
    const Instrument& instrument = formation.instrument();
    const Stroke stroke = lineOf(index, 1.3);
    std::vector<Vec3> ground;
    if (instrument.derived().line_period_s <= 0.0) {  // a frame: its outline on the ground
        const int last = formation.lines() - 1, side = formation.samples() - 1;
        const std::pair<int, int> corners[] = {{0, 0}, {0, side}, {last, side}, {last, 0}, {0, 0}};
        for (std::size_t c = 0; c + 1 < std::size(corners); ++c) {
            for (int k = 0; k < 24; ++k) {
                const double share = k / 24.0;
                ground.push_back(groundOf(formation, formation.manner(), static_cast<int>(std::lround(corners[c].first + share * (corners[c + 1].first - corners[c].first))),
                                          corners[c].second + share * (corners[c + 1].second - corners[c].second)));
            }
        }
        const Vec3 from = formation.motion().positionAt(instrument.lineTime_s(0));
        for (int c = 0; c < 4; ++c) marks_.line({from, ground[static_cast<std::size_t>(24 * c)]}, stroke);
        ground.push_back(ground.front());
        marks_.line(ground, lineOf(index, 2.4));
        legend_.push_back({lineOf(index, 2.4), "the frame of " + std::string(1, letterOf(index)) + " on the ground, exposed at " + shortText(instrument.lineTime_s(0), Kind::time, 3)});
        return;
    }
    ground = lineOnGround(formation, formation.manner(), lineAt(formation, time_s_), 97);
    marks_.line(ground, lineOf(index, 2.8));
    legend_.push_back({lineOf(index, 2.8), "the line that " + std::string(1, letterOf(index)) + " gathers"});
    if (!formation.manner().perspective) return;  // the lines of sight are parallel: they do not meet at the platform
    marks_.line({pose.position_m, ground.front()}, stroke);
    marks_.line({pose.position_m, ground.back()}, stroke);
    if (index != 0) return;
    const double radius = 0.16 * std::min(glm::length(ground.front() - pose.position_m), glm::length(ground.back() - pose.position_m));
    marks_.arc(pose.position_m, glm::normalize(ground.front() - pose.position_m), glm::normalize(ground.back() - pose.position_m), radius, {page_.colours.ink, 1.4, {}, casing().faded(0.8), 1.2},
               "FOV " + degreesText(instrument.derived().fov_rad));
}

void FlightDrawing::light(const Why& why) {
    const int index = request_.pixel->instrument;
    const Vec3 sensor = why.pose.position_m, point = why.hit.point_m, sunward = why.sun.towards;
    const Stroke own = lineOf(index, 2.4);
    if (why.hit.meets == Meets::sky) {
        marks_.line({sensor, sensor + 20000.0 * why.look}, own);
        return;
    }
    const Formation& formation = *formations_[static_cast<std::size_t>(index)];
    std::vector<Vec3> cell = footprint(formation, formation.manner(), request_.pixel->line, request_.pixel->sample);
    cell.push_back(cell.front());
    const Stroke sunlight{page_.colours.sun, 2.6, {}, over_dark, 1.2}, lost{page_.colours.quiet, 1.8, {4.0, 4.0}, casing(), 1.2};
    const double reach = 0.36 * camera_.distance_m;
    const double radius = 0.10 * camera_.distance_m;
    if (why.sun.up()) {
        const bool away = why.local_incidence_rad >= 0.5 * constants::pi;
        const Vec3 end = point + reach * sunward;
        if (why.blocked_at_m) {
            marks_.line({*why.blocked_at_m + reach * sunward, *why.blocked_at_m}, sunlight);
            marks_.line({*why.blocked_at_m, point}, lost);
            marks_.cross(*why.blocked_at_m, page_.colours.wrong);
            marks_.label(*why.blocked_at_m, "the beam is blocked here", page_.colours.wrong);
        } else {
            marks_.line({end, point}, away ? lost : sunlight);
            if (away) marks_.label(point, "faces away from the sun", page_.colours.wrong);
        }
        const bool lost_to_it = away && !why.blocked_at_m;
        legend_.push_back({lost_to_it ? lost : sunlight, (lost_to_it ? "towards the sun, " : why.blocked_at_m ? "sunlight that is blocked, from " : "sunlight to the pixel, from ") + degreesText(why.sun.elevation_rad) + " up"});
        marks_.label(point + 0.8 * reach * sunward, "sun " + degreesText(why.sun.elevation_rad) + " up", page_.colours.ink);
    }
    marks_.line({point, sensor}, own);
    legend_.push_back({own, "line of sight to line " + std::to_string(why.line) + ", sample " + std::to_string(why.sample) + " of " + letterOf(index) + ", " + shortText(why.slant_range_m, Kind::length, 4)});
    marks_.line(cell, lineOf(index, 1.6));
    marks_.line({point, point + 1.45 * radius * why.hit.up}, {page_.colours.ink, 1.2, {4.0, 3.0}, casing().faded(0.8), 1.0});
    marks_.label(point + 1.45 * radius * why.hit.up, "zenith", page_.colours.ink);
    const Stroke arc{page_.colours.ink, 1.4, {}, casing().faded(0.8), 1.2};
    if (why.sun.up()) marks_.arc(point, why.hit.up, sunward, radius, arc, "sun " + degreesText(why.sun_incidence_rad) + " from the zenith");
    marks_.arc(point, why.hit.up, glm::normalize(sensor - point), 0.72 * radius, arc, "view " + degreesText(why.view_incidence_rad));
    marks_.dot(point, 4.0, craftInk(page_, index));
}

void FlightDrawing::northAndSun(const Plot& view, double seconds) {
    const Vec3 f = camera_.forward(), r = camera_.right(), u = camera_.up();
    // North as the eye sees it: the level direction, projected.
    const Vec3 north{0.0, 1.0, 0.0};
    Vec2 n{glm::dot(north, r), -glm::dot(north, u)};
    const double length = glm::length(n);
    const Vec2 c{view.x + view.width - 42.0, view.y + view.height - 42.0};
    page_.drawing.marks.emplace_back(Disc{c, 34.0, std::nullopt, page_.colours.plate.faded(0.85)});
    if (length > 1e-6) {
        const Vec2 way = n / length;
        const double reach = 8.0 + 10.0 * length;
        page_.arrow(c - reach * way, c + (reach - 4.0) * way, page_.colours.ink);
        page_.text(c.x + (reach + 6.0) * way.x, c.y + (reach + 6.0) * way.y + 4.0, "N", Anchor::middle, small_size, Weight::strong);
    }
    const Sunlight sun = sunlight(sunKeys().read(scene_.settings), scene_.place->site, worldBands(), seconds);
    const Vec3 far = camera_.eye_m() + 80000.0 * sun.towards;
    if (sun.up() && glm::dot(sun.towards, f) > 0.0 && marks_.inView(far) && marks_.visible(far)) {
        const Vec2 p = *marks_.at(far);
        page_.drawing.marks.emplace_back(Disc{p, 16.0, std::nullopt, Ink::hex(0xFFECAA).faded(0.5)});
        page_.drawing.marks.emplace_back(Disc{p, 8.0, std::nullopt, Ink::hex(0xFFFAE1)});
        marks_.label(far, "sun", page_.colours.ink);
    }
}

void FlightDrawing::legend() {
    const double column = 0.5 * (flight_page_width - 2.0 * page_margin);
    const std::size_t rows = (legend_.size() + 1) / 2;
    for (std::size_t i = 0; i < legend_.size(); ++i) {
        const double x = page_margin + (i < rows ? 0.0 : column), y = page_.y + 19.0 * static_cast<double>(i % rows);
        page_.drawing.line({x, y - 4.0}, {x + 28.0, y - 4.0}, legend_[i].stroke);
        page_.text(x + 36.0, y, page_.type.fitted(legend_[i].words, small_size, Weight::regular, column - 46.0));
    }
    page_.y += 19.0 * static_cast<double>(rows) - 8.0;
}

}  // namespace linefall
