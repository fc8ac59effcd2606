// The whisk broom's published rows, through facts; geometry and timing of its sweeps.

#include "instruments/whisk_broom.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Scene whisk(const Sets& sets) { return sceneOf("slopes", oneBand("whisk-broom"), sets, false); }
Facts whiskFacts(const Sets& sets) { return factsOfScene(whisk(sets), 0); }

std::unique_ptr<Instrument> madeWhisk(const Sets& sets) {
    Problems problems;
    auto instrument = makeInstrument(whisk(sets), 0, problems);
    REQUIRE(problems.empty());
    return instrument;
}

}  // namespace

TEST_CASE("IFOV 2.5 mrad, FOV 90 deg, 288 km/h, 8 km: cells of 20 m, a swath of 16 km, 4 lines a second, 628 samples", "[whisk broom]") {
    // Columbia/LDEO homework 3 (inputs), rest computed (optical.md, Whisk broom).
    const Sets sets{"instrument.ifov=2.5 mrad", "instrument.fov=90 deg", "flight.speed=288 km/h", "flight.height=8 km"};
    const Facts f = whiskFacts(sets);
    CHECK(f.flat.nadir.cell.across_m == Approx(20.0));
    CHECK(f.flat.nadir.cell.along_m == Approx(20.0));
    CHECK(f.flat.swath_m == Approx(16000.0));
    CHECK(1.0 / f.derived.line_period_s == Approx(4.0));
    CHECK(f.derived.samples == 628);
    CHECK(f.flat.edge.cell.across_m == Approx(20.0 * 2.0));             // sec^2 of 45 degrees
    CHECK(f.flat.edge.cell.along_m == Approx(20.0 * std::sqrt(2.0)));   // sec
    CHECK(f.flat.overlap_nadir_m == Approx(0.0).margin(1e-9));
    CHECK(f.flat.overlap_edge_m == Approx(20.0 * (std::sqrt(2.0) - 1.0)));
    // Dwell: 398 us at 100 % duty, 99 us for one facet of a mirror that turns through 360 degrees (1 us).
    CHECK(whiskFacts(sets + Sets{"instrument.duty_cycle=100 %"}).derived.dwell_s == Approx(398e-6).epsilon(0.0).margin(1e-6));
    CHECK(whiskFacts(sets + Sets{"instrument.facets=1"}).derived.dwell_s == Approx(99e-6).epsilon(0.0).margin(1e-6));
    CHECK(whiskFacts(sets + Sets{"instrument.facets=4"}).derived.duty_cycle == Approx(1.0));
}

TEST_CASE("swaths on the round Earth: 2330 km from 705 km at +-55 degrees, 1502 km at +-45 degrees", "[whisk broom]") {
    // NASA, MODIS specifications (5 km) and SeaWiFS GAC (0.5 km) (optical.md, A); flat ground would give 2014 and 1410 km.
    const Facts wide = whiskFacts({"instrument.fov=110 deg", "flight.height=705 km", "flight.speed=6.7 km/s", "flight.length=100 km"});
    CHECK(wide.curved->swath_m == Approx(2330e3).epsilon(0.0).margin(5e3));
    CHECK(wide.flat.swath_m == Approx(2014e3).epsilon(0.0).margin(0.5e3));
    const Facts narrow = whiskFacts({"instrument.fov=90 deg", "flight.height=705 km", "flight.speed=6.7 km/s", "flight.length=100 km"});
    CHECK(narrow.curved->swath_m == Approx(1502e3).epsilon(0.0).margin(0.5e3));
    CHECK(narrow.flat.swath_m == Approx(1410e3).epsilon(0.0).margin(0.5e3));
}

TEST_CASE("pixels grow with the scan angle on a round Earth of 6378.16 km as the exercise computes", "[whisk broom]") {
    // 833 km, 1.09 km at nadir; university exercise (inputs), computed (optical.md); 0.005 km. Angle: the edge of a field twice as wide.
    struct Row {
        double angle_deg, across_km, along_km;
    };
    const Row row = GENERATE(Row{15, 1.186, 1.134}, Row{25, 1.389, 1.220}, Row{35, 1.808, 1.376}, Row{45, 2.761, 1.659}, Row{55, 6.003, 2.264});
    const Facts f = whiskFacts({"instrument.ifov=" + std::to_string(1.09 / 833.0 * 1e3) + " mrad", "instrument.fov=" + std::to_string(2.0 * row.angle_deg) + " deg", "flight.height=833 km",
                              "flight.speed=6.6 km/s", "flight.length=100 km", "earth.radius=6378.16 km"});
    CHECK(f.curved->nadir.cell.across_m == Approx(1090.0).margin(0.5));
    CHECK(f.curved->edge.cell.across_m / 1e3 == Approx(row.across_km).epsilon(0.0).margin(0.005));
    CHECK(f.curved->edge.cell.along_m / 1e3 == Approx(row.along_km).epsilon(0.0).margin(0.005));
}

TEST_CASE("at the edge of a wide-swath meteorological scanner the pixel has grown six-fold across the track", "[whisk broom]") {
    // Schueler, Lee and Miller 2013, IJRS 34(16) (optical.md, A, coarse: 10 %): 833 km, +-55.4 degrees.
    const Facts f = whiskFacts({"instrument.ifov=1.3 mrad", "instrument.fov=110.8 deg", "flight.height=833 km", "flight.speed=6.6 km/s", "flight.length=100 km"});
    CHECK(f.curved->edge.cell.across_m / f.curved->nadir.cell.across_m == Approx(6.0).epsilon(0.10));
    // Not to be tested against 2399 km, which is near the flat value (optical.md, Traps): curved 2924, flat 2415 km.
    CHECK(f.curved->swath_m == Approx(2924e3).margin(3e3));
    CHECK(f.flat.swath_m == Approx(2415e3).margin(1.5e3));
    CHECK(f.curved->edge.zenith_rad > f.flat.edge.zenith_rad);
}

TEST_CASE("360 rpm, 39 936 samples a second, 2048 samples: steps of 0.0541 degrees, outer angle 55.37 degrees, 51.2 ms", "[whisk broom]") {
    // NOAA KLM User's Guide, appendix J, table J-1 (optical.md, A). One facet, six lines a second; the IFOV is larger than the step.
    const double step_deg = 360.0 * 6.0 / 39936.0;
    CHECK(step_deg == Approx(0.0541).epsilon(0.0).margin(5e-5));
    char step[64];
    std::snprintf(step, sizeof step, "instrument.sample_step=%.17g deg", step_deg);
    const Facts f = whiskFacts({step, "instrument.ifov=1.3 mrad", "instrument.samples=2048", "instrument.line_rate=6 Hz", "instrument.facets=1", "flight.height=833 km", "flight.speed=6.6 km/s", "flight.length=100 km"});
    CHECK(degreesFromRadians(f.derived.sample_step_rad) == Approx(0.0541).epsilon(0.0).margin(5e-5));
    CHECK(degreesFromRadians(0.5 * 2047.0 * f.derived.sample_step_rad) == Approx(55.37).epsilon(0.0).margin(0.02));
    CHECK(1.0 / f.derived.dwell_s == Approx(39936.0).epsilon(1e-9));
    CHECK(2048.0 * f.derived.dwell_s == Approx(51.2e-3).epsilon(0.0).margin(0.1e-3));
    // Distance between lines, six a second: 1.09 km (KLM table 8.3.1.3.1-1, B; 0.01). Ground speed of a circular orbit at 833 km:
    // sqrt(GM / (R + h)) R / (R + h).
    const double r = constants::earth_radius_m, a = r + 833e3;
    const double ground_speed = std::sqrt(constants::earth_gm_m3_s2 / a) * r / a;
    const Facts orbit = whiskFacts({"instrument.ifov=1.3 mrad", "instrument.line_rate=360 rpm", "flight.height=833 km", "flight.speed=" + std::to_string(ground_speed) + " m/s", "flight.length=100 km"});
    CHECK(orbit.flat.spacing_along_m / 1e3 == Approx(1.09).epsilon(0.0).margin(0.01));
}

TEST_CASE("the outer sample looks (n - 1) steps / 2 off nadir: 49.5, 35 and 47.3685 degrees", "[whisk broom]") {
    // NOAA KLM User's Guide, appendix J: 56 x 1.8, 8 x 10, 11 x 9.4737 degrees (optical.md, A), exact. Measured in the looks.
    struct Row {
        int n;
        double step_deg, outer_deg;
    };
    const Row row = GENERATE(Row{56, 1.8, 49.5}, Row{8, 10.0, 35.0}, Row{11, 9.4737, 47.3685});
    const auto instrument = madeWhisk({"instrument.samples=" + std::to_string(row.n), "instrument.sample_step=" + std::to_string(row.step_deg) + " deg", "instrument.ifov=20 mrad", "flight.height=833 km",
                                  "flight.speed=6.6 km/s", "flight.length=1000 km"});
    const auto angle = [&](int s) { return degreesFromRadians(std::atan2(instrument->look(0, s, {}).direction.y, instrument->look(0, s, {}).direction.z)); };
    CHECK(angle(0) == Approx(row.outer_deg).epsilon(1e-12));  // column 0 is starboard
    CHECK(angle(row.n - 1) == Approx(-row.outer_deg).epsilon(1e-12));
}

TEST_CASE("ten detectors behind a two-sided mirror at 20.3 rpm: 1.478 s a scan and 10 km along the track", "[whisk broom]") {
    // NASA, MODIS specifications (optical.md, A; 0.005 s, 0.1 km). Two scans a turn, ten lines a scan.
    const Facts f = whiskFacts({"instrument.detectors=10", "instrument.ifov=" + std::to_string(1.0 / 705.0 * 1e3) + " mrad", "instrument.fov=110 deg", "instrument.facets=2",
                              "instrument.line_rate=" + std::to_string(20.3 / 60.0 * 2.0 * 10.0) + " Hz", "flight.height=705 km", "flight.speed=6.76 km/s", "flight.length=1000 km"});
    CHECK(f.derived.scan_period_s == Approx(1.478).epsilon(0.0).margin(0.005));
    CHECK(10.0 * f.flat.nadir.cell.along_m / 1e3 == Approx(10.0).margin(0.1));
    CHECK(6.76e3 * f.derived.scan_period_s / 1e3 == Approx(10.0).margin(0.1));
    CHECK(f.derived.lines % 10 == 0);
    CHECK(f.flat.overlap_edge_m > 5000.0);  // the bow tie: neighbouring scans overlap at the edge
}

TEST_CASE("footprints: 0.0495 degrees from 955 km is 825 m, 1.6 mrad from 705 km is 1.13 km", "[whisk broom]") {
    // Gordon and Morel 1983, app. I (0.5 m); NASA GCMD (0.005 km) (optical.md, A).
    const Sets orbit{"flight.speed=6.6 km/s", "flight.length=100 km"};
    CHECK(whiskFacts(orbit + Sets{"instrument.ifov=0.0495 deg", "flight.height=955 km"}).flat.nadir.cell.across_m == Approx(825.0).epsilon(0.0).margin(0.5));
    CHECK(whiskFacts(orbit + Sets{"instrument.ifov=1.6 mrad", "flight.height=705 km"}).flat.nadir.cell.across_m / 1e3 == Approx(1.13).epsilon(0.0).margin(0.005));
}

TEST_CASE("in a sweep of 0.56 s at 6.7 km/s the platform moves 3.75 km", "[whisk broom]") {
    // NOAA training slides (optical.md, A; 0.05 km). A line of 1 s with a duty cycle of 56 %, measured in times of looks.
    const auto i = madeWhisk({"instrument.line_rate=1 Hz", "instrument.duty_cycle=56 %", "instrument.ifov=2 mrad", "instrument.samples=900", "flight.height=833 km", "flight.speed=6.7 km/s", "flight.length=100 km"});
    const double sweep = i->lookTime_s(0, i->samples() - 1, 0.5) - i->lookTime_s(0, 0, -0.5);
    CHECK(sweep == Approx(0.56).epsilon(1e-9));
    CHECK(6.7 * sweep == Approx(3.75).margin(0.05));
}

TEST_CASE("dwell of 256 detectors in one scan against a full array at 30 m and 6.76 km/s: 24.1 us and 4.44 ms", "[whisk broom]") {
    // SMAD, 3rd ed., table 9-15 (optical.md, A; 1 % and 0.01 ms): 4.7e4 cells across.
    const Facts f = whiskFacts({"instrument.detectors=256", "instrument.samples=47000", "instrument.ifov=" + std::to_string(30.0 / 700e3 * 1e3) + " mrad", "instrument.duty_cycle=100 %",
                              "flight.height=700 km", "flight.speed=6.76 km/s", "flight.length=100 km"});
    CHECK(f.derived.dwell_s == Approx(24.1e-6).epsilon(0.01));
    CHECK(f.derived.line_period_s == Approx(4.44e-3).epsilon(0.0).margin(0.01e-3));
    // An aircraft: 2e-2 s a line of 2000 cells is 1e-5 s each (Sabins, Remote Sensing, M), exact.
    const Facts aircraft = whiskFacts({"instrument.samples=2000", "instrument.ifov=1 mrad", "instrument.line_rate=50 Hz", "instrument.duty_cycle=100 %", "flight.height=3 km"});
    CHECK(aircraft.derived.dwell_s == Approx(1e-5).epsilon(1e-12));
}

TEST_CASE("one-way sweeps all start at starboard - two-way sweeps go to and fro - and no time runs backwards", "[whisk broom]") {
    const auto one = madeWhisk({"instrument.samples=700", "instrument.duty_cycle=80 %", "flight.length=200 m"}),
               two = madeWhisk({"instrument.samples=700", "instrument.sweep=two-way", "instrument.duty_cycle=80 %", "flight.length=200 m"});
    const int last = one->samples() - 1;
    for (const Instrument* i : {one.get(), two.get()}) {
        for (const int line : {0, 1, 2, 3}) {
            const bool back = i == two.get() && line % 2 == 1;
            CHECK((i->lookTime_s(line, 0, 0.0) > i->lookTime_s(line, last, 0.0)) == back);
            CHECK(i->look(line, 0, {}).direction.y > 0.5);  // column 0 is starboard either way
            CHECK(0.5 * (i->lookTime_s(line, 0, 0.0) + i->lookTime_s(line, last, 0.0)) == Approx(i->lineTime_s(line)));
            CHECK(std::max(i->lookTime_s(line, 0, 0.0), i->lookTime_s(line, last, 0.0)) < std::min(i->lookTime_s(line + 1, 0, 0.0), i->lookTime_s(line + 1, last, 0.0)));
            // During a dwell the mirror turns on in the direction of its sweep.
            const double before = i->look(line, 50, {0.0, 0.0, -0.5}).direction.y, after = i->look(line, 50, {0.0, 0.0, 0.5}).direction.y;
            CHECK((after < before) == !back);
        }
    }
    // To and fro, the ends of two neighbouring sweeps meet in time on one side: 20 % of the period apart.
    const double period = two->derived().scan_period_s;
    CHECK(two->lookTime_s(1, last, -0.5) - two->lookTime_s(0, last, 0.5) == Approx(0.2 * period).epsilon(1e-6));
    CHECK(one->lookTime_s(1, 0, -0.5) - one->lookTime_s(0, 0, -0.5) == Approx(period).epsilon(1e-9));
}

TEST_CASE("n detectors look side by side along the track: n lines at the same instant, one IFOV apart", "[whisk broom]") {
    const auto i = madeWhisk({"instrument.detectors=4", "instrument.ifov=5 mrad", "flight.length=400 m"});
    CHECK(i->derived().lines_at_once == 4);
    CHECK(i->lines() % 4 == 0);
    for (int line = 0; line < 4; ++line) {
        CHECK(i->lookTime_s(line, 7, 0.0) == i->lookTime_s(0, 7, 0.0));
        CHECK(i->detectorOf(line, 7) == line);
        CHECK(std::asin(i->look(line, 7, {}).direction.x) == Approx((line - 1.5) * 5e-3).epsilon(1e-9));
    }
    CHECK(i->lookTime_s(4, 7, 0.0) - i->lookTime_s(0, 7, 0.0) == Approx(i->derived().scan_period_s));
    CHECK(i->derived().scan_period_s == Approx(4.0 * i->derived().line_period_s));
}

TEST_CASE("a line rate below auto leaves gaps, one above makes overlap", "[whisk broom]") {
    const Sets sets{"instrument.ifov=2.5 mrad", "flight.height=8 km", "flight.speed=80 m/s"};
    CHECK(whiskFacts(sets + Sets{"instrument.line_rate=2 Hz"}).flat.overlap_nadir_m == Approx(-20.0));  // 40 m apart, 20 m wide
    CHECK(whiskFacts(sets + Sets{"instrument.line_rate=8 Hz"}).flat.overlap_nadir_m == Approx(10.0));
    CHECK(whiskFacts(sets + Sets{"instrument.line_rate=2 Hz"}).flat.spacing_along_m == Approx(40.0));
}

TEST_CASE("given and derived: detector pitch in place of IFOV, samples in place of FOV, facets in place of duty cycle", "[whisk broom]") {
    const Facts pitch = whiskFacts({"instrument.detector_pitch=300 um", "instrument.focal_length=150 mm", "instrument.samples=500"});
    CHECK(pitch.derived.ifov_rad == Approx(2e-3));
    CHECK(pitch.derived.fov_rad == Approx(1.0));
    CHECK(whiskFacts({"instrument.ifov=2 mrad", "instrument.focal_length=150 mm"}).derived.detector_pitch_m == Approx(300e-6));
    for (const Sets& both : {Sets{"instrument.ifov=2 mrad", "instrument.detector_pitch=300 um"}, Sets{"instrument.fov=60 deg", "instrument.samples=500"}, Sets{"instrument.duty_cycle=50 %", "instrument.facets=2"}}) {
        CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), both), Catch::Contains("not both"));
    }
    CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), {"instrument.facets=6", "instrument.fov=80 deg"}), Catch::Contains("instrument.facets"));
}

TEST_CASE("a mirror sees +-60 degrees and not more, from 10 m to 40 000 km", "[whisk broom]") {
    CHECK(complaintsOf("slopes", oneBand("whisk-broom"), {"instrument.fov=120 deg"}).empty());
    CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), {"instrument.fov=121 deg"}), Catch::Contains("instrument.fov"));
    CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), {"instrument.samples=1100", "instrument.ifov=2 mrad"}), Catch::Contains("120 deg"));
    CHECK(complaintsOf("slopes", oneBand("whisk-broom"), {"flight.height=10 m", "flight.length=10 m"}).empty());
    CHECK(complaintsOf("slopes", oneBand("whisk-broom"), {"flight.height=40000 km", "flight.length=40000 km", "flight.speed=3 km/s"}).empty());
    CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), {"flight.height=9 m"}), Catch::Contains("flight.height"));
    CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), {"flight.height=40001 km"}), Catch::Contains("flight.height"));
    CHECK_THAT(complaintsOf("slopes", oneBand("whisk-broom"), {"instrument.ifov=0.0001 mrad"}), Catch::Contains("instrument.fov"));  // too many samples
}
