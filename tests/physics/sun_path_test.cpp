#include "physics/sun_path.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "physics/sites.h"

using namespace linefall;
using linefall::test::deg;
using linefall::test::siteAt;

TEST_CASE("At the equinox the day is 12 hours long, and as much longer as refraction and the disc make it", "[sun]") {
    // The centre stands 50' below the horizon at sunrise: cos H = -sin(50') / cos(latitude) when the declination is 0, so
    // the day is 12 h + 2 asin(sin 50' / cos latitude). The sun's declination drifts by 24' a day: below a minute at 60 deg.
    const double latitude = GENERATE(0.0, 30.0, 45.0, 60.0, -45.0);
    const SunPath path = sunPath({2026, 3, 20}, 0, siteAt(latitude));
    const double extra_s = 2.0 * std::asin(std::sin(radiansFromDegrees(50.0 / 60.0)) / std::cos(radiansFromDegrees(latitude))) * 43200.0 / constants::pi;
    CHECK(extra_s > 395.0);
    CHECK(path.length_s == Approx(43200.0 + extra_s).margin(60.0));
}

TEST_CASE("At noon the sun stands at 90 degrees less latitude plus declination", "[sun]") {
    // optical.md, Sun, at 45 N: 68.4, 45 and 21.6 deg at the June solstice, the equinox and the December solstice; tolerance
    // 0.1 deg. Refraction at noon there is below 0.05 deg.
    struct Row {
        CivilDate date;
        double elevation_deg;
    };
    const Row row = GENERATE(Row{{2026, 6, 21}, 68.4}, Row{{2026, 3, 20}, 45.0}, Row{{2026, 12, 21}, 21.6});
    const SunPath path = sunPath(row.date, 0, siteAt(45.0));
    CHECK(deg(path.noon.elevation_rad) == Approx(row.elevation_deg).margin(0.1));
    CHECK(deg(path.noon.elevation_rad) == Approx(90.0 - 45.0 + deg(path.declination_rad)).margin(0.06));
    CHECK(deg(path.noon.azimuth_rad) == Approx(180.0).margin(0.01));
    for (const SunMoment& moment : path.moments) CHECK(moment.elevation_rad <= path.noon.elevation_rad + 1e-6);
}

TEST_CASE("Moments cover the local day evenly, and are the sun of their instants", "[sun]") {
    const Site site = siteAt(47.0, 8.0);
    const SunPath path = sunPath({2026, 8, 1}, 7200, site, 7.0);
    REQUIRE(path.moments.size() == 207);  // 205 whole steps of 7 min, the rest, and the start
    CHECK(instantText(path.moments.front().time, 7200) == "2026-08-01T00:00:00+02:00");
    CHECK(instantText(path.moments.back().time, 7200) == "2026-08-02T00:00:00+02:00");
    for (std::size_t i = 0; i < path.moments.size(); i += 17) {
        const SunPosition sun = sunAt(path.moments[i].time, site);
        CHECK(path.moments[i].azimuth_rad == sun.azimuth_rad);
        CHECK(path.moments[i].elevation_rad == sun.elevation_rad);
        if (i > 0) CHECK(secondsBetween(path.moments[i - 1].time, path.moments[i].time) == Approx(420.0).margin(1e-6));
    }
    // It crosses the almanac's horizon between the moments around sunrise, and sets in the west.
    REQUIRE(path.day.sunrise.has_value());
    for (std::size_t i = 1; i < path.moments.size(); ++i) {
        const bool before = secondsBetween(path.moments[i].time, *path.day.sunrise) > 420.0;
        if (before) CHECK(path.moments[i].elevation_rad < 0.0);
    }
    CHECK(deg(sunAt(*path.day.sunset, site).azimuth_rad) > 270.0);  // summer: north of west
}

TEST_CASE("In the polar day the sun never sets, and in the polar night it never rises", "[sun]") {
    const SunPath summer = sunPath({2026, 6, 21}, 3600, siteAt(70.0, 20.0));
    CHECK(summer.polarDay());
    CHECK(summer.length_s == 86400.0);
    for (const SunMoment& moment : summer.moments) CHECK(moment.elevation_rad > 0.0);
    // At midnight it stands at latitude + declination - 90.
    double least = 10.0;
    for (const SunMoment& moment : summer.moments) least = std::min(least, moment.elevation_rad);
    CHECK(deg(least) == Approx(70.0 + deg(summer.declination_rad) - 90.0).margin(0.35));  // refraction there is 0.2 deg

    const SunPath winter = sunPath({2026, 12, 21}, 3600, siteAt(70.0, 20.0));
    CHECK(winter.polarNight());
    CHECK(winter.length_s == 0.0);
    for (const SunMoment& moment : winter.moments) CHECK(moment.elevation_rad < 0.0);
}

TEST_CASE("Days of opposite latitudes and seasons last as long together as two days and their refraction", "[sun]") {
    // With no refraction, day(latitude) + day(-latitude) = 24 h exactly; the 50' add on both sides.
    const double north = sunPath({2026, 6, 21}, 0, siteAt(50.0)).length_s;
    const double south = sunPath({2026, 6, 21}, 0, siteAt(-50.0)).length_s;
    const double declination = sunPath({2026, 6, 21}, 0, siteAt(50.0)).declination_rad;
    const double latitude = radiansFromDegrees(50.0);
    const auto hour_angle = [&](double phi) {
        return std::acos((std::sin(radiansFromDegrees(-50.0 / 60.0)) - std::sin(phi) * std::sin(declination)) / (std::cos(phi) * std::cos(declination)));
    };
    CHECK(north == Approx(2.0 * hour_angle(latitude) * 43200.0 / constants::pi).margin(30.0));
    CHECK(south == Approx(2.0 * hour_angle(-latitude) * 43200.0 / constants::pi).margin(30.0));
    CHECK(north + south > 86400.0);
}
