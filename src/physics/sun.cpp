#include "physics/sun.h"

#include <cmath>

#include "base/angle.h"
#include "physics/calendar.h"
#include "physics/solar_spectrum.h"
#include "physics/sun_position.h"

namespace linefall {

const Keys<SunSettings>& sunKeys() {
    using S = SunSettings;
    static const Keys<S> keys = [] {
        const double turn = 2.0 * constants::pi;
        Keys<S> k("sun.");
        k.number("azimuth", Kind::angle, &S::azimuth_rad, radiansFromDegrees(140.0), -turn, turn, "direction of the sun, clockwise from north")
            .number("elevation", Kind::angle, &S::elevation_rad, radiansFromDegrees(38.0), radiansFromDegrees(-90.0), radiansFromDegrees(90.0), "height of the sun above the level horizon")
            .text("time", &S::time, "", "date and time, RFC 3339; in place of azimuth and elevation")
            .insteadOf("azimuth")
            .insteadOf("elevation")
            .flag("moves", &S::moves, false, "the sun moves during the flight (needs sun.time)")
            .flag("disc", &S::disc, false, "the sun is a disc of 0.53 degrees: soft shadow edges; off: a point")
            .derived("distance", Kind::number, &S::distance_au, 0.9, 1.1, "distance of the sun in astronomical units; auto: from sun.time, else 1");
        return k;
    }();
    return keys;
}

double Sunlight::zenith_rad() const { return 0.5 * constants::pi - elevation_rad; }

Sunlight sunlight(const SunSettings& settings, const SunSite& site, const std::vector<Band>& bands, double seconds) {
    Sunlight sun;
    sun.azimuth_rad = wrappedToTurn(settings.azimuth_rad);
    sun.elevation_rad = settings.elevation_rad;
    if (!settings.time.empty()) {
        const ParsedInstant parsed = parseInstant(settings.time);
        if (!parsed.ok()) throw InputError(Problem{{"sun", 0, 0}, "sun.time", "'" + settings.time + "'", parsed.error, ""});
        const Instant instant = settings.moves ? plusSeconds(parsed.instant, seconds) : parsed.instant;
        const SunPosition position = sunAt(instant, {site.latitude_rad, site.longitude_rad, site.altitude_m});
        sun.azimuth_rad = position.azimuth_rad;
        sun.elevation_rad = position.elevation_rad;
        sun.distance_au = position.distance_au;
    }
    sun.distance_au = settings.distance_au.value_or(sun.distance_au);
    const double c = std::cos(sun.elevation_rad);
    sun.towards = {c * std::sin(sun.azimuth_rad), c * std::cos(sun.azimuth_rad), std::sin(sun.elevation_rad)};
    for (const Band& band : bands) {
        sun.irradiance_W_m2_um.push_back(bandMean(solarSpectrum(), band) / (sun.distance_au * sun.distance_au));
    }
    return sun;
}

std::vector<Vec3> sunDirections(const Sunlight& sun, bool disc) {
    if (!disc) return {sun.towards};
    // Equal areas of the disc on a sunflower spiral: ring radius grows with the square root, turned by the golden angle.
    constexpr int points = 24;
    const Vec3 across = glm::normalize(glm::cross(sun.towards, std::abs(sun.towards.z) < 0.99 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}));
    const Vec3 along = glm::cross(across, sun.towards);
    const double radius = std::tan(0.5 * radiansFromDegrees(constants::sun_disc_diameter_deg)) / sun.distance_au;
    std::vector<Vec3> out;
    for (int i = 0; i < points; ++i) {
        const double r = radius * std::sqrt((i + 0.5) / points);
        const double turn = i * constants::pi * (3.0 - std::sqrt(5.0));
        out.push_back(glm::normalize(sun.towards + r * std::cos(turn) * across + r * std::sin(turn) * along));
    }
    return out;
}

}  // namespace linefall
