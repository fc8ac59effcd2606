#include "app/angles.h"

#include <cmath>

#include "app/desk.h"
#include "base/angle.h"

namespace linefall {

const std::array<AngleRow, angle_count>& angleTable() {
    static const std::array<AngleRow, angle_count> table{{
        {"nadir", "nadir line", "straight down from the platform", true},
        {"zenith", "zenith line", "straight up from the ground point", true},
        {"solar-zenith", "solar zenith angle", "between the zenith and the sun", true},
        {"elevation", "solar elevation", "of the sun above the level horizon", false},
        {"view", "view incidence", "between the zenith and the way to the sensor, at the picked pixel", true},
        {"local", "local incidence", "between the surface's normal and the sun, at the picked pixel", false},
        {"ifov", "IFOV", "the angle that one detector sees", false},
        {"fov", "FOV", "the angle that a whole line sees", false},
        {"swath", "swath", "how wide a strip of ground a line covers", false},
        {"sun-path", "sun's path", "where the sun stands in the course of the day", false},
    }};
    return table;
}

Angles::Angles() {
    for (std::size_t i = 0; i < angle_count; ++i) on[i] = angleTable()[i].standard;
}

Vec3 towardsOf(double azimuth_rad, double elevation_rad) {
    return {std::cos(elevation_rad) * std::sin(azimuth_rad), std::cos(elevation_rad) * std::cos(azimuth_rad), std::sin(elevation_rad)};
}

PathOf pathOf(const Desk& desk) {
    const Scene& scene = desk.session.scene();
    PathOf of{{2026, 6, 21}, scene.place->site.latitude_rad, scene.place->site.longitude_rad, static_cast<int>(scene.place->utc_offset_s)};
    const std::string time = std::get<std::string>(desk.session.valueOf(desk.session.sceneParameter("sun.time")));
    if (const ParsedInstant parsed = parseInstant(time); !time.empty() && parsed.ok()) {
        of.utc_offset_s = parsed.utc_offset_s;
        of.date = localDate(parsed.instant, parsed.utc_offset_s);
    }
    of.date = desk.angles.typed.date.value_or(of.date);
    of.latitude_rad = desk.angles.typed.latitude_rad.value_or(of.latitude_rad);
    return of;
}

const SunPath& sunPathNow(Desk& desk) {
    static std::optional<PathOf> made_of;
    static SunPath path;
    const PathOf of = pathOf(desk);
    if (made_of != of) {
        path = sunPath(of.date, of.utc_offset_s, {of.latitude_rad, of.longitude_rad, desk.session.scene().place->site.altitude_m}, 10.0);
        made_of = of;
    }
    return path;
}

std::string clockText(const Instant& instant, int utc_offset_s) {
    return instantText(plusSeconds(instant, 30.0), utc_offset_s).substr(11, 5);  // to the nearest minute
}

std::string angleText(double angle_rad, int figures, bool small) {
    if (small && std::abs(angle_rad) < radiansFromDegrees(2.0)) return figuresText(1000.0 * angle_rad, figures) + " mrad";
    const double degrees = degreesFromRadians(angle_rad);
    return figuresText(degrees, std::abs(degrees) < 10.0 ? figures - 1 : figures) + "°";
}

std::string dateText(const CivilDate& date) { return instantText(startOfDay(date, 0)).substr(0, 10); }

}  // namespace linefall
