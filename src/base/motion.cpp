#include "base/motion.h"

#include <cmath>

#include "base/angle.h"
#include "base/random.h"

namespace linefall {

const Keys<FlightSettings>& flightKeys() {
    using F = FlightSettings;
    static const Keys<F> keys = [] {
        const double turn = 2.0 * constants::pi;
        const double tilt = radiansFromDegrees(45.0);
        Keys<F> k("flight.");
        k.number("start_east", Kind::length, &F::start_east_m, 0.0, -1e8, 1e8, "where the flight begins, east of the place's centre")
            .number("start_north", Kind::length, &F::start_north_m, 0.0, -1e8, 1e8, "where the flight begins, north of the place's centre")
            .number("heading", Kind::angle, &F::heading_rad, radiansFromDegrees(180.0), -turn, turn, "where the nose points, clockwise from north")
            .number("height", Kind::length, &F::height_m, 3000.0, 10.0, 4e7, "height above datum")
            .number("speed", Kind::speed, &F::speed_m_s, 70.0, 0.1, 1e4, "speed of the nadir point over the ground")
            .number("length", Kind::length, &F::length_m, 4000.0, 0.01, 1e8, "distance flown while the image is taken")
            .number("roll", Kind::angle, &F::roll_rad, 0.0, -tilt, tilt, "steady roll; positive puts starboard down")
            .number("pitch", Kind::angle, &F::pitch_rad, 0.0, -tilt, tilt, "steady pitch; positive puts the nose up")
            .number("yaw", Kind::angle, &F::yaw_rad, 0.0, -turn, turn, "steady yaw beyond the heading; positive turns the nose clockwise")
            .number("roll_swing", Kind::angle, &F::roll_swing_rad, 0.0, 0.0, tilt, "amplitude of sinusoidal roll")
            .number("roll_period", Kind::time, &F::roll_period_s, 5.0, 1e-3, 1e5, "period of sinusoidal roll")
            .number("pitch_swing", Kind::angle, &F::pitch_swing_rad, 0.0, 0.0, tilt, "amplitude of sinusoidal pitch")
            .number("pitch_period", Kind::time, &F::pitch_period_s, 5.0, 1e-3, 1e5, "period of sinusoidal pitch")
            .number("yaw_swing", Kind::angle, &F::yaw_swing_rad, 0.0, 0.0, tilt, "amplitude of sinusoidal yaw")
            .number("yaw_period", Kind::time, &F::yaw_period_s, 5.0, 1e-3, 1e5, "period of sinusoidal yaw")
            .number("rough_air", Kind::angle, &F::rough_air_rad, 0.0, 0.0, radiansFromDegrees(10.0), "root mean square of the random attitude, each axis")
            .number("rough_period", Kind::time, &F::rough_period_s, 3.0, 1e-2, 1e4, "typical period of the random attitude")
            .number("wind_speed", Kind::speed, &F::wind_speed_m_s, 0.0, 0.0, 100.0, "wind at flying height; the platform crabs")
            .number("wind_from", Kind::angle, &F::wind_from_rad, 0.0, -turn, turn, "direction that the wind comes from, clockwise from north")
            .text("seed", &F::seed, "1", "seed of the random attitude, a whole number")
            .number("lean", Kind::number, &F::lean, 1.0, 0.0, 20.0, "factor on relief displacement alone; 0 is orthographic relief, 1 is the truth")
            .flag("attitude", &F::attitude_on, true, "roll, pitch, yaw and rough air act; off: always level along the heading");
        return k;
    }();
    return keys;
}

Motion::Motion(const FlightSettings& settings) : settings_(settings) {
    start_ = {settings.start_east_m, settings.start_north_m, settings.height_m};
    const Vec2 nose{std::sin(settings.heading_rad), std::cos(settings.heading_rad)};
    const Vec2 wind = -settings.wind_speed_m_s * Vec2{std::sin(settings.wind_from_rad), std::cos(settings.wind_from_rad)};
    const double along = glm::dot(wind, nose);
    const Vec2 across = wind - along * nose;
    const double room = settings.speed_m_s * settings.speed_m_s - glm::dot(across, across);
    if (room <= 0.0) {
        throw InputError(Problem{{"flight", 0, 0}, "flight.wind_speed", shortText(settings.wind_speed_m_s, Kind::speed),
                                 "a wind across the heading slower than the speed over ground, " +
                                     shortText(settings.speed_m_s, Kind::speed), ""});
    }
    const Vec2 ground = std::sqrt(room) * nose + across;
    velocity_ = {ground, 0.0};
    track_rad_ = wrappedToTurn(std::atan2(ground.x, ground.y));
    duration_s_ = settings.length_m / settings.speed_m_s;

    // Rough air: a sum of sines with seeded phases, periods spread by a factor of four about the typical one, equal
    // amplitudes whose squares add up to the stated mean square (a sine of amplitude a has mean square a^2 / 2).
    if (settings.rough_air_rad > 0.0) {
        constexpr int waves = 7;
        const std::uint64_t seed = std::strtoull(settings.seed.c_str(), nullptr, 10);
        for (std::uint32_t axis = 0; axis < 3; ++axis) {
            for (std::uint32_t i = 0; i < waves; ++i) {
                const auto words = keyedWords(seed, RandomUse::attitude, i, axis, 0);
                const double place = (i + uniformFromWord(words[0])) / waves;
                const double period = settings.rough_period_s * std::pow(4.0, place - 0.5);
                rough_[axis].push_back({settings.rough_air_rad * std::sqrt(2.0 / waves), 2.0 * constants::pi / period,
                                        2.0 * constants::pi * uniformFromWord(words[1])});
            }
        }
    }
    steady_attitude_ = attitudeAt(0.0);
}

bool Motion::steady() const {
    return !settings_.attitude_on || (settings_.roll_swing_rad == 0.0 && settings_.pitch_swing_rad == 0.0 &&
                                      settings_.yaw_swing_rad == 0.0 && settings_.rough_air_rad == 0.0);
}

Vec3 Motion::attitude_rad(double time_s) const {
    if (!settings_.attitude_on) return Vec3{0.0};
    const auto swing = [time_s](double amplitude, double period) {
        return amplitude * std::sin(2.0 * constants::pi * time_s / period);
    };
    Vec3 angles{settings_.yaw_rad + swing(settings_.yaw_swing_rad, settings_.yaw_period_s),
                settings_.pitch_rad + swing(settings_.pitch_swing_rad, settings_.pitch_period_s),
                settings_.roll_rad + swing(settings_.roll_swing_rad, settings_.roll_period_s)};
    for (int axis = 0; axis < 3; ++axis) {
        for (const Wave& wave : rough_[axis]) {
            angles[axis] += wave.amplitude_rad * std::sin(wave.turn_rate_rad_s * time_s + wave.phase_rad);
        }
    }
    return angles;
}

Pose Motion::at(double time_s) const {
    return {start_ + time_s * velocity_, steady() ? steady_attitude_ : attitudeAt(time_s)};
}

Mat3 Motion::attitudeAt(double time_s) const {
    const Vec3 angles = attitude_rad(time_s);
    const double heading = settings_.heading_rad + angles[0];
    const double pitch = angles[1];
    const double roll = angles[2];
    // Level axes of the nose's heading, then pitch about starboard, then roll about forward.
    const Vec3 level_forward{std::sin(heading), std::cos(heading), 0.0};
    const Vec3 level_starboard{std::cos(heading), -std::sin(heading), 0.0};
    const Vec3 level_down{0.0, 0.0, -1.0};
    const Vec3 forward = std::cos(pitch) * level_forward - std::sin(pitch) * level_down;
    const Vec3 pitched_down = std::sin(pitch) * level_forward + std::cos(pitch) * level_down;
    const Vec3 starboard = std::cos(roll) * level_starboard + std::sin(roll) * pitched_down;
    const Vec3 down = -std::sin(roll) * level_starboard + std::cos(roll) * pitched_down;
    return Mat3(forward, starboard, down);
}

}  // namespace linefall
