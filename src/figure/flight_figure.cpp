#include "figure/flight_figure.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "figure/captions.h"
#include "figure/flight_drawing.h"
#include "figure/ground_view.h"
#include "figure/page.h"
#include "figure/world_marks.h"
#include "view/outline.h"

namespace linefall {

namespace {

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

/// A platform so far above that the ground would be a speck with it is left out of the view.
bool showsPlatform(const Scene& scene, double height_m) {
    const HeightField& terrain = scene.place->ground->terrain();
    return height_m < 1.2 * std::max(terrain.east_m() - terrain.west_m(), terrain.north_m() - terrain.south_m());
}

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

    Page page(type, request.night, flight_page_width, "The flight: " + names + " over " + place,
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
