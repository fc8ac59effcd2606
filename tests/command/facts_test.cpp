// `linefall facts`, `why` and `sun`: the numbers that a machine reads, against closed forms and published values.

#include <catch2/catch.hpp>
#include <cmath>

#include "base/constants.h"
#include "command/program.h"

using namespace linefall;
using namespace linefall::test;
using nlohmann::json;

namespace {

constexpr double degree = constants::pi / 180.0;

json factsOf(const Arguments& more) {
    Arguments all{"facts", "--json"};
    all.insert(all.end(), more.begin(), more.end());
    const Said said = run(all);
    INFO(said.err);
    REQUIRE(said.code == 0);
    return said.json();
}

json sunAt(const Arguments& more) {
    Arguments all{"sun", "--json"};
    all.insert(all.end(), more.begin(), more.end());
    const Said said = run(all);
    INFO(said.err);
    REQUIRE(said.code == 0);
    return said.json();
}

}  // namespace

TEST_CASE("facts of a whisk broom follow from its angles") {
    // 2.5 mrad over 80 deg, 5 km high, 288 km/h: samples 558, spot 12.5 m, one line in 12.5 / 80 s.
    const json f =
        factsOf({"--instrument", "whisk-broom", "--set", "instrument.ifov=2.5 mrad", "--set", "instrument.fov=80 deg", "--set",
                 "flight.height=5 km", "--set", "flight.speed=288 km/h", "--set", "instrument.duty_cycle=50 %"});
    const double half = 40.0 * degree;
    CHECK(f["samples"] == 558);
    CHECK(f["ifov_rad"].get<double>() == Approx(2.5e-3).epsilon(1e-12));
    CHECK(f["fov_rad"].get<double>() == Approx(2.0 * half).epsilon(1e-12));
    CHECK(f["line_period_s"].get<double>() == Approx(12.5 / 80.0).epsilon(1e-12));
    CHECK(f["lines_per_s"].get<double>() == Approx(6.4).epsilon(1e-12));
    CHECK(f["dwell_s"].get<double>() == Approx(0.5 * 12.5 / 80.0 * 2.5e-3 / (2.0 * half)).epsilon(1e-12));
    CHECK(f["gsd_nadir_across_m"].get<double>() == Approx(12.5).epsilon(1e-12));
    CHECK(f["gsd_nadir_along_m"].get<double>() == Approx(12.5).epsilon(1e-12));
    CHECK(f["gsd_edge_across_m"].get<double>() == Approx(12.5 / std::pow(std::cos(half), 2)).epsilon(1e-12));
    CHECK(f["gsd_edge_along_m"].get<double>() == Approx(12.5 / std::cos(half)).epsilon(1e-12));
    CHECK(f["spacing_across_m"].get<double>() == Approx(12.5).epsilon(1e-12));
    CHECK(f["spacing_along_m"].get<double>() == Approx(12.5).epsilon(1e-12));
    CHECK(f["overlap_nadir_m"].get<double>() == Approx(0.0).margin(1e-9));
    CHECK(f["overlap_edge_m"].get<double>() == Approx(12.5 / std::cos(half) - 12.5).epsilon(1e-9));
    CHECK(f["swath_m"].get<double>() == Approx(2.0 * 5000.0 * std::tan(half)).epsilon(1e-12));
    CHECK(f["bits_per_s"].get<double>() == Approx(558.0 * 4 * 12 * 6.4).epsilon(1e-12));
    // On a sphere: sin z = (R + h) / R sin t; swath 2 R (z - t).
    const double radius = 6378137.0;
    const double zenith = std::asin((radius + 5000.0) / radius * std::sin(half));
    CHECK(f["curved"]["earth_radius_m"] == radius);
    CHECK(f["curved"]["zenith_edge_rad"].get<double>() == Approx(zenith).epsilon(1e-12));
    CHECK(f["curved"]["swath_m"].get<double>() == Approx(2.0 * radius * (zenith - half)).epsilon(1e-9));
    REQUIRE(f["bands"].size() == 4);
    for (const json& band : f["bands"]) {
        CHECK(band["snr"].get<double>() > 1.0);
        CHECK(band["noise_equivalent_radiance_W_m2_sr_um"].get<double>() * band["snr"].get<double>() ==
              Approx(band["reference_radiance_W_m2_sr_um"].get<double>()).epsilon(1e-9));
        CHECK(band["saturation_radiance_W_m2_sr_um"].get<double>() > band["reference_radiance_W_m2_sr_um"].get<double>());
    }
}

TEST_CASE("facts of a push broom from an orbit, and an edge that looks past the Earth") {
    const json f = factsOf({"--instrument", "push-broom", "--set", "flight.height=800 km", "--set", "flight.speed=6.6 km/s",
                            "--set", "earth.radius=6371 km", "--set", "instrument.focal_length=80 cm", "--set",
                            "instrument.detector_pitch=13 um", "--set", "instrument.samples=6000"});
    CHECK(f["gsd_nadir_across_m"].get<double>() == Approx(13.0).epsilon(1e-9));
    CHECK(f["swath_m"].get<double>() == Approx(78000.0).epsilon(1e-9));
    CHECK(f["fov_rad"].get<double>() == Approx(2.0 * std::atan(3000 * 13e-6 / 0.8)).epsilon(1e-12));
    CHECK(f["curved"]["earth_radius_m"] == 6371000.0);
    CHECK(f["curved"]["swath_m"].get<double>() > 78000.0);
    // From 800 km the Earth's edge lies asin(R / (R + h)) = 62.7 deg from nadir: a field of 130 deg misses it.
    CHECK(std::asin(6371.0 / 7171.0) / degree == Approx(62.68).margin(0.01));
    const json g = factsOf({"--instrument", "push-broom", "--set", "flight.height=800 km", "--set", "flight.speed=6.6 km/s",
                            "--set", "instrument.fov=130 deg"});
    CHECK(g["curved"]["swath_m"].is_null());
    CHECK(g["curved"]["gsd_edge_across_m"].is_null());
    CHECK(g["curved"]["zenith_edge_rad"].is_null());
    CHECK(g["curved"]["reason"] == "the edge of the field looks past the Earth");
    CHECK(g["swath_m"].get<double>() == Approx(2 * 800e3 * std::tan(65.0 * degree)).epsilon(1e-3));
}

TEST_CASE("facts of a frame have no line period, and say why, and several instruments give a list") {
    const json f = factsOf({"--instrument", "frame-camera"});
    CHECK(f["line_period_s"].is_null());
    CHECK(f["line_period_reason"] == "all lines of a frame are taken at once");
    CHECK(f["bits_per_s"].is_null());
    CHECK(f["bits_per_frame"].get<double>() == 1240.0 * 1240.0 * 3 * 12);
    const json two = factsOf({"--instrument", "frame-camera", "--instrument", "push-broom"});
    REQUIRE(two.size() == 2);
    CHECK(two[1]["kind"] == "push-broom");
    const Said words = run({"facts", "--instrument", "push-broom"});
    CHECK(words.code == 0);
    CHECK(words.out.find("swath") != std::string::npos);
}

TEST_CASE("why tells the walk, and its trace gives the counts of the image") {
    const std::string out = fresh("why");
    REQUIRE(run(smallForm(out)).code == 0);
    const Said said = run({"why", out + "/state.toml", "--sample", "20", "--line", "3", "--json"});
    INFO(said.err);
    REQUIRE(said.code == 0);
    const json w = said.json();
    for (const char* key : {"time_s", "position_m", "yaw_rad", "pitch_rad", "roll_rad", "look", "ground_m", "normal", "material",
                            "slant_range_m", "view_incidence_rad", "local_view_incidence_rad", "sun_incidence_rad",
                            "local_incidence_rad", "sun", "counts", "trace"}) {
        CAPTURE(key);
        CHECK(w.contains(key));
    }
    for (const char* band : {"blue", "green", "red", "infrared"}) {
        CHECK(w["counts"][band] == counts(out + "/whisk-broom." + band + ".png").at(20, 3));
    }
    // The look is a unit vector from the position to the ground point.
    double length = 0.0, off = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
        const double d = w["look"][i].get<double>();
        length += d * d;
        off = std::max(off, std::abs(w["position_m"][i].get<double>() + d * w["slant_range_m"].get<double>() -
                                     w["ground_m"][i].get<double>()));
    }
    CHECK(length == Approx(1.0).epsilon(1e-12));
    CHECK(off < 1e-3);
    bool counted = false;
    for (const json& row : w["trace"]) {
        for (const char* key : {"stage", "symbol", "meaning", "value", "unit", "band", "contribution"})
            REQUIRE(row.contains(key));
        counted = counted || row["stage"] == "counts";
    }
    CHECK(counted);
    const Said beyond = run({"why", out + "/state.toml", "--sample", "20", "--line", "99999", "--json"});
    CHECK(beyond.code == 2);
    CHECK(beyond.out.empty());
    CHECK(beyond.err.find("line, sample: read 99999, 20, expected a line of 0 to ") == 0);
    CHECK(run({"why", out + "/state.toml", "--sample", "-1", "--line", "0"}).code == 2);
    CHECK(run({"why", out + "/state.toml", "--sample", "2.5", "--line", "0"}).code == 2);
}

TEST_CASE("the sun of the published example") {
    // I. Reda, A. Andreas, Solar Position Algorithm, NREL/TP-560-34302 (2008), table A5.1: zenith 50.11162 deg, azimuth
    // 194.34024 deg; sunrise 06:12:43, sunset 17:20:19. It reckons by the day of UT: its sunset is at 00:20 UT on the 17th, in
    // local time the evening before.
    const json s = sunAt({"--time", "2003-10-17T12:30:30-07:00", "--latitude", "39.742476", "--longitude", "-105.1786",
                          "--altitude", "1830.14 m", "--pressure", "820 hPa", "--temperature", "11 C"});
    CHECK(s["zenith_deg"].get<double>() == Approx(50.11162).margin(0.002));
    CHECK(s["azimuth_deg"].get<double>() == Approx(194.34024).margin(0.002));
    CHECK(s["elevation_unrefracted_deg"].get<double>() + s["refraction_deg"].get<double>() ==
          Approx(90.0 - s["zenith_deg"].get<double>()).margin(1e-9));
    CHECK(s["distance_au"].get<double>() == Approx(0.9965).margin(1e-4));
    CHECK(s["sunrise"].get<std::string>().rfind("2003-10-17T06:12:43", 0) == 0);
    CHECK(s["sunset"].get<std::string>().find("-07:00") != std::string::npos);
    const json before = sunAt({"--time", "2003-10-16T12:30:30-07:00", "--latitude", "39.742476", "--longitude", "-105.1786",
                               "--altitude", "1830.14 m", "--pressure", "820 hPa", "--temperature", "11 C"});
    CHECK(before["sunset"].get<std::string>().rfind("2003-10-16T17:20:19", 0) == 0);
}

TEST_CASE("negative angles, units, polar day and polar night") {
    const json plain = sunAt({"--time", "2026-12-21T12:00:00+10:00", "--latitude", "-35", "--longitude", "149.1"});
    const json text = sunAt({"--time", "2026-12-21T02:00:00Z", "--latitude", "-35 deg", "--longitude", "149.1 deg"});
    const json equals = sunAt({"--time=2026-12-21T02:00:00Z", "--latitude=-35", "--longitude=149.1"});
    CHECK(plain["zenith_deg"] == text["zenith_deg"]);
    CHECK(plain["azimuth_deg"] == equals["azimuth_deg"]);
    CHECK(plain["zenith_deg"].get<double>() == Approx(35.0 - 23.44).margin(0.5));
    CHECK(std::cos(plain["azimuth_deg"].get<double>() * degree) > 0.9);  // south of the tropic the noon sun stands in the north

    const json day = sunAt({"--time", "2026-06-21T12:00:00+01:00", "--latitude", "78", "--longitude", "15"});
    CHECK(day["sunrise"].is_null());
    CHECK(day["sunset"].is_null());
    CHECK(day["reason"].get<std::string>().find("polar day") != std::string::npos);
    const json night = sunAt({"--time", "2026-12-21T12:00:00+01:00", "--latitude", "78", "--longitude", "15"});
    CHECK(night["sunrise"].is_null());
    CHECK(night["reason"].get<std::string>().find("polar night") != std::string::npos);
    CHECK(night["elevation_unrefracted_deg"].get<double>() < 0.0);
}

TEST_CASE("wrong times and places of the sun are told all at once") {
    const Said said = run({"sun", "--time", "noon", "--latitude", "91", "--longitude", "east", "--altitude", "5", "--pressure",
                           "1 bar", "--temperature", "-300 C", "--json"});
    CHECK(said.code == 2);
    CHECK(said.out.empty());
    for (const char* message : {"--time: read 'noon', expected an instant such as 2026-06-21T12:00:00+01:00",
                                "--latitude: read '91', expected an angle of -90 to 90 deg",
                                "--longitude: read 'east', expected an angle of -180 to 180 deg",
                                "--altitude: read '5', expected a number with a unit of length",
                                "--pressure: read '1 bar', expected a number with a unit of pressure",
                                "--temperature: read '-300 C', expected 150 K to 350 K"}) {
        CAPTURE(message, said.err);
        CHECK(said.err.find(message) != std::string::npos);
    }
    CHECK(run({"sun", "--latitude", "5", "--longitude", "5"}).code == 2);  // without a time
    CHECK(run({"sun", "--time", "2026-02-30T00:00:00Z", "--latitude", "5", "--longitude", "5"}).code == 2);
}
