// Where the platform is and how it is turned: frames, signs, the wind triangle, and attitude as a function of time alone.
#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

#include "base/angle.h"
#include "base/motion.h"

using namespace linefall;

namespace {

FlightSettings flight() { return flightKeys().defaults(); }

void checkVector(const Vec3& got, const Vec3& expected, double margin = 1e-12) {
    INFO("got (" << got.x << ", " << got.y << ", " << got.z << "), expected (" << expected.x << ", " << expected.y << ", "
                 << expected.z << ")");
    CHECK(glm::length(got - expected) < margin);
}

/// Independent route to world_from_platform: the textbook yaw-pitch-roll matrices about z, y, x in north-east-down,
/// R = Rz(yaw) Ry(pitch) Rx(roll), then north-east-down turned into east-north-up.
Mat3 byMatrices(double yaw, double pitch, double roll) {
    const auto rows = [](double a, double b, double c, double d, double e, double f, double g, double h, double i) {
        return Mat3(a, d, g, b, e, h, c, f, i);  // glm takes columns
    };
    const Mat3 rz = rows(std::cos(yaw), -std::sin(yaw), 0, std::sin(yaw), std::cos(yaw), 0, 0, 0, 1);
    const Mat3 ry = rows(std::cos(pitch), 0, std::sin(pitch), 0, 1, 0, -std::sin(pitch), 0, std::cos(pitch));
    const Mat3 rx = rows(1, 0, 0, 0, std::cos(roll), -std::sin(roll), 0, std::sin(roll), std::cos(roll));
    const Mat3 east_north_up_from_ned = rows(0, 1, 0, 1, 0, 0, 0, 0, -1);
    return east_north_up_from_ned * (rz * ry * rx);
}

}  // namespace

TEST_CASE("flying level the platform's axes are forward, starboard and down") {
    FlightSettings f = flight();
    f.heading_rad = 0.0;
    Mat3 m = Motion(f).at(3.0).world_from_platform;
    checkVector(m[0], {0, 1, 0});
    checkVector(m[1], {1, 0, 0});
    checkVector(m[2], {0, 0, -1});
    f.heading_rad = radiansFromDegrees(90.0);
    m = Motion(f).at(3.0).world_from_platform;
    checkVector(m[0], {1, 0, 0});
    checkVector(m[1], {0, -1, 0});
    f.heading_rad = radiansFromDegrees(180.0);
    m = Motion(f).at(3.0).world_from_platform;
    checkVector(m[0], {0, -1, 0});
    checkVector(m[1], {-1, 0, 0});
}

TEST_CASE("positive roll puts starboard down, positive pitch the nose up, positive yaw the nose clockwise") {
    const double tilt = radiansFromDegrees(10.0);
    FlightSettings f = flight();
    f.heading_rad = 0.0;
    f.roll_rad = tilt;
    Mat3 m = Motion(f).at(0.0).world_from_platform;
    checkVector(m[0], {0, 1, 0});
    checkVector(m[1], {std::cos(tilt), 0, -std::sin(tilt)});
    checkVector(m[2], {-std::sin(tilt), 0, -std::cos(tilt)});  // the belly swings to port
    f.roll_rad = 0.0;
    f.pitch_rad = tilt;
    m = Motion(f).at(0.0).world_from_platform;
    checkVector(m[0], {0, std::cos(tilt), std::sin(tilt)});
    checkVector(m[2], {0, std::sin(tilt), -std::cos(tilt)});  // the belly looks ahead
    f.pitch_rad = 0.0;
    f.yaw_rad = tilt;
    m = Motion(f).at(0.0).world_from_platform;
    checkVector(m[0], {std::sin(tilt), std::cos(tilt), 0});
}

TEST_CASE("yaw, pitch and roll act in that order about the platform's own axes") {
    for (const double heading : {0.0, 0.7, 3.0, -2.0}) {
        for (const double yaw : {-0.4, 0.0, 0.3}) {
            for (const double pitch : {-0.6, 0.2}) {
                for (const double roll : {-0.5, 0.4}) {
                    FlightSettings f = flight();
                    f.heading_rad = heading;
                    f.yaw_rad = yaw;
                    f.pitch_rad = pitch;
                    f.roll_rad = roll;
                    const Mat3 got = Motion(f).at(1.0).world_from_platform;
                    const Mat3 expected = byMatrices(heading + yaw, pitch, roll);
                    for (int c = 0; c < 3; ++c) checkVector(got[c], expected[c]);
                }
            }
        }
    }
}

TEST_CASE("the attitude is always a rotation: unit axes at right angles, right-handed") {
    FlightSettings f = flight();
    f.rough_air_rad = radiansFromDegrees(8.0);
    f.roll_swing_rad = 0.5;
    f.yaw_swing_rad = 0.3;
    const Motion motion(f);
    for (int i = 0; i < 500; ++i) {
        const Mat3 m = motion.at(0.37 * i).world_from_platform;
        for (int a = 0; a < 3; ++a) {
            for (int b = 0; b < 3; ++b) CHECK(glm::dot(m[a], m[b]) == Approx(a == b ? 1.0 : 0.0).margin(1e-14));
        }
        checkVector(glm::cross(m[0], m[1]), m[2]);
    }
}

TEST_CASE("without wind the platform moves where its nose points, at the stated speed") {
    FlightSettings f = flight();
    f.start_east_m = 100.0;
    f.start_north_m = -200.0;
    f.heading_rad = radiansFromDegrees(30.0);
    f.height_m = 1500.0;
    f.speed_m_s = 80.0;
    f.length_m = 4000.0;
    const Motion motion(f);
    CHECK(motion.track_rad() == Approx(f.heading_rad).epsilon(1e-14));
    CHECK(motion.duration_s() == 50.0);
    CHECK(motion.height_m() == 1500.0);
    checkVector(motion.at(0.0).position_m, {100.0, -200.0, 1500.0});
    checkVector(motion.at(50.0).position_m, {100.0 + 4000.0 * 0.5, -200.0 + 4000.0 * std::sqrt(0.75), 1500.0}, 1e-9);
}

TEST_CASE("the wind triangle closes: ground velocity less wind lies along the nose, at the stated ground speed") {
    for (const double heading_deg : {0.0, 55.0, 180.0, 300.0}) {
        for (const double from_deg : {0.0, 40.0, 130.0, 270.0}) {
            FlightSettings f = flight();
            f.heading_rad = radiansFromDegrees(heading_deg);
            f.wind_from_rad = radiansFromDegrees(from_deg);
            f.wind_speed_m_s = 20.0;
            f.speed_m_s = 70.0;
            const Motion motion(f);
            const Vec3 v = motion.velocity_m_s();
            CHECK(glm::length(v) == Approx(70.0).epsilon(1e-14));
            CHECK(v.z == 0.0);
            const Vec3 wind{-20.0 * std::sin(f.wind_from_rad), -20.0 * std::cos(f.wind_from_rad), 0.0};
            const Vec3 nose{std::sin(f.heading_rad), std::cos(f.heading_rad), 0.0};
            const Vec3 air = v - wind;
            CHECK(glm::length(glm::cross(air, nose)) < 1e-12);
            CHECK(glm::dot(air, nose) > 0.0);
            CHECK(motion.track_rad() == Approx(wrappedToTurn(std::atan2(v.x, v.y))).margin(1e-14));
        }
    }
}

TEST_CASE("wind from port drives the track to starboard of the nose by the crab angle") {
    FlightSettings f = flight();
    f.heading_rad = 0.0;
    f.wind_from_rad = radiansFromDegrees(270.0);
    f.wind_speed_m_s = 35.0;
    f.speed_m_s = 70.0;
    CHECK(Motion(f).track_rad() == Approx(radiansFromDegrees(30.0)).epsilon(1e-12));  // sin(30 degrees) = 35 / 70
}

TEST_CASE("a wind across the heading as fast as the platform is an input error that names the key") {
    FlightSettings f = flight();
    f.heading_rad = 0.0;
    f.wind_from_rad = radiansFromDegrees(90.0);
    f.speed_m_s = 30.0;
    f.wind_speed_m_s = 30.0;
    try {
        Motion{f};
        FAIL("no error");
    } catch (const InputError& error) {
        REQUIRE(error.problems().size() == 1);
        CHECK(error.problems()[0].key == "flight.wind_speed");
        CHECK(error.problems()[0].read == "30 m/s");
    }
    f.wind_speed_m_s = 29.9;
    CHECK_NOTHROW(Motion{f});
    f.wind_speed_m_s = 50.0;
    f.wind_from_rad = 0.0;  // a head wind, however strong, leaves the track alone
    CHECK(Motion(f).track_rad() == Approx(0.0).margin(1e-12));
}

TEST_CASE("sinusoidal attitude has its amplitude a quarter period after the start and repeats") {
    FlightSettings f = flight();
    f.roll_swing_rad = 0.1;
    f.roll_period_s = 4.0;
    f.pitch_swing_rad = 0.05;
    f.pitch_period_s = 6.0;
    f.yaw_swing_rad = 0.02;
    f.yaw_period_s = 10.0;
    f.roll_rad = 0.01;
    const Motion motion(f);
    checkVector(motion.attitude_rad(0.0), {0.0, 0.0, 0.01});
    CHECK(motion.attitude_rad(1.0)[2] == Approx(0.11));
    CHECK(motion.attitude_rad(1.5)[1] == Approx(0.05));
    CHECK(motion.attitude_rad(2.5)[0] == Approx(0.02));
    checkVector(motion.attitude_rad(0.7), motion.attitude_rad(60.7), 1e-12);
    CHECK_FALSE(motion.steady());
}

TEST_CASE("random attitude is a function of seed and time alone") {
    FlightSettings f = flight();
    f.rough_air_rad = 0.02;
    f.seed = "42";
    const Motion a(f);
    const Motion b(f);
    std::vector<Vec3> forwards;
    for (int i = 0; i < 300; ++i) forwards.push_back(a.attitude_rad(0.1 * i));
    for (int i = 299; i >= 0; --i) CHECK(b.attitude_rad(0.1 * i) == forwards[static_cast<std::size_t>(i)]);
    f.seed = "43";
    CHECK(Motion(f).attitude_rad(1.0) != a.attitude_rad(1.0));
    f.seed = "18446744073709551615";  // the largest seed is a seed of its own
    const Vec3 largest = Motion(f).attitude_rad(1.0);
    f.seed = "18446744073709551614";
    CHECK(Motion(f).attitude_rad(1.0) != largest);
}

TEST_CASE("random attitude has the stated root mean square on every axis, and the axes are independent") {
    FlightSettings f = flight();
    f.rough_air_rad = 0.03;
    f.rough_period_s = 2.0;
    for (const char* seed : {"1", "2", "77"}) {
        f.seed = seed;
        const Motion motion(f);
        // Ten thousand typical periods. The time mean of a product of two sines that differ by w rad/s falls as 1 / (w T);
        // with seven sines an axis 3 % covers the near coincidences of these seeds.
        const int samples = 100000;
        double squares[3] = {0, 0, 0}, means[3] = {0, 0, 0}, products[3] = {0, 0, 0};
        for (int i = 0; i < samples; ++i) {
            const Vec3 a = motion.attitude_rad(0.2 * i);
            for (int k = 0; k < 3; ++k) {
                means[k] += a[k] / samples;
                squares[k] += a[k] * a[k] / samples;
                products[k] += a[k] * a[(k + 1) % 3] / samples;
            }
        }
        for (int k = 0; k < 3; ++k) {
            INFO("seed " << seed << ", axis " << k);
            CHECK(std::sqrt(squares[k]) == Approx(0.03).epsilon(0.03));
            CHECK(std::abs(means[k]) < 0.03 * 0.01);
            CHECK(std::abs(products[k]) < 0.03 * 0.03 * 0.05);
        }
    }
}

TEST_CASE("with attitude switched off the platform is level along its heading") {
    FlightSettings f = flight();
    f.heading_rad = 0.0;
    f.roll_rad = 0.2;
    f.pitch_rad = 0.1;
    f.yaw_rad = 0.3;
    f.rough_air_rad = 0.05;
    f.roll_swing_rad = 0.1;
    f.attitude_on = false;
    const Motion motion(f);
    CHECK(motion.attitude_rad(1.23) == Vec3{0.0});
    CHECK(motion.steady());
    checkVector(motion.at(1.23).world_from_platform[1], {1, 0, 0});
}

TEST_CASE("attitude is steady exactly when nothing swings") {
    FlightSettings f = flight();
    f.roll_rad = 0.1;
    CHECK(Motion(f).steady());
    for (double FlightSettings::*part :
         {&FlightSettings::roll_swing_rad, &FlightSettings::pitch_swing_rad, &FlightSettings::yaw_swing_rad, &FlightSettings::rough_air_rad}) {
        FlightSettings g = f;
        g.*part = 0.01;
        CHECK_FALSE(Motion(g).steady());
    }
}
