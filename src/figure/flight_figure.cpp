#include "figure/flight_figure.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "figure/captions.h"
#include "figure/ground_view.h"
#include "figure/page.h"
#include "figure/world_marks.h"
#include "view/outline.h"
#include "view/platform_shape.h"

namespace linefall {

namespace {

constexpr double page_width = flight_view_width + 2.0 * page_margin;

/// The instant that is shown: that of the pixel, else where the clock stands, else the end.
double momentOf(const Scene& scene, const Formations& formations, const FigureRequest& request) {
    if (request.pixel) {
        const Formation& formation = *formations.at(static_cast<std::size_t>(request.pixel->instrument));
        return formation.manner().sweep_motion ? formation.instrument().lookTime_s(request.pixel->line, request.pixel->sample, 0.0)
                                               : formation.instrument().lineTime_s(request.pixel->line);
    }
    const Formation& first = *formations.front();
    return std::min(scene.showSettings().time_s.value_or(first.motion().duration_s()), first.motion().duration_s());
}

/// The line that an instrument gathers at an instant.
int lineAt(const Formation& formation, double time_s) { return std::clamp(formation.linesBy(time_s), 0, formation.lines() - 1); }

/// A platform so far above that the ground would be a speck with it is left out of the view.
bool showsPlatform(const Scene& scene, double height_m) {
    const HeightField& terrain = scene.place->ground->terrain();
    return height_m < 1.2 * std::max(terrain.east_m() - terrain.west_m(), terrain.north_m() - terrain.south_m());
}

Ink craftInk(const Page& page, int instrument) { return page.colours.craft[static_cast<std::size_t>(instrument % 2)]; }

struct Legend {
    Stroke stroke;
    std::string words;
};

class FlightDrawing {
public:
    FlightDrawing(Page& page, WorldMarks& marks, const Camera& camera, const Scene& scene, Formations& formations, const FigureRequest& request, double time_s)
        : page_(page), marks_(marks), camera_(camera), scene_(scene), formations_(formations), request_(request), time_s_(time_s) {}

    void swaths() {
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

    void nameSwath(int index, const SwathEdges& edges) {
        const std::optional<FieldPoint> edge = formations_[static_cast<std::size_t>(index)]->instrument().field(1.0, false);
        legend_.push_back({lineOf(index, 2.2), "swath of " + instrumentName(scene_, index) + (edge ? ", " + shortText(2.0 * edge->ground_distance_m, Kind::length, 3) + " at datum" : "")});
        const std::vector<Vec3>& side = index % 2 == 0 ? edges.port : edges.starboard;
        // The letter stands where the edge is seen and in view.
        for (std::size_t k = side.size(); k-- > 0;) {
            if (!marks_.inView(side[k]) || !marks_.visible(side[k])) continue;
            marks_.label(side[k], std::string(1, letterOf(index)), craftInk(page_, index), Weight::strong);
            break;
        }
    }

    void platform(const Pose& pose) {
        const GroundHit below = scene_.place->ground->intersectStill({pose.position_m, {0.0, 0.0, -1.0}});
        marks_.line({pose.position_m, below.point_m}, {page_.colours.ink, 1.2, {3.0, 3.0}, casing().faded(0.7), 1.0});
        marks_.dot(below.point_m, 2.5, page_.colours.ink);
        marks_.label(below.point_m, "nadir", page_.colours.ink, Weight::regular, true);
        const Vec3 middle = 0.5 * (pose.position_m + below.point_m);
        marks_.label(middle, shortText(pose.position_m.z, Kind::length, 4) + " above datum", page_.colours.ink);
    }

    void aeroplane(const Pose& pose) {
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

    /// The line on the ground that is being gathered, and the angle of the field.
    void field(const Pose& pose, int index) {
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

    /// The light of the pixel: sun to ground, ground to sensor.
    void light(const Why& why) {
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

    void northAndSun(const Plot& view, double seconds) {
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

    /// What each line is, under the picture.
    void legend() {
        const double column = 0.5 * (page_width - 2.0 * page_margin);
        const std::size_t rows = (legend_.size() + 1) / 2;
        for (std::size_t i = 0; i < legend_.size(); ++i) {
            const double x = page_margin + (i < rows ? 0.0 : column), y = page_.y + 19.0 * static_cast<double>(i % rows);
            page_.drawing.line({x, y - 4.0}, {x + 28.0, y - 4.0}, legend_[i].stroke);
            page_.text(x + 36.0, y, page_.type.fitted(legend_[i].words, small_size, Weight::regular, column - 46.0));
        }
        page_.y += 19.0 * static_cast<double>(rows) - 8.0;
    }

private:
    [[nodiscard]] Ink casing() const { return page_.colours.over; }
    [[nodiscard]] Stroke lineOf(int index, double width, bool cased = true) const {
        return {craftInk(page_, index), width, craftDash(index), cased ? std::optional<Ink>(casing().faded(0.85)) : std::nullopt, 1.3};
    }

    Page& page_;
    WorldMarks& marks_;
    Camera camera_;
    const Scene& scene_;
    Formations& formations_;
    const FigureRequest& request_;
    double time_s_;
    std::vector<Legend> legend_;
};

}  // namespace

Camera flightEye(const Scene& scene, const Formations& formations, const FigureRequest& request, double aspect) {
    if (request.eye) return *request.eye;
    const double time_s = momentOf(scene, formations, request);
    const Motion& motion = formations.front()->motion();
    const Sunlight sun = sunlight(sunKeys().read(scene.settings), scene.place->site, worldBands(), time_s);
    Camera camera;
    camera.elevation_rad = request.elevation_rad.value_or(radiansFromDegrees(22.0));
    const double across = radiansFromDegrees(58.0);
    const double one = motion.track_rad() + across, other = motion.track_rad() - across;
    camera.azimuth_rad = request.azimuth_rad.value_or(std::cos(one - sun.azimuth_rad) <= std::cos(other - sun.azimuth_rad) ? one : other);
    // The swath on both sides of the instant, as far as it is wide, and the platform above it.
    const Vec3 here = motion.positionAt(time_s);
    std::vector<Vec3> points;
    for (const auto& formation : formations) {
        const SwathEdges edges = swathEdges(*formation, formation->manner(), 40);
        const std::optional<FieldPoint> edge = formation->instrument().field(1.0, false);
        const double reach = std::max(500.0, edge ? 1.6 * edge->ground_distance_m : 1e9);
        for (const std::vector<Vec3>* side : {&edges.starboard, &edges.port}) {
            for (const Vec3& p : *side) {
                const double along = glm::dot(p - here, glm::normalize(motion.velocity_m_s()));
                if (std::abs(along) < reach && glm::length(p - here) < 60000.0) points.push_back(p);
            }
        }
    }
    if (showsPlatform(scene, here.z)) points.push_back(here + Vec3(0.0, 0.0, 0.05 * here.z));
    if (points.empty()) points.push_back({here.x, here.y, 0.0});
    camera.distance_m = 6000.0;
    camera = fitted(camera, points, aspect, 0.06);
    const Vec3 eye = camera.eye_m();
    const double floor = scene.place->ground->surfaceAt(eye.x, eye.y) + 15.0;
    if (eye.z < floor) camera.target_m.z += floor - eye.z;
    return camera;
}

Figure flightFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type, int threads, const Cancel* cancel,
                    const std::function<void(double)>& progress) {
    const double time_s = momentOf(scene, formations, request);
    const Formation& first = *formations.front();
    const Pose pose = first.motion().at(time_s);
    const bool shows = showsPlatform(scene, pose.position_m.z);
    const std::string place = scene.place->title.empty() ? scene.place->name : scene.place->title;
    std::string names;
    for (std::size_t i = 0; i < formations.size(); ++i) names += (i == 0 ? "" : i + 1 == formations.size() ? " and " : ", ") + instrumentName(scene, static_cast<int>(i));
    const Sunlight sun = sunlight(sunKeys().read(scene.settings), scene.place->site, worldBands(), time_s);

    Page page(type, request.night, page_width, "The flight: " + names + " over " + place,
              {flightWords(scene, first) + " · " + sunWords(sun) + " · " + shortText(time_s, Kind::time, 4) + " after the flight began"});
    page.y = std::ceil(page.y);
    const Plot view{page_margin, page.y, flight_view_width, flight_view_height};
    const Camera camera = flightEye(scene, formations, request, view.width / view.height);
    std::vector<std::shared_ptr<const Pixels>> versions;
    double all = 0.0, before = 0.0;
    for (const int scale : request.scales) all += scale * scale;
    for (const int scale : request.scales) {
        const auto share = [&, part = static_cast<double>(scale * scale)](double of_this) { progress((before + part * of_this) / all); };
        versions.push_back(std::make_shared<const Pixels>(groundView(scene, camera, static_cast<int>(std::lround(view.width)) * scale,
                                                                     static_cast<int>(std::lround(view.height)) * scale, time_s, threads, cancel,
                                                                     progress ? std::function<void(double)>(share) : nullptr)));
        before += scale * scale;
        if (versions.back()->values.empty()) return {};
    }
    page.drawing.marks.emplace_back(RasterPicture{view.x, view.y, view.width, view.height, versions});
    page.drawing.marks.emplace_back(ClipBegin{view.x, view.y, view.width, view.height});
    WorldMarks marks(page, view, camera, *scene.place->ground);
    FlightDrawing drawing(page, marks, camera, scene, formations, request, time_s);
    drawing.swaths();
    if (shows) drawing.platform(pose);
    for (int i = static_cast<int>(formations.size()) - 1; i >= 0; --i) drawing.field(pose, i);
    std::string pixel_words;
    if (request.pixel) {
        const Why why = formations.at(static_cast<std::size_t>(request.pixel->instrument))->why(request.pixel->line, request.pixel->sample);
        drawing.light(why);
        pixel_words = "The light of line " + std::to_string(why.line) + ", sample " + std::to_string(why.sample) + " is drawn: ";
        if (why.hit.meets == Meets::sky) pixel_words += "its line of sight meets no ground.";
        else {
            pixel_words += why.sun.up() ? std::string("sunlight arrives ") + degreesText(why.sun_incidence_rad) + " from the zenith" + (why.blocked_at_m ? " and is blocked on its way" : "") + ", " : std::string();
            pixel_words += "the line of sight leaves " + degreesText(why.view_incidence_rad) + " from the zenith and is " + shortText(why.slant_range_m, Kind::length, 4) + " long.";
        }
    }
    if (shows) drawing.aeroplane(pose);
    drawing.northAndSun(view, time_s);
    marks.labels();
    if (!shows || !marks.inView(pose.position_m)) {
        page.plate({view.x + 0.5 * view.width, view.y + 20.0}, "the platform is outside this view, " + shortText(pose.position_m.z, Kind::length, 4) + " above datum", page.colours.ink, Anchor::middle);
    }
    page.drawing.marks.emplace_back(ClipEnd{});
    page.drawing.frame(view.x, view.y, view.width, view.height, page.hair());
    page.y = view.y + view.height + 24.0;
    drawing.legend();
    page.foot();

    page.drawing.description = "A perspective view of " + place + ", looking " + compassWord(camera.azimuth_rad) + " and " + degreesText(camera.elevation_rad, 2) + " down, " +
                               (shows ? "with the platform above the ground" : "without the platform, which is far above") + ", the edges of " + (formations.size() > 1 ? "the swaths of " : "the swath of ") + names +
                               " as lines on the ground, and the line that is being gathered across them. " + pixel_words + (pixel_words.empty() ? "" : " ") + "The arrow in the lower right corner points north.";
    const std::string caption = "The flight of " + names + " over " + place + ", " + flightWords(scene, first) + "; " + sunWords(sun) + ", " + shortText(time_s, Kind::time, 4) +
                                " after the flight began. The ground is lit by the same model that forms the pictures, seen through the air from the eye; lines that the land hides are left out, the platform is drawn larger than it is. " +
                                pixel_words + (pixel_words.empty() ? "" : " ") + closingWords(scene);
    return {"flight", FigureKind::flight, std::move(page.drawing), caption, ""};
}

}  // namespace linefall
