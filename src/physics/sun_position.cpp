#include "physics/sun_position.h"

#include <erfa.h>

#include <array>
#include <cmath>

#include "base/angle.h"

namespace linefall {

namespace {

using Vector = std::array<double, 3>;

constexpr double day_s = 86400.0;
constexpr double unix_epoch_jd = 2440587.5;         // 1970-01-01 0h
constexpr double tt_minus_tai_s = 32.184;           // exact, IAU 1991
constexpr double metres_in_au = 149597870700.0;  // exact, IAU 2012 resolution B2
constexpr double light_time_au_s = metres_in_au / constants::speed_of_light_m_s;
/// Elevation of the sun's centre at sunrise and sunset: -50'.
constexpr double horizon_rad = radiansFromDegrees(-50.0 / 60.0);

/// Julian date of an instant moved by some seconds, in two parts: whole day and share of a day.
struct JulianDate {
    double day, share;
};
JulianDate julianDate(const Instant& instant, double plus_s) {
    return {unix_epoch_jd + static_cast<double>(instant.day), (instant.second + plus_s) / day_s};
}

double taiMinusUtc_s(const Instant& utc) {
    const CivilDate date = civilDate(utc.day);
    double seconds = 0.0;
    eraDat(date.year, date.month, date.day, std::fmin(utc.second / day_s, 1.0), &seconds);  // far years: a warning only
    return seconds;
}

/// The sun seen from the centre of the Earth, in the true equator and equinox of date.
struct Geocentric {
    Vector direction;
    double distance_au;
    double right_ascension_rad, declination_rad;
    double sidereal_rad;  ///< Greenwich apparent sidereal time
    double ut1_share;     ///< share of the UT1 day
};

Geocentric geocentricSun(const Instant& utc, double ut1_minus_utc_s) {
    const JulianDate tt = julianDate(utc, taiMinusUtc_s(utc) + tt_minus_tai_s);
    const JulianDate ut1 = julianDate(utc, ut1_minus_utc_s);

    double heliocentric[2][3];
    double barycentric[2][3];
    eraEpv00(tt.day, tt.share, heliocentric, barycentric);  // TDB - TT, below 2 ms, is left out

    // The sun itself moves by about 0.01" while the light travels: left out.
    double natural[3];
    double velocity_c[3];
    double speed2 = 0.0;
    double distance2 = 0.0;
    for (int i = 0; i < 3; ++i) {
        natural[i] = -heliocentric[0][i];
        velocity_c[i] = barycentric[1][i] * light_time_au_s / day_s;
        speed2 += velocity_c[i] * velocity_c[i];
        distance2 += natural[i] * natural[i];
    }
    const double distance = std::sqrt(distance2);
    for (double& part : natural) part /= distance;

    double proper[3];
    eraAb(natural, velocity_c, distance, std::sqrt(1.0 - speed2), proper);
    double to_date[3][3];
    eraPnm06a(tt.day, tt.share, to_date);
    double of_date[3];
    eraRxp(to_date, proper, of_date);

    Geocentric out{};
    out.direction = {of_date[0], of_date[1], of_date[2]};
    out.distance_au = distance;
    double right_ascension = 0.0;
    eraC2s(of_date, &right_ascension, &out.declination_rad);
    out.right_ascension_rad = wrappedToTurn(right_ascension);
    out.sidereal_rad = eraGst06(ut1.day, ut1.share, tt.day, tt.share, to_date);
    out.ut1_share = ut1.share;
    return out;
}

/// The same angle in (-pi, pi].
double wrappedToHalfTurn(double angle_rad) { return std::remainder(angle_rad, 2.0 * constants::pi); }

double localHourAngle(const Geocentric& sun, const Site& site) {
    return wrappedToHalfTurn(sun.sidereal_rad + site.longitude_rad - sun.right_ascension_rad);
}

/// Geocentric elevation above the horizon of the almanacs, rad: sin e = sin phi sin d + cos phi cos d cos H.
double aboveHorizon_rad(const Instant& utc, const Site& site, double ut1_minus_utc_s) {
    const Geocentric sun = geocentricSun(utc, ut1_minus_utc_s);
    const double sine = std::sin(site.latitude_rad) * std::sin(sun.declination_rad) +
                        std::cos(site.latitude_rad) * std::cos(sun.declination_rad) * std::cos(localHourAngle(sun, site));
    return std::asin(std::fmax(-1.0, std::fmin(1.0, sine))) - horizon_rad;
}

/// Where a quantity that is below 0 at `low_s` and above 0 at `high_s` passes 0, to 1 ms: false position in which an end
/// that stays is halved (Illinois method), so that it always closes in.
template <class Quantity>
double crossing_s(double low_s, double low, double high_s, double high, const Quantity& quantity) {
    double middle_s = low_s;
    int side = 0;
    for (int i = 0; i < 60; ++i) {
        const double next_s = low_s + (high_s - low_s) * (-low / (high - low));
        const bool settled = std::abs(next_s - middle_s) < 1e-3;
        middle_s = next_s;
        if (settled) break;
        const double middle = quantity(middle_s);
        if (middle < 0.0) {
            low_s = middle_s;
            low = middle;
            if (side == -1) high *= 0.5;
            side = -1;
        } else {
            high_s = middle_s;
            high = middle;
            if (side == 1) low *= 0.5;
            side = 1;
        }
    }
    return middle_s;
}

}  // namespace

double solarRefraction_rad(double elevation_unrefracted_rad, double pressure_Pa, double temperature_K) {
    constexpr double set_deg = -(0.26667 + 0.5667);
    const double e = degreesFromRadians(elevation_unrefracted_rad);
    if (!(e >= set_deg)) return 0.0;
    const double bent_deg = (pressure_Pa / 100.0 / 1010.0) * (283.0 / (temperature_K - 0.15)) * 1.02 /
                            (60.0 * std::tan(radiansFromDegrees(e + 10.3 / (e + 5.11))));
    return radiansFromDegrees(bent_deg);
}

SunPosition sunAt(const Instant& utc, const Site& site, double ut1_minus_utc_s) {
    const Geocentric sun = geocentricSun(utc, ut1_minus_utc_s);

    // From the site instead of the centre of the Earth: take away the site's own place, turned to the equinox of date.
    double site_m[3];
    eraGd2gc(1, 0.0, site.latitude_rad, site.altitude_m, site_m);  // WGS 84, in the site's own meridian
    const double meridian = sun.sidereal_rad + site.longitude_rad;
    const double cos_meridian = std::cos(meridian);
    const double sin_meridian = std::sin(meridian);
    const double x = sun.direction[0] * sun.distance_au - cos_meridian * site_m[0] / metres_in_au;
    const double y = sun.direction[1] * sun.distance_au - sin_meridian * site_m[0] / metres_in_au;
    const double z = sun.direction[2] * sun.distance_au - site_m[2] / metres_in_au;

    // Towards the meridian, to the east of it and to the pole; then to the local east, north and up.
    const double outward = x * cos_meridian + y * sin_meridian;
    const double east = y * cos_meridian - x * sin_meridian;
    const double sin_latitude = std::sin(site.latitude_rad);
    const double cos_latitude = std::cos(site.latitude_rad);
    const double north = z * cos_latitude - outward * sin_latitude;
    const double up = z * sin_latitude + outward * cos_latitude;

    SunPosition out;
    out.azimuth_rad = wrappedToTurn(std::atan2(east, north));
    out.elevation_unrefracted_rad = std::atan2(up, std::hypot(east, north));
    out.refraction_rad = solarRefraction_rad(out.elevation_unrefracted_rad, site.pressure_Pa, site.temperature_K);
    out.elevation_rad = out.elevation_unrefracted_rad + out.refraction_rad;
    out.zenith_rad = 0.5 * constants::pi - out.elevation_rad;
    out.distance_au = sun.distance_au;
    out.right_ascension_rad = sun.right_ascension_rad;
    out.declination_rad = sun.declination_rad;
    // Apparent solar time is the sun's hour angle + 12 h; mean solar time (at Greenwich) is UT1.
    const double hour_angle = sun.sidereal_rad - sun.right_ascension_rad;
    const double mean = 2.0 * constants::pi * (sun.ut1_share - 0.5);
    out.equation_of_time_s = wrappedToHalfTurn(hour_angle - mean) * day_s / (2.0 * constants::pi);
    return out;
}

SunDay sunriseSunset(const CivilDate& local_date, int utc_offset_s, const Site& site, double ut1_minus_utc_s) {
    SunDay out;
    // The hour angle grows by a turn in a solar day, whose length differs from 86400 s by half a minute at most: four
    // steps leave nothing to correct. The first step is less than half a turn, so the transit is the one nearest to noon.
    Instant transit = plusSeconds(startOfDay(local_date, utc_offset_s), 0.5 * day_s);
    for (int i = 0; i < 4; ++i) {
        const double hour_angle = localHourAngle(geocentricSun(transit, ut1_minus_utc_s), site);
        transit = plusSeconds(transit, -hour_angle * day_s / (2.0 * constants::pi));
    }
    out.transit = transit;

    const auto above = [&](double after_transit_s) {
        return aboveHorizon_rad(plusSeconds(transit, after_transit_s), site, ut1_minus_utc_s);
    };
    const double noon = above(0.0);
    if (noon <= 0.0) {
        out.reason = "polar night";
        return out;
    }
    const double half = 0.5 * day_s;
    const double before = above(-half);
    const double after = above(half);
    if (before < 0.0) out.sunrise = plusSeconds(transit, crossing_s(-half, before, 0.0, noon, above));
    if (after < 0.0) out.sunset = plusSeconds(transit, crossing_s(half, after, 0.0, noon, above));
    if (!out.sunrise || !out.sunset) out.reason = "polar day";
    return out;
}

}  // namespace linefall
