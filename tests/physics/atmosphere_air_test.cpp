#include "physics/atmosphere.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "air_samples.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("Haze against a sum over thin layers", "[air]") {
    // Aerosol alone or molecules alone are mixed evenly in any layer, so the closed form has no approximation.
    struct Row {
        double sensor_m, ground_m, air_mass, cosine;
    };
    const Row row = GENERATE(Row{3000.0, 200.0, 1.2, -0.8}, Row{4e7, 0.0, 2.5, 0.3}, Row{700.0, 650.0, 1.0, -0.99},
                             Row{800.0, 2400.0, 3.0, 0.5}, Row{800.0, 2400.0, 1.1, 0.5});
    for (const AirSettings& settings : {aerosolOnly(0.4), moleculesOnly()}) {
        const Air air = airAt(settings, 55.0);
        const double m0 = air.sunAirMass();
        const auto depth = [&](double h) {
            return air.rayleighDepth(0) * standardPressure_Pa(geopotentialHeight_m(h)) / 101325.0 +
                   air.aerosolDepth(0) * std::exp(-h / settings.aerosol_height_m);
        };
        const double phase = settings.pressure_Pa > 0.0 ? rayleighPhase(row.cosine) : henyeyGreensteinPhase(row.cosine, 0.65);
        const double sensor = depth(row.sensor_m);
        const double ground = depth(row.ground_m);
        double haze = 0.0;
        const int layers = 20'000;
        for (int i = 0; i < layers; ++i) {
            const double t = sensor + (ground - sensor) * (i + 0.5) / layers;
            haze += std::exp(-m0 * t) * std::exp(-row.air_mass * std::abs(t - sensor));
        }
        haze *= row.air_mass * std::abs(ground - sensor) / layers * phase / (2.0 * turn);
        const Up got = up(air, row.sensor_m, row.ground_m, row.air_mass, row.cosine);
        CHECK(got.haze == Approx(haze).epsilon(2e-5));
        CHECK(got.through == Approx(std::exp(-row.air_mass * std::abs(ground - sensor))).epsilon(1e-5));
    }
}

TEST_CASE("Haze of thin mixed air: each kind scatters with its own phase function", "[air]") {
    // As depth goes to 0, haze -> m (d_R P_R + w d_A P_A) / (4 pi).
    AirSettings settings = airKeys().defaults();
    settings.pressure_Pa = 10.0;
    settings.aerosol_depth = 2e-5;
    settings.aerosol_albedo = 0.9;
    const Air air = airAt(settings, 30.0);
    const double c = -0.6;
    const double thin = 1.5 / (2.0 * turn) *
                        (air.rayleighDepth(0) * rayleighPhase(c) + 0.9 * air.aerosolDepth(0) * henyeyGreensteinPhase(c, 0.65));
    CHECK(up(air, 4e7, 0.0, 1.5, c).haze == Approx(thin).epsilon(1e-4));
}

TEST_CASE("Reciprocity", "[air]") {
    // Above the air, radiance x m0 is the same when sun and view change places (Helmholtz; Chandrasekhar 1960, section 13).
    const AirSettings settings = airKeys().defaults();
    for (const double a : {0.0, 20.0, 45.0, 70.0, 85.0}) {
        for (const double b : {10.0, 33.0, 60.0, 80.0}) {
            const Air first = airAt(settings, a);
            const Air second = airAt(settings, b);
            const double haze_first = up(first, 4e7, 120.0, second.sunAirMass(), -0.4).haze * first.sunAirMass();
            const double haze_second = up(second, 4e7, 120.0, first.sunAirMass(), -0.4).haze * second.sunAirMass();
            CHECK(haze_first == Approx(haze_second).epsilon(1e-12));
        }
    }
}

TEST_CASE("Energy: what is scattered once meets what the beam lost in thin air, and never exceeds it", "[air]") {
    // Per level area and normal irradiance the beam loses (1 - exp(-m0 t)) / m0: a path of air mass m crosses levels under
    // the cosine 1 / m. Counted so, up and down together give it all back as t -> 0 (conservative scattering).
    struct Row {
        double sun_zenith_deg, asymmetry;
    };
    const Row row = GENERATE(Row{0.0, 0.0}, Row{0.0, 0.65}, Row{40.0, 0.65}, Row{40.0, -0.5}, Row{65.0, 0.0}, Row{65.0, 0.65},
                             Row{85.0, 0.3});
    const auto by_path = [](double zenith) { return 1.0 / relativeAirMass(zenith); };
    double previous = 1.0001;
    for (const double depth : {1e-6, 0.05, 0.2, 0.8, 2.0}) {
        const Air air = airAt(aerosolOnly(depth, row.asymmetry), row.sun_zenith_deg);
        const double lost = -std::expm1(-air.sunAirMass() * depth) / air.sunAirMass();
        const double returned = hemisphere(downwards(air, row.sun_zenith_deg), 400, 400, by_path) +
                                hemisphere(upwards(air, row.sun_zenith_deg), 400, 400, by_path);
        INFO("sun " << row.sun_zenith_deg << " deg, g " << row.asymmetry << ", depth " << depth << ": " << returned / lost);
        CHECK(returned / lost < previous);
        if (depth == 1e-6) CHECK(returned / lost == Approx(1.0).epsilon(0.0).margin(1e-4));
        previous = returned / lost;
        // A level plane counts cos z, which is less than 1 / m near the horizon (Kasten and Young): a few per cent less.
        const double level = down(air, 0.0).sky + hemisphere(upwards(air, row.sun_zenith_deg));
        CHECK(level < returned);
        CHECK(level > 0.94 * returned);
    }
}

TEST_CASE("Energy of molecules and of absorbing aerosol", "[air]") {
    const auto by_path = [](double zenith) { return 1.0 / relativeAirMass(zenith); };
    AirSettings absorbing = aerosolOnly(1e-6);
    absorbing.aerosol_albedo = 0.7;
    struct Row {
        AirSettings settings;
        double share;
    };
    for (const Row& row : {Row{moleculesOnly(1.0), 1.0}, Row{absorbing, 0.7}}) {
        const Air air = airAt(row.settings, 35.0);
        const double lost = -std::expm1(-air.sunAirMass() * air.opticalDepth(0)) / air.sunAirMass();
        const double returned =
            hemisphere(downwards(air, 35.0), 400, 400, by_path) + hemisphere(upwards(air, 35.0), 400, 400, by_path);
        CHECK(returned / lost == Approx(row.share).epsilon(1e-4));
    }
}

TEST_CASE("Without depth nothing happens", "[air]") {
    AirSettings empty = aerosolOnly(0.0);
    AirSettings off = airKeys().defaults();
    off.on = false;
    for (const AirSettings& settings : {empty, off}) {
        const Air air = airAt(settings, 50.0);
        CHECK(down(air, 100.0).beam == 1.0);
        CHECK(down(air, 100.0).sky == 0.0);
        CHECK(up(air, 5000.0, 100.0, 1.3, -0.5).through == 1.0);
        CHECK(up(air, 5000.0, 100.0, 1.3, -0.5).haze == 0.0);
        CHECK(air.skyRadiance(0, 100.0, {0.0, 0.0, 1.0}, direction(0.9, 0.0)) == 0.0);
    }
}

TEST_CASE("With the sun down there is no light, but the view is still dimmed", "[air]") {
    for (const double zenith_deg : {90.0, 95.0, 179.0}) {
        const Air air = airAt(airKeys().defaults(), zenith_deg);
        CHECK_FALSE(air.sunIsUp());
        CHECK(down(air, 0.0).beam == 0.0);
        CHECK(down(air, 0.0).sky == 0.0);
        CHECK(up(air, 5000.0, 0.0, 1.0, -0.5).haze == 0.0);
        CHECK(up(air, 5000.0, 0.0, 1.0, -0.5).through < 0.95);
        CHECK(air.skyRadiance(0, 0.0, {0.0, 0.0, 1.0}, direction(radiansFromDegrees(zenith_deg), 0.0)) == 0.0);
    }
    AirSettings off = airKeys().defaults();
    off.on = false;
    CHECK(down(airAt(off, 95.0), 0.0).beam == 0.0);
    // Light fades towards the horizon without a jump.
    CHECK(down(airAt(airKeys().defaults(), 89.999), 0.0).beam < 0.002);
}

TEST_CASE("Higher ground has a brighter beam and a darker sky, and a higher sensor sees more haze", "[air]") {
    const Air air = airAt(airKeys().defaults(), 40.0);
    Down previous = down(air, -500.0);
    for (double h = -499.0; h < 9500.0; h += 1.0) {  // over the end of the tables
        const Down now = down(air, h);
        if (!(now.beam > previous.beam && now.sky < previous.sky)) FAIL("at " << h << " m");
        previous = now;
    }
    Up low = up(air, 10.0, 0.0, 1.2, -0.5);
    for (double h = 20.0; h < 30000.0; h *= 1.1) {
        const Up now = up(air, h, 0.0, 1.2, -0.5);
        CHECK(now.haze > low.haze);
        CHECK(now.through < low.through);
        low = now;
    }
    // Above the air nothing changes any more.
    CHECK(up(air, 2e5, 0.0, 1.2, -0.5).haze == Approx(up(air, 4e7, 0.0, 1.2, -0.5).haze).epsilon(1e-8));
    // To above the air and back: transmission to the ground is the beam of a sun with that air mass.
    CHECK(up(air, 4e7, 0.0, air.sunAirMass(), -0.5).through == Approx(down(air, 0.0).beam).epsilon(1e-12));
}

TEST_CASE("More aerosol: less beam, and more haze and more sky while the air is thin", "[air]") {
    double beam = 1.0, through = 1.0, haze = 0.0, sky = 0.0;
    for (double depth = 0.0; depth <= 2.0; depth += 0.1) {
        AirSettings settings = airKeys().defaults();
        settings.aerosol_depth = depth;
        const Air air = airAt(settings, 40.0);
        const Down d = down(air, 0.0);
        const Up u = up(air, 4e7, 0.0, 1.1, -0.5);
        CHECK(d.beam < beam);
        CHECK(u.through < through);
        // Later the aerosol hides molecules, which scatter more in this direction, and the light itself gets scarce.
        if (depth < 0.5) CHECK(u.haze > haze);
        if (depth < 0.5) CHECK(d.sky > sky);
        beam = d.beam;
        through = u.through;
        haze = u.haze;
        sky = d.sky;
    }
    // One kind alone: haze grows with depth all the way.
    haze = 0.0;
    for (double depth = 0.1; depth <= 2.0; depth += 0.1) {
        const double thicker = up(airAt(aerosolOnly(depth), 40.0), 4e7, 0.0, 1.1, -0.5).haze;
        CHECK(thicker > haze);
        haze = thicker;
    }
}

TEST_CASE("Blue haze is brighter than red, and the sky is brightest around the sun", "[air]") {
    std::vector<Band> bands(2);
    bands[0].from_um = 0.45;
    bands[0].to_um = 0.52;
    bands[1].from_um = 0.63;
    bands[1].to_um = 0.69;
    const Air air(airKeys().defaults(), solarSpectrum(), bands, radiansFromDegrees(50.0));
    CHECK(up(air, 4e7, 0.0, 1.0, -0.6, 0).haze > 1.5 * up(air, 4e7, 0.0, 1.0, -0.6, 1).haze);
    CHECK(down(air, 0.0, 0).sky > 1.5 * down(air, 0.0, 1).sky);
    CHECK(down(air, 0.0, 0).beam < down(air, 0.0, 1).beam);
    const Vec3 sun = direction(radiansFromDegrees(50.0), 1.0);
    const double beside = air.skyRadiance(0, 0.0, direction(radiansFromDegrees(50.0), 1.1), sun);
    const double away = air.skyRadiance(0, 0.0, direction(radiansFromDegrees(50.0), 1.0 + 0.5 * turn), sun);
    CHECK(beside > 2.0 * away);
    // Below the horizon the horizon is painted on.
    const double horizon = air.skyRadiance(0, 0.0, direction(0.25 * turn, 2.0), sun);
    CHECK(air.skyRadiance(0, 0.0, direction(0.25 * turn + 0.2, 2.0), sun) == Approx(horizon).epsilon(1e-9));
    CHECK(std::isfinite(air.skyRadiance(0, 0.0, {0.0, 0.0, -1.0}, sun)));
}

TEST_CASE("Looking up, level, from space, from a pit: always a number", "[air]") {
    AirSettings thick = airKeys().defaults();
    thick.aerosol_depth = 2.0;
    thick.aerosol_height_m = 500.0;
    for (const double sun_deg : {0.0, 60.0, 89.9}) {
        for (const AirSettings& settings : {airKeys().defaults(), thick}) {
            const Air air = airAt(settings, sun_deg);
            for (const double sensor : {-400.0, 0.0, 37.5, 1000.0, 9000.0, 12000.0, 7e5, 4e7}) {
                for (const double ground : {-1000.0, -500.0, 0.0, 37.5, 1000.0, 9000.0, 9001.0, 50000.0}) {
                    for (const double mass : {0.9997, 1.5, air.sunAirMass(), 37.9}) {
                        const Up u = up(air, sensor, ground, mass, -0.3);
                        CHECK(u.through >= 0.0);
                        CHECK(u.through <= 1.0);
                        CHECK(u.haze >= 0.0);
                        CHECK(std::isfinite(u.haze));
                        if (sensor == ground) CHECK(u.through == 1.0);
                        if (sensor == ground) CHECK(u.haze == 0.0);
                    }
                    const Down d = down(air, ground);
                    CHECK(d.beam >= 0.0);
                    CHECK(d.beam <= 1.0);
                    CHECK(d.sky >= 0.0);
                    CHECK(std::isfinite(d.sky));
                }
            }
        }
    }
    const Air air = airAt(airKeys().defaults(), 30.0);
    CHECK(std::isnan(down(air, std::numeric_limits<double>::quiet_NaN()).beam));
}

TEST_CASE("The same bits however a line is cut", "[air]") {
    const Air air = airAt(airKeys().defaults(), 48.0);
    const std::size_t count = 777;
    std::vector<double> ground(count), mass(count), cosine(count), beam(count), sky(count), through(count), haze(count);
    for (std::size_t i = 0; i < count; ++i) {
        const double x = static_cast<double>(i);
        ground[i] = 4200.0 + 5500.0 * std::sin(0.05 * x);  // also beyond the tables
        mass[i] = 1.0 + 0.002 * x;
        cosine[i] = std::cos(0.01 * x);
    }
    air.down(0, ground, beam, sky);
    air.up(0, 5000.0, ground, mass, cosine, through, haze);
    for (std::size_t i = 0; i < count; ++i) {
        const Down d = down(air, ground[i]);
        const Up u = up(air, 5000.0, ground[i], mass[i], cosine[i]);
        if (d.beam != beam[i] || d.sky != sky[i] || u.through != through[i] || u.haze != haze[i]) FAIL("sample " << i);
    }
    SUCCEED();
}

TEST_CASE("The air is declared once and checked", "[air]") {
    CHECK(airKeys().rows().size() == 7);
    const AirSettings standard = airKeys().defaults();
    CHECK(standard.on);
    CHECK(standard.aerosol_depth == 0.10);
    CHECK(standard.pressure_Pa == 101325.0);
    const double bad = GENERATE(std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), -2.0, 1e9);
    using A = AirSettings;
    for (double A::*member : {&A::aerosol_depth, &A::angstrom, &A::asymmetry, &A::aerosol_height_m, &A::aerosol_albedo,
                              &A::pressure_Pa}) {
        AirSettings settings = standard;
        settings.*member = bad;
        CHECK_THROWS_AS(airAt(settings, 30.0), std::invalid_argument);
    }
    CHECK_THROWS_AS(airAt(standard, std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
    // The ends of every range work.
    for (const Parameter& row : airKeys().rows()) {
        if (row.kind == Kind::flag) continue;
        for (const double value : {row.least, row.most}) {
            Settings given;
            given.replace(row, value);
            const Air air = airAt(airKeys().read(given), 60.0);
            CHECK(std::isfinite(down(air, 0.0).sky));
            CHECK(std::isfinite(up(air, 4e7, 0.0, 2.0, 0.99).haze));
        }
    }
}
