#pragma once
// Every physical constant of the program, once, each with its unit, authority and year.

#include <numbers>

namespace linefall::constants {

inline constexpr double pi = std::numbers::pi;

/// Speed of light in vacuum, m s-1. Exact. SI, BIPM 2019.
inline constexpr double speed_of_light_m_s = 299792458.0;
/// Planck constant, J s. Exact. SI, BIPM 2019 (CODATA 2018).
inline constexpr double planck_J_s = 6.62607015e-34;
/// Boltzmann constant, J K-1. Exact. SI, BIPM 2019 (CODATA 2018).
inline constexpr double boltzmann_J_K = 1.380649e-23;

/// Total solar irradiance at one astronomical unit, W m-2, +-0.5. Kopp and Lean 2011.
inline constexpr double total_solar_irradiance_W_m2 = 1360.8;
/// Angular diameter of the sun's disc at one astronomical unit, degrees. Common practice: 0.53.
inline constexpr double sun_disc_diameter_deg = 0.53;

/// Equatorial radius of the Earth, m. WGS 84 (NIMA TR8350.2), 6378.137 km.
inline constexpr double earth_radius_m = 6378137.0;
/// Geocentric gravitational constant, m3 s-2. WGS 84.
inline constexpr double earth_gm_m3_s2 = 398600.4418e9;

/// Pressure at sea level, Pa. ICAO standard atmosphere (Doc 7488).
inline constexpr double standard_pressure_Pa = 101325.0;
/// Temperature at sea level, K. ICAO standard atmosphere.
inline constexpr double standard_temperature_K = 288.15;
/// Fall of temperature with geopotential height below 11 km, K m-1. ICAO standard atmosphere.
inline constexpr double standard_lapse_K_m = 0.0065;
/// Geopotential height of the tropopause, m. ICAO standard atmosphere.
inline constexpr double tropopause_m = 11000.0;
/// Standard acceleration of gravity, m s-2. ICAO standard atmosphere.
inline constexpr double standard_gravity_m_s2 = 9.80665;
/// Specific gas constant of dry air, J kg-1 K-1. ICAO standard atmosphere.
inline constexpr double dry_air_gas_constant_J_kg_K = 287.05287;

}  // namespace linefall::constants
