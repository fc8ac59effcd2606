#pragma once
// Stage 1, sun: from where does the light come, and how far away is its source?

#include <optional>
#include <string>

#include "physics/calendar.h"

namespace linefall {

/// Where one stands, and the air there that bends the light.
struct Site {
    double latitude_rad = 0.0;   ///< geodetic, WGS 84
    double longitude_rad = 0.0;  ///< east positive
    double altitude_m = 0.0;     ///< above the ellipsoid
    double pressure_Pa = 101325.0;
    double temperature_K = 288.15;
};

/// The sun as seen from a site.
struct SunPosition {
    double azimuth_rad = 0.0;               ///< clockwise from north, [0, 2 pi)
    double elevation_rad = 0.0;             ///< topocentric, refracted
    double elevation_unrefracted_rad = 0.0; ///< topocentric
    double refraction_rad = 0.0;            ///< elevation - elevation_unrefracted
    double zenith_rad = 0.0;                ///< topocentric, refracted: pi/2 - elevation
    double distance_au = 1.0;               ///< centre of the Earth to centre of the sun
    double right_ascension_rad = 0.0;       ///< apparent geocentric, true equator and equinox of date, [0, 2 pi)
    double declination_rad = 0.0;           ///< apparent geocentric
    double equation_of_time_s = 0.0;        ///< apparent minus mean solar time
};

/// The sun at an instant. Position of the Earth: ERFA epv00; annual aberration (ab); bias, precession and
/// nutation IAU 2006/2000A (pnm06a); Greenwich apparent sidereal time (gst06); parallax of the site on the WGS 84
/// ellipsoid; refraction by `solarRefraction_rad`. TT from UTC with ERFA's leap seconds (after the last one known it is
/// kept; before 1960 TAI - UTC is taken as 0). `ut1_minus_utc_s` is within +-0.9 s while leap seconds are kept: 15" at most.
/// Left out: polar motion, diurnal aberration (0.3"), the sun's own motion during the light's travel (0.01"), the
/// deflection of the vertical.
[[nodiscard]] SunPosition sunAt(const Instant& utc, const Site& site, double ut1_minus_utc_s = 0.0);

/// How much the air lifts the sun, rad: (P/1010)(283/(273+T)) 1.02 / (60 tan(e + 10.3/(e + 5.11))) degrees, with
/// P in hPa, T in degrees Celsius (the report's 273, not 273.15) and e the unrefracted elevation in degrees. 0 below
/// e = -0.83337 deg (the disc's radius 0.26667 and 0.5667 of refraction), where the upper limb has set; the formula has
/// no meaning there. Source: Reda and Andreas, NREL/TP-560-34302, eq. 42.
[[nodiscard]] double solarRefraction_rad(double elevation_unrefracted_rad, double pressure_Pa, double temperature_K);

/// Sunrise, transit and sunset of one day.
struct SunDay {
    std::optional<Instant> sunrise;
    std::optional<Instant> sunset;
    Instant transit;     ///< the sun crosses the meridian of the site
    std::string reason;  ///< empty when both exist, else "polar day" or "polar night"
};

/// Sunrise and sunset around the transit that is nearest to noon of a local day: the sun's centre, geocentric and
/// without refraction, at -0.8333 deg (-50', the almanacs' convention: 34' refraction and 16' radius). An event is
/// looked for within half a solar day of the transit; when only one exists the day is the first or last of the polar day.
/// Site altitude, pressure and temperature do not enter. Source: Astronomical Almanac, explanation of sunrise and sunset.
[[nodiscard]] SunDay sunriseSunset(const CivilDate& local_date, int utc_offset_s, const Site& site,
                                   double ut1_minus_utc_s = 0.0);

}  // namespace linefall
