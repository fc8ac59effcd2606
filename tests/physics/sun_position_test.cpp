#include "physics/sun_position.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "physics/sites.h"

using namespace linefall;
using linefall::test::deg;
using linefall::test::siteAt;

namespace {

Instant at(const char* text) {
    const ParsedInstant parsed = parseInstant(text);
    INFO(text << ": " << parsed.error);
    REQUIRE(parsed.ok());
    return parsed.instant;
}

/// The site of the worked example in Reda and Andreas, NREL/TP-560-34302, table A5.1.
Site goldenSite() {
    Site site = siteAt(39.742476, -105.1786);
    site.altitude_m = 1830.14;
    site.pressure_Pa = 82000.0;
    site.temperature_K = 273.15 + 11.0;
    return site;
}

SunPosition goldenSun() { return sunAt(at("2003-10-17T12:30:30-07:00"), goldenSite()); }

}  // namespace

TEST_CASE("The worked example of the solar position algorithm", "[sun]") {
    // Reda and Andreas, NREL/TP-560-34302, table A5.1 (optical.md, Sun). Demanded: 0.01 deg; met: 0.0001 deg.
    const SunPosition sun = goldenSun();
    CHECK(deg(sun.zenith_rad) == Approx(50.11162).epsilon(0.0).margin(0.0001));
    CHECK(deg(sun.azimuth_rad) == Approx(194.34024).epsilon(0.0).margin(0.0001));
    CHECK(deg(sun.elevation_unrefracted_rad) == Approx(39.872046).epsilon(0.0).margin(0.0001));
    CHECK(deg(sun.refraction_rad) == Approx(0.016332).epsilon(0.0).margin(2e-6));
    CHECK(sun.distance_au == Approx(0.9965423).epsilon(0.0).margin(1e-5));
    CHECK(sun.zenith_rad + sun.elevation_rad == Approx(0.5 * constants::pi).epsilon(0.0).margin(1e-15));
    CHECK(sun.elevation_rad == sun.elevation_unrefracted_rad + sun.refraction_rad);
}

TEST_CASE("Refraction of the report's own elevation", "[sun]") {
    // Same table: 39.872046 deg, 820 mbar, 11 C give 0.016332 deg.
    CHECK(deg(solarRefraction_rad(radiansFromDegrees(39.872046), 82000.0, 284.15)) == Approx(0.016332).epsilon(0.0).margin(2e-6));
}

TEST_CASE("Incidence on a slope of 30 deg that faces azimuth 170", "[sun]") {
    // Same table, 25.18700 deg; cos i = cos z cos s + sin z sin s cos(azimuth - aspect).
    const auto incidence_deg = [](double zenith_rad, double azimuth_rad) {
        const double slope = radiansFromDegrees(30.0);
        const double aspect = radiansFromDegrees(170.0);
        return deg(std::acos(std::cos(zenith_rad) * std::cos(slope) +
                             std::sin(zenith_rad) * std::sin(slope) * std::cos(azimuth_rad - aspect)));
    };
    const double printed = incidence_deg(radiansFromDegrees(50.11162), radiansFromDegrees(194.34024));
    CHECK(printed == Approx(25.18700).epsilon(0.0).margin(5e-6));
    const SunPosition sun = goldenSun();
    CHECK(incidence_deg(sun.zenith_rad, sun.azimuth_rad) == Approx(25.18700).epsilon(0.0).margin(0.0001));
}

TEST_CASE("Equation of time", "[sun]") {
    // Same table: 14.64 min.
    CHECK(goldenSun().equation_of_time_s / 60.0 == Approx(14.64).epsilon(0.0).margin(0.005));
    // Its course over the year, extremes from memory of any almanac: about -14.2 min near 11 February, +16.4 min near
    // 3 November, and four zeros.
    const Site site = siteAt(0.0, 0.0);
    double least = 1e9, most = -1e9, previous = 0.0;
    int zeros = 0;
    for (int day = 0; day < 365; ++day) {
        const double minutes = sunAt(plusSeconds(at("2025-01-01T12:00:00Z"), 86400.0 * day), site).equation_of_time_s / 60.0;
        if (day > 0 && minutes * previous < 0.0) ++zeros;
        least = std::fmin(least, minutes);
        most = std::fmax(most, minutes);
        previous = minutes;
    }
    CHECK(least == Approx(-14.2).epsilon(0.0).margin(0.1));
    CHECK(most == Approx(16.4).epsilon(0.0).margin(0.1));
    CHECK(zeros == 4);
}

TEST_CASE("Apparent place of the sun", "[sun]") {
    // Meeus, Astronomical Algorithms, 2nd ed., example 25.a: 1992-10-13 0h TD: 13h13m31.4s, -7 deg 47' 06", 0.99766 AU.
    // TAI - UTC was 27 s and TT - TAI is 32.184 s, so 0h TD is 59.184 s before 0h UTC.
    const SunPosition sun = sunAt(at("1992-10-12T23:59:00.816Z"), siteAt(0.0, 0.0));
    const double right_ascension_s = deg(sun.right_ascension_rad) / 15.0 * 3600.0;
    CHECK(right_ascension_s == Approx(13 * 3600 + 13 * 60 + 31.4).epsilon(0.0).margin(1.0));
    CHECK(deg(sun.declination_rad) * 3600.0 == Approx(-(7 * 3600 + 47 * 60 + 6.0)).epsilon(0.0).margin(20.0));
    // The example's method is the book's low-accuracy one, and its distance is 5e-5 off. The book's own example 25.b, the
    // same instant with VSOP87, gives 13h13m30.749s, -7 deg 47' 01.74", 0.99760775 AU (from memory).
    CHECK(sun.distance_au == Approx(0.99766).epsilon(0.0).margin(6e-5));
    CHECK(right_ascension_s == Approx(13 * 3600 + 13 * 60 + 30.749).epsilon(0.0).margin(0.02));
    CHECK(deg(sun.declination_rad) * 3600.0 == Approx(-(7 * 3600 + 47 * 60 + 1.74)).epsilon(0.0).margin(0.1));
    CHECK(sun.distance_au == Approx(0.99760775).epsilon(0.0).margin(2e-6));
}

TEST_CASE("Sunrise and sunset of the almanac", "[sun]") {
    // Reda and Andreas, NREL/TP-560-34302, table A2.1 (Astronomical Almanac). Demanded: 3 s; met: 0.2 s.
    struct Row {
        double latitude_deg;
        CivilDate date;
        const char* rise;
        const char* set;
    };
    const Row row = GENERATE(Row{35.0, {1994, 1, 2}, "1994-01-02T07:08:12.8Z", "1994-01-02T16:59:55.9Z"},
                             Row{-35.0, {2004, 12, 4}, "2004-12-04T04:38:57.1Z", "2004-12-04T19:02:02.5Z"});
    const SunDay day = sunriseSunset(row.date, 0, siteAt(row.latitude_deg, 0.0));
    REQUIRE(day.sunrise.has_value());
    REQUIRE(day.sunset.has_value());
    CHECK(day.reason.empty());
    INFO("rise " << instantText(*day.sunrise, 0, 2) << ", set " << instantText(*day.sunset, 0, 2));
    CHECK(std::abs(secondsBetween(at(row.rise), *day.sunrise)) < 0.2);
    CHECK(std::abs(secondsBetween(at(row.set), *day.sunset)) < 0.2);
    CHECK(secondsBetween(*day.sunrise, day.transit) > 0.0);
    CHECK(secondsBetween(day.transit, *day.sunset) > 0.0);
}

TEST_CASE("At sunrise and sunset the centre stands at -50'", "[sun]") {
    const Site site = siteAt(52.5, 13.4);
    const SunDay day = sunriseSunset({2026, 6, 21}, 7200, site);
    REQUIRE(day.sunrise.has_value());
    REQUIRE(day.sunset.has_value());
    // The topocentric elevation is lower than the geocentric one by the sun's parallax, 8.8" at the horizon.
    for (const Instant& event : {*day.sunrise, *day.sunset}) {
        CHECK(deg(sunAt(event, site).elevation_unrefracted_rad) == Approx(-50.0 / 60.0 - 8.8 / 3600.0).epsilon(0.0).margin(1e-4));
        CHECK(localDate(event, 7200) == CivilDate{2026, 6, 21});
    }
    CHECK(deg(sunAt(day.transit, site).azimuth_rad) == Approx(180.0).epsilon(0.0).margin(1e-3));
}

TEST_CASE("Noon at 45 deg north: elevation and shadow of 100 m", "[sun]") {
    // optical.md, Sun (computed from 90 - latitude + declination, no refraction): 68.4, 45, 21.6 deg; 39.5, 100, 253 m.
    struct Row {
        CivilDate date;
        double elevation_deg, shadow_m;
    };
    const Row row = GENERATE(Row{{2026, 6, 21}, 68.4, 39.5}, Row{{2026, 3, 20}, 45.0, 100.0}, Row{{2026, 12, 21}, 21.6, 253.0});
    const Site site = siteAt(45.0, 0.0);
    const SunPosition noon = sunAt(sunriseSunset(row.date, 0, site).transit, site);
    CHECK(deg(noon.elevation_unrefracted_rad) == Approx(row.elevation_deg).epsilon(0.0).margin(0.1));
    CHECK(100.0 / std::tan(noon.elevation_unrefracted_rad) == Approx(row.shadow_m).epsilon(0.005));
    CHECK(deg(noon.azimuth_rad) == Approx(180.0).epsilon(0.0).margin(0.01));
}

TEST_CASE("In the southern hemisphere the sun passes north", "[sun]") {
    const Site site = siteAt(-35.0, 149.0);
    const SunDay day = sunriseSunset({2026, 6, 21}, 36000, site);
    const SunPosition noon = sunAt(day.transit, site);
    const double azimuth = deg(noon.azimuth_rad);
    CHECK(std::fmin(azimuth, 360.0 - azimuth) < 0.01);
    CHECK(deg(noon.elevation_unrefracted_rad) == Approx(90.0 - 35.0 - 23.436).epsilon(0.0).margin(0.02));
    // The sun rises in the east everywhere and goes round against the clock there.
    REQUIRE(day.sunrise.has_value());
    REQUIRE(day.sunset.has_value());
    CHECK(deg(sunAt(*day.sunrise, site).azimuth_rad) < 90.0);
    CHECK(deg(sunAt(*day.sunset, site).azimuth_rad) > 270.0);
}

TEST_CASE("Polar day and polar night", "[sun]") {
    const Site far_north = siteAt(69.65, 18.96);
    const SunDay summer = sunriseSunset({2026, 6, 21}, 7200, far_north);
    CHECK_FALSE(summer.sunrise.has_value());
    CHECK_FALSE(summer.sunset.has_value());
    CHECK(summer.reason == "polar day");
    const SunDay winter = sunriseSunset({2026, 12, 21}, 3600, far_north);
    CHECK_FALSE(winter.sunrise.has_value());
    CHECK_FALSE(winter.sunset.has_value());
    CHECK(winter.reason == "polar night");
    CHECK(sunriseSunset({2026, 3, 20}, 3600, far_north).reason.empty());
    CHECK(sunriseSunset({2026, 12, 21}, 0, siteAt(-90.0, 0.0)).reason == "polar day");
    CHECK(sunriseSunset({2026, 12, 21}, 0, siteAt(90.0, 0.0)).reason == "polar night");
}

TEST_CASE("At the pole the sun stands at its declination all day", "[sun]") {
    for (const double latitude_deg : {90.0, -90.0}) {
        for (int hour = 0; hour < 24; hour += 3) {
            const SunPosition sun = sunAt(plusSeconds(at("2026-06-21T00:00:00Z"), 3600.0 * hour), siteAt(latitude_deg, 0.0));
            const double expected = std::copysign(deg(sun.declination_rad), latitude_deg);
            CHECK(deg(sun.elevation_unrefracted_rad) == Approx(expected).epsilon(0.0).margin(0.003));  // parallax 8.8"
            CHECK(std::isfinite(sun.azimuth_rad));
        }
    }
}

TEST_CASE("The sun goes round through every azimuth and never jumps", "[sun]") {
    const Site site = siteAt(50.0, 8.0);
    double previous = sunAt(at("2026-04-01T00:00:00Z"), site).azimuth_rad;
    double turned = 0.0;
    for (int minute = 4; minute <= 1440; minute += 4) {
        const double azimuth = sunAt(plusSeconds(at("2026-04-01T00:00:00Z"), 60.0 * minute), site).azimuth_rad;
        const double step = std::remainder(azimuth - previous, 2.0 * constants::pi);
        CHECK(step > 0.0);
        CHECK(step < radiansFromDegrees(3.0));
        turned += step;
        previous = azimuth;
    }
    CHECK(deg(turned) == Approx(360.0).epsilon(0.0).margin(1.0));
}

TEST_CASE("Parallax lowers the sun by 8.8 arc seconds at the horizon and not at the zenith", "[sun]") {
    // Solar parallax 8.794" (IAU 1976, from memory). At the equator and the equinox the sun passes the zenith.
    const Site low = siteAt(0.0, 0.0);
    const Instant noon = sunriseSunset({2026, 3, 20}, 0, low).transit;
    for (const double hours : {0.0, 5.9}) {
        const Instant instant = plusSeconds(noon, 3600.0 * hours);
        const SunPosition sun = sunAt(instant, low);
        // Apparent solar time at longitude 0: UT1 and the equation of time.
        const double hour_angle = radiansFromDegrees((instant.second + sun.equation_of_time_s - 43200.0) / 240.0);
        const double sine = std::cos(sun.declination_rad) * std::cos(hour_angle);  // latitude 0
        const double geocentric = deg(std::asin(sine)) * 3600.0;
        const double lowered = geocentric - deg(sun.elevation_unrefracted_rad) * 3600.0;
        CHECK(lowered == Approx(8.794 / sun.distance_au * std::sin(hour_angle)).epsilon(0.0).margin(0.01));
    }
}

TEST_CASE("Refraction: half a degree at the horizon, nothing once the sun has set, nothing without air", "[sun]") {
    const double level = 1.02 / 60.0 / std::tan(radiansFromDegrees(10.3 / 5.11));  // 1010 hPa, 10 C: both factors are 1
    CHECK(deg(solarRefraction_rad(0.0, 101000.0, 283.15)) == Approx(level).epsilon(1e-12));
    CHECK(level == Approx(0.483).epsilon(0.0).margin(0.001));
    CHECK(solarRefraction_rad(radiansFromDegrees(-0.8333), 101000.0, 283.0) > 0.0);
    CHECK(solarRefraction_rad(radiansFromDegrees(-0.8334), 101000.0, 283.0) == 0.0);
    CHECK(solarRefraction_rad(radiansFromDegrees(-5.11), 101000.0, 283.0) == 0.0);
    CHECK(solarRefraction_rad(radiansFromDegrees(10.0), 0.0, 283.0) == 0.0);
    CHECK(std::abs(deg(solarRefraction_rad(radiansFromDegrees(90.0), 101000.0, 283.0))) < 1e-4);
    double previous = 1.0;
    for (double e = -0.8; e < 90.0; e += 0.1) {
        const double bent = solarRefraction_rad(radiansFromDegrees(e), 101325.0, 288.15);
        CHECK(bent < previous);
        previous = bent;
    }
}

TEST_CASE("UT1 - UTC turns the Earth under the sun", "[sun]") {
    const Instant noon = at("2026-06-21T09:00:00Z");
    const SunPosition without = sunAt(noon, siteAt(0.0, 0.0));
    const SunPosition with = sunAt(noon, siteAt(0.0, 0.0), 0.9);
    const SunPosition moved = sunAt(noon, siteAt(0.0, 15.041067 * 0.9 / 3600.0));  // a turn in a sidereal day
    CHECK(with.right_ascension_rad == Approx(without.right_ascension_rad).epsilon(0.0).margin(1e-12));
    CHECK(std::abs(deg(with.elevation_rad - moved.elevation_rad)) < 1e-6);
    CHECK(std::abs(deg(with.elevation_rad - without.elevation_rad)) > 1e-3);
}

TEST_CASE("Positions exist in every year that the calendar reads", "[sun]") {
    for (const char* text : {"1900-01-01T00:00:00Z", "1959-12-31T23:59:59Z", "1965-06-01T12:00:00Z", "2016-12-31T23:59:60.5Z",
                             "2200-12-31T23:59:59Z"}) {
        const SunPosition sun = sunAt(at(text), siteAt(45.0, 7.0));
        INFO(text);
        CHECK(std::isfinite(sun.elevation_rad));
        CHECK(sun.distance_au == Approx(1.0).epsilon(0.0).margin(0.018));
        CHECK(std::abs(deg(sun.declination_rad)) < 23.46);
    }
    // Nothing happens in a leap second.
    const double before = sunAt(at("2016-12-31T23:59:59.9Z"), siteAt(45.0, 7.0)).right_ascension_rad;
    const double within = sunAt(at("2016-12-31T23:59:60.9Z"), siteAt(45.0, 7.0)).right_ascension_rad;
    const double beyond = sunAt(at("2017-01-01T00:00:00.9Z"), siteAt(45.0, 7.0)).right_ascension_rad;
    CHECK(within - before == Approx(beyond - within).epsilon(1e-3));
}
