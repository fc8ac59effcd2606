// The flight in perspective: its light is the core's, its lines stop where land hides them.

#include "figure/flight_figure.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "figure/ground_view.h"
#include "figure/svg.h"
#include "figure/world_marks.h"
#include "support/figures.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Camera fromAbove(double height_m, double elevation_deg = 89.9) {
    Camera camera;
    camera.elevation_rad = radiansFromDegrees(elevation_deg);
    camera.distance_m = height_m;
    return camera;
}

std::size_t linesOf(const Drawing& drawing, Ink ink) {
    std::size_t n = 0;
    for (const Mark& mark : drawing.marks) {
        const auto* contour = std::get_if<Contour>(&mark);
        n += contour != nullptr && contour->stroke && contour->stroke->ink == ink ? 1 : 0;
    }
    return n;
}

}  // namespace

TEST_CASE("level ground without air is shown as bright as Lambert's law makes it") {
    const Scene scene = sceneOf(written(levelPlace()), oneBand("push-broom"), {"air.on=false", "sun.azimuth=70 deg", "sun.elevation=33 deg"});
    const Pixels pixels = groundView(scene, fromAbove(900.0), 40, 30, 0.0, 1);
    const WorldLight light = worldLight(scene);
    RadianceRgb wanted{};
    // 20 % of the beam, spread over the half sphere: rho E0 sin(elevation) / pi.
    for (std::size_t b = 0; b < 3; ++b) wanted[b] = 0.2 * light.sun.irradiance_W_m2_um[b] * std::sin(radiansFromDegrees(33.0)) / constants::pi;
    const Colour colour = colourOf(wanted, light.white);
    int wrong = 0;
    for (std::size_t i = 0; i < pixels.values.size(); ++i) wrong += std::abs(static_cast<int>(pixels.values[i]) - static_cast<int>(colour[i % 3])) > 1 ? 1 : 0;
    CHECK(wrong == 0);
}

TEST_CASE("through the air the eye gets what an instrument in its place would get") {
    // The same ground point, seen by the walk of an instrument in one of the world's bands, and by the eye of the figure.
    const std::string green = written("kind = \"push-broom\"\nsamples = 9\n\n[[band]]\nname = \"green\"\nfrom = \"520 nm\"\nto = \"590 nm\"\nedge = \"10 nm\"\nquantum_efficiency = \"50 %\"\n");
    const Scene scene = sceneOf("slopes", green, {"flight.height=4 km", "flight.length=100 m", "air.aerosol_depth=0.3"});
    Formation formation(scene, 0);
    for (const int sample : {0, 4, 7}) {
        const Why why = formation.why(1, sample);
        const LitGround light(scene, worldBands());
        const Ray ray{why.pose.position_m, why.look};
        const GroundHit hit = scene.place->ground->intersect(ray);
        RadianceRgb seen{};
        radianceSeen(light, std::span(&ray, 1), std::span(&hit, 1), std::span(&seen, 1));
        CHECK(seen[1] == Approx(why.trace.value("L", 0)).epsilon(2e-5));  // the walk's heights and air masses are single precision and tables
    }
}

TEST_CASE("the view is the same for any number of threads, and nothing comes back when it is cancelled") {
    const Scene scene = sceneOf("hill-and-hollow", "push-broom", {"flight.length=300 m"});
    Camera camera = fromAbove(3000.0, 20.0);
    const Pixels one = groundView(scene, camera, 90, 60, 0.0, 1), three = groundView(scene, camera, 90, 60, 0.0, 3);
    CHECK(one.values == three.values);
    const Cancel cancel{true};
    CHECK(groundView(scene, camera, 90, 60, 0.0, 1, &cancel).values.empty());
}

TEST_CASE("a line is left out where land stands before it") {
    // A wall 400 m wide and 100 m high; behind it, seen from the south and low, a line from west to east.
    const std::string wall = "[[object]]\nshape = \"box\"\neast = \"0 m\"\nnorth = \"0 m\"\nlength = \"20 m\"\nwidth = \"400 m\"\nheight = \"100 m\"\nmaterial = \"white\"\n";
    const Scene scene = sceneOf(written(levelPlace(wall)), oneBand("push-broom"));
    Camera camera;
    camera.distance_m = 900.0;
    camera.elevation_rad = radiansFromDegrees(4.0);
    const Type type;
    const auto hidden = [&](double north, double up) {
        Page page(type, false, 800.0, "t", {});
        const Plot view{0.0, 0.0, 800.0, 500.0};
        WorldMarks marks(page, view, camera, *scene.place->ground);
        const Ink ink = Ink::hex(0x112233);
        marks.line({{-300.0, north, up}, {300.0, north, up}}, {ink, 1.0});
        double shown = 0.0;
        for (const Mark& mark : page.drawing.marks) {
            const auto* contour = std::get_if<Contour>(&mark);
            if (contour == nullptr || !contour->stroke || !(contour->stroke->ink == ink)) continue;
            for (std::size_t i = 0; i + 1 < contour->points.size(); ++i) shown += glm::length(contour->points[i + 1] - contour->points[i]);
        }
        const double whole = glm::length(*marks.at({300.0, north, up}) - *marks.at({-300.0, north, up}));
        return 1.0 - shown / whole;
    };
    CHECK(hidden(-50.0, 5.0) < 0.02);                       // before the wall
    CHECK(hidden(60.0, 200.0) < 0.02);                      // over it
    // Behind it: the wall's 400 m, seen from 900 m less its own depth, hide a little more of the line than their own width.
    const double eye_north = -900.0 * std::cos(radiansFromDegrees(4.0));
    CHECK(hidden(60.0, 5.0) == Approx(400.0 * (60.0 - eye_north) / (-10.0 - eye_north) / 600.0).margin(0.02));
}

TEST_CASE("the eye sees the platform and the swath, wherever the flight goes") {
    for (const char* heading : {"0 deg", "75 deg", "180 deg", "310 deg"}) {
        const Scene scene = sceneOf("slopes", "push-broom", {std::string("flight.heading=") + heading, "instrument.samples=100", "flight.length=2 km", "flight.height=2 km"});
        const Formations formations = formationsOf(scene);
        FigureRequest request;
        request.pixel = ShownPixel{0, formations[0]->lines() / 2, 50};
        const Camera camera = flightEye(scene, formations, request, 1.5);
        const Vec3 platform = formations[0]->motion().positionAt(formations[0]->instrument().lineTime_s(request.pixel->line));
        for (const Vec3& p : {platform, Vec3(platform.x, platform.y, 0.0)}) {
            const std::optional<ScreenPoint> s = camera.project(p, 750.0, 500.0);
            REQUIRE(s);
            CHECK(s->x > 20.0);
            CHECK(s->x < 730.0);
            CHECK(s->y > 10.0);
            CHECK(s->y < 490.0);
        }
    }
    // An eye that is asked for is taken as it is.
    const Scene scene = sceneOf("slopes", "push-broom", {"flight.length=300 m"});
    FigureRequest request;
    request.eye = fromAbove(1234.0, 30.0);
    CHECK(flightEye(scene, formationsOf(scene), request, 1.5) == *request.eye);
}

TEST_CASE("the flight figure draws the light and says its angles") {
    SceneRequest asked;
    asked.place = "slopes";
    asked.instruments = {"push-broom", "frame-camera"};
    asked.sets = {"A.instrument.samples=100", "B.instrument.samples=60", "B.instrument.rows=60", "flight.length=600 m", "sun.elevation=35 deg"};
    const Scene scene = loadScene(asked);
    Formations formations = formationsOf(scene);
    FigureRequest request;
    request.kinds = {FigureKind::flight};
    request.scales = {1};
    request.pixel = ShownPixel{0, 20, 15};
    const Type type;
    const Figure figure = makeFigures(scene, formations, request, type).at(0);
    const std::string svg = svgText(figure.drawing);
    CHECK(xmlFaults(written(svg, ".svg")) == "");
    const Why why = formations[0]->why(20, 15);
    for (const std::string& words : {std::string("sun 55° from the zenith"), std::string("FOV "), std::string("line of sight to line 20, sample 15 of A"), std::string("nadir"), std::string("zenith"), std::string("swath of Frame camera (B)")}) {
        INFO(words);
        CHECK(svg.find(words) != std::string::npos);
    }
    CHECK(why.sun_incidence_rad == Approx(radiansFromDegrees(55.0)).margin(1e-6));
    CHECK(linesOf(figure.drawing, pagePalette(false).sun) > 0);
    // Without a pixel there is no light, and still a figure.
    request.pixel.reset();
    const Figure bare_figure = makeFigures(scene, formations, request, type).at(0);
    CHECK(svgText(bare_figure.drawing).find("line of sight to") == std::string::npos);
    // A platform in orbit is said to be outside.
    const Scene orbit = sceneOf("slopes", "push-broom", {"flight.height=700 km", "flight.speed=6.8 km/s", "instrument.focal_length=5 m", "instrument.samples=100", "flight.length=300 m"});
    Formations high = formationsOf(orbit);
    request.pixel = ShownPixel{0, 3, 15};
    CHECK(svgText(makeFigures(orbit, high, request, type).at(0).drawing).find("the platform is outside this view, 700 km above datum") != std::string::npos);
}
