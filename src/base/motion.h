#pragma once
// Where the platform is and how it is turned, as a pure function of time. A straight line over ground with steady,
// sinusoidal and seeded random attitude, and a wind that makes it crab.

#include <cstdint>
#include <optional>
#include <vector>

#include "base/parameter.h"
#include "base/vectors.h"

namespace linefall {

/// Place and attitude of the platform at one instant.
struct Pose {
    Vec3 position_m{0.0};           ///< world frame
    Mat3 world_from_platform{1.0};  ///< columns: forward, starboard, down in the world frame
};

/// Declared flight parameters, SI and radians.
struct FlightSettings {
    double start_east_m, start_north_m;
    double heading_rad;   ///< where the nose points, clockwise from north
    double height_m;      ///< above datum
    double speed_m_s;     ///< of the nadir point over the ground
    double length_m;      ///< flown while the image is taken
    double roll_rad, pitch_rad, yaw_rad;                                ///< steady part
    double roll_swing_rad, pitch_swing_rad, yaw_swing_rad;              ///< amplitude of the sinusoidal part
    double roll_period_s, pitch_period_s, yaw_period_s;
    double rough_air_rad;     ///< root mean square of the random part, each axis
    double rough_period_s;    ///< its typical period
    double wind_speed_m_s;
    double wind_from_rad;     ///< direction that the wind comes from, clockwise from north
    std::string seed;         ///< whole number as text
    double lean;              ///< factor on relief displacement alone
    bool attitude_on;
};

[[nodiscard]] const Keys<FlightSettings>& flightKeys();

/// The motion of one flight. The attitude is yaw, pitch, roll, intrinsic in that order; positive roll puts starboard
/// down, positive pitch puts the nose up, positive yaw turns the nose clockwise seen from above.
class Motion {
public:
    /// Throws InputError when the wind across the heading is stronger than the speed over ground allows.
    explicit Motion(const FlightSettings& settings);

    [[nodiscard]] Pose at(double time_s) const;
    [[nodiscard]] Vec3 positionAt(double time_s) const { return start_ + time_s * velocity_; }
    /// Ground velocity, world frame, m/s; constant.
    [[nodiscard]] Vec3 velocity_m_s() const { return velocity_; }
    /// Direction of travel over ground, clockwise from north.
    [[nodiscard]] double track_rad() const { return track_rad_; }
    /// Yaw, pitch, roll at a time, rad, without the heading.
    [[nodiscard]] Vec3 attitude_rad(double time_s) const;
    [[nodiscard]] double duration_s() const { return duration_s_; }
    [[nodiscard]] double height_m() const { return settings_.height_m; }
    [[nodiscard]] double speed_m_s() const { return settings_.speed_m_s; }
    /// True when the attitude never changes during the flight.
    [[nodiscard]] bool steady() const;

private:
    struct Wave {
        double amplitude_rad, turn_rate_rad_s, phase_rad;
    };
    FlightSettings settings_;
    Vec3 start_{0.0};
    Vec3 velocity_{0.0};
    double track_rad_ = 0.0;
    double duration_s_ = 0.0;
    std::vector<Wave> rough_[3];  // yaw, pitch, roll
    Mat3 steady_attitude_{1.0};   // used when the attitude never changes
    [[nodiscard]] Mat3 attitudeAt(double time_s) const;
};

}  // namespace linefall
