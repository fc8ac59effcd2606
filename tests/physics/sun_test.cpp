#include "physics/sun.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "base/problem.h"
#include "physics/solar_spectrum.h"

using namespace linefall;

namespace {

const std::vector<Band> bands{{"blue", 0.45, 0.52, 0.0, 0.5}, {"green", 0.52, 0.60, 0.0, 0.5}, {"red", 0.63, 0.69, 0.0, 0.5}, {"infrared", 0.76, 0.90, 0.0, 0.5}};

SunSettings settings(double azimuth_deg, double elevation_deg) {
    SunSettings s = sunKeys().defaults();
    s.azimuth_rad = radiansFromDegrees(azimuth_deg);
    s.elevation_rad = radiansFromDegrees(elevation_deg);
    return s;
}

SunSettings timed(const std::string& time) {
    SunSettings s = sunKeys().defaults();
    s.time = time;
    return s;
}

}  // namespace

TEST_CASE("azimuth runs clockwise from north: east is 90, south is 180", "[sun]") {
    const Vec3 east = sunlight(settings(90.0, 0.0), {}, bands).towards;
    CHECK(east.x == Approx(1.0));
    CHECK(east.y == Approx(0.0).margin(1e-15));
    const Vec3 south = sunlight(settings(180.0, 30.0), {}, bands).towards;
    CHECK(south.y == Approx(-std::cos(radiansFromDegrees(30.0))));
    CHECK(south.z == Approx(0.5));
    CHECK(sunlight(settings(-90.0, 10.0), {}, bands).azimuth_rad == Approx(radiansFromDegrees(270.0)));
    CHECK(sunlight(settings(10.0, 25.0), {}, bands).zenith_rad() == Approx(radiansFromDegrees(65.0)));
    CHECK_FALSE(sunlight(settings(10.0, -1.0), {}, bands).up());
}

TEST_CASE("the light in a band is the sun's band mean, and falls with the square of the distance", "[sun]") {
    const Sunlight one = sunlight(settings(0.0, 45.0), {}, bands);
    CHECK(one.distance_au == 1.0);
    // E490 band means scaled to the modern total 1360.8 / 1366.1 (optical.md, Radiometry, A), 0.3 %.
    const double published[] = {1954.7, 1843.6, 1554.1, 1063.6};
    for (std::size_t b = 0; b < 4; ++b) {
        CHECK(one.irradiance_W_m2_um[b] == Approx(published[b] * 1360.8 / 1366.1).epsilon(0.003));
        CHECK(one.irradiance_W_m2_um[b] == Approx(bandMean(solarSpectrum(), bands[b])).epsilon(1e-14));
    }
    SunSettings far = settings(0.0, 45.0);
    far.distance_au = 1.02;
    const Sunlight there = sunlight(far, {}, bands);
    for (std::size_t b = 0; b < 4; ++b) CHECK(there.irradiance_W_m2_um[b] == Approx(one.irradiance_W_m2_um[b] / (1.02 * 1.02)).epsilon(1e-14));
}

TEST_CASE("a time and a place give the sun that the almanac gives", "[sun]") {
    // Reda and Andreas, NREL/TP-560-34302, table A5.1 (optical.md, Sun, A): zenith 50.11162, azimuth 194.34024, 0.9965423 AU.
    const SunSite site{radiansFromDegrees(39.742476), radiansFromDegrees(-105.1786), 1830.14};
    const Sunlight sun = sunlight(timed("2003-10-17T12:30:30-07:00"), site, bands);
    CHECK(degreesFromRadians(sun.zenith_rad()) == Approx(50.11162).epsilon(0.0).margin(0.01));
    CHECK(degreesFromRadians(sun.azimuth_rad) == Approx(194.34024).epsilon(0.0).margin(0.01));
    CHECK(sun.distance_au == Approx(0.9965423).epsilon(0.0).margin(1e-5));
    CHECK(sun.irradiance_W_m2_um[0] == Approx(bandMean(solarSpectrum(), bands[0]) / (0.9965423 * 0.9965423)).epsilon(3e-5));
    CHECK_THROWS_AS(sunlight(timed("yesterday"), site, bands), InputError);
}

TEST_CASE("noon shadows at 45 degrees north: 68.4, 45 and 21.6 degrees, and 39.5, 100 and 253 m of 100 m", "[sun]") {
    // optical.md, Sun (C). Days of the solstices and of the September equinox of 2026; noon by the sun is searched.
    struct Row {
        const char* day;
        double elevation_deg, shadow_m, margin_m;
    };
    // Near the equinox the declination moves by 0.4 degrees a day, so the day's noon may differ by 0.2 from 45.
    const Row row = GENERATE(Row{"2026-06-21", 68.4, 39.5, 0.3}, Row{"2026-09-23", 45.0, 100.0, 1.0}, Row{"2026-12-21", 21.6, 253.0, 2.0});
    const SunSite site{radiansFromDegrees(45.0), 0.0, 0.0};
    double most = -2.0;
    for (int minute = 0; minute < 60; ++minute) {
        char text[40];
        std::snprintf(text, sizeof text, "%sT%02d:%02d:00Z", row.day, minute < 30 ? 11 : 12, minute < 30 ? 30 + minute : minute - 30);
        most = std::max(most, sunlight(timed(text), site, bands).elevation_rad);
    }
    CHECK(degreesFromRadians(most) == Approx(row.elevation_deg).epsilon(0.0).margin(row.elevation_deg == 45.0 ? 0.3 : 0.1));
    CHECK(100.0 / std::tan(most) == Approx(row.shadow_m).epsilon(0.0).margin(row.margin_m));
}

TEST_CASE("a sun that moves stands elsewhere later, one that does not stays", "[sun]") {
    const SunSite site{radiansFromDegrees(45.0), 0.0, 0.0};
    SunSettings s = timed("2026-06-21T09:00:00Z");
    CHECK(sunlight(s, site, bands, 3600.0).azimuth_rad == sunlight(s, site, bands, 0.0).azimuth_rad);
    s.moves = true;
    const Sunlight later = sunlight(s, site, bands, 3600.0);
    CHECK(later.azimuth_rad == Approx(sunlight(timed("2026-06-21T10:00:00Z"), site, bands).azimuth_rad).epsilon(1e-9));
    CHECK(later.azimuth_rad > sunlight(s, site, bands, 0.0).azimuth_rad);
}

TEST_CASE("the points of the sun's disc lie within 0.265 degrees, evenly about its centre", "[sun]") {
    const double elevation = GENERATE(5.0, 45.0, 90.0);
    const Sunlight sun = sunlight(settings(200.0, elevation), {}, bands);
    CHECK(sunDirections(sun, false).size() == 1);
    const auto points = sunDirections(sun, true);
    REQUIRE(points.size() == 24);
    Vec3 mean{0.0};
    double widest = 0.0, square = 0.0;
    for (const Vec3& p : points) {
        CHECK(glm::length(p) == Approx(1.0));
        mean += p / 24.0;
        const double away = std::acos(std::min(1.0, glm::dot(p, sun.towards)));
        widest = std::max(widest, away);
        square += away * away / 24.0;
    }
    CHECK(degreesFromRadians(widest) <= 0.265);
    CHECK(degreesFromRadians(widest) > 0.25);
    CHECK(degreesFromRadians(std::sqrt(square)) == Approx(0.265 / std::sqrt(2.0)).epsilon(0.01));  // an even disc
    CHECK(degreesFromRadians(std::acos(std::min(1.0, glm::dot(glm::normalize(mean), sun.towards)))) < 0.02);
}
