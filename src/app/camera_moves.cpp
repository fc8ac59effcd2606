// How the flight is looked at: four kinds of view, turned and zoomed by the user.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "base/angle.h"

namespace linefall {

Camera cameraFor(const Desk& desk, double aspect) {
    const FlightView& view = desk.view;
    const Session& session = desk.session;
    const Formation& formation = session.crafts().front()->formation();
    const HeightField& terrain = session.scene().place->ground->terrain();
    const double width = terrain.east_m() - terrain.west_m();
    const Motion& motion = formation.motion();
    const Vec3 platform = motion.positionAt(session.clock().time_s());
    const double height = motion.height_m();
    Camera camera;
    switch (view.kind) {
        case ViewKind::island: {
            // Both the land and a platform near it; one far above stands beyond the upper edge.
            camera.azimuth_rad = radiansFromDegrees(20.0);
            camera.elevation_rad = radiansFromDegrees(17.0);
            std::vector<Vec3> points;
            for (int i = 0; i < 16; ++i) {
                const double a = i * constants::pi / 8.0;
                points.push_back(0.42 * width * Vec3(std::sin(a), std::cos(a), 0.0));
            }
            const double top = std::min(height, 1.5 * width);
            for (const double share : {0.0, 1.0}) {
                Vec3 end = motion.positionAt(share * motion.duration_s());
                const double off = std::max(std::abs(end.x), std::abs(end.y));
                if (off > 0.6 * width) end *= 0.6 * width / off;
                points.push_back({end.x, end.y, top + 0.03 * width});
            }
            camera = fitted(camera, points, aspect, 0.05);
            break;
        }
        case ViewKind::chase:
            // From behind, over the platform, with the ground ahead and the horizon.
            camera.azimuth_rad = motion.track_rad() - radiansFromDegrees(14.0);
            camera.elevation_rad = radiansFromDegrees(17.0);
            camera.distance_m = std::clamp(1.25 * height, 300.0, 9000.0);
            camera.target_m = platform + Vec3(0.0, 0.0, -0.34 * std::min(height, 7000.0));
            break;
        case ViewKind::side: {
            const double shown = std::min(height, 9000.0);
            camera.target_m = {platform.x, platform.y, platform.z - 0.5 * shown};
            camera.distance_m = std::clamp(2.1 * shown, 600.0, 30000.0);
            camera.azimuth_rad = motion.track_rad();
            camera.elevation_rad = radiansFromDegrees(7.0);
            break;
        }
        case ViewKind::top:
            camera.target_m = {0.0, 0.0, 0.0};
            camera.distance_m = 1.28 * width;
            camera.azimuth_rad = 0.0;
            camera.elevation_rad = radiansFromDegrees(89.5);
            break;
    }
    camera.azimuth_rad += view.turn_rad;
    camera.elevation_rad = std::clamp(camera.elevation_rad + view.rise_rad, radiansFromDegrees(1.5), radiansFromDegrees(89.5));
    camera.distance_m = std::clamp(camera.distance_m * view.zoom, 60.0, 4e5);
    // The eye stays above the ground.
    const Vec3 eye = camera.eye_m();
    const double floor = session.scene().place->ground->surfaceAt(eye.x, eye.y) + 15.0;
    if (eye.z < floor) camera.target_m.z += floor - eye.z;
    return camera;
}

void moveCamera(Desk& desk) {
    if (!desk.session.loaded()) return;
    FlightView& view = desk.view;
    Camera camera = cameraFor(desk, desk.flight_place.h > 0 ? static_cast<double>(desk.flight_place.w / desk.flight_place.h) : 1.4);
    if (desk.reduced_motion) view.change = 1.0;
    if (view.change < 1.0) {
        view.change = std::min(1.0, view.change + desk.seconds / 0.7);
        const double smooth = view.change * view.change * (3.0 - 2.0 * view.change);
        camera = blend(view.from, camera, smooth);
        desk.animating = true;
    }
    view.still_s = camera == view.camera ? view.still_s + desk.seconds : 0.0;
    view.camera = camera;
}

}  // namespace linefall
