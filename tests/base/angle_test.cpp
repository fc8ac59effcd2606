// Angles by name, and the physical constants that follow from others.
#include <catch2/catch.hpp>

#include <cmath>

#include "base/angle.h"
#include "base/constants.h"

using namespace linefall;

TEST_CASE("degrees and radians are each other's inverse") {
    CHECK(radiansFromDegrees(180.0) == constants::pi);
    CHECK(degreesFromRadians(constants::pi / 2.0) == Approx(90.0).epsilon(1e-15));
    for (const double degrees : {-720.0, -1.5, 0.0, 0.25, 57.3, 400.0}) {
        CHECK(degreesFromRadians(radiansFromDegrees(degrees)) == Approx(degrees).epsilon(1e-14));
    }
}

TEST_CASE("an angle wrapped to one turn keeps its direction and lies in 0 to 2 pi") {
    const double turn = 2.0 * constants::pi;
    for (const double angle : {-1e9, -turn, -6.0, -1e-3, -1e-17, -1e-300, 0.0, 1.0, 6.28, turn, 7.0, 1e9}) {
        const double wrapped = wrappedToTurn(angle);
        INFO("angle " << angle << " wrapped " << wrapped);
        CHECK(wrapped >= 0.0);
        CHECK(wrapped < turn);
        CHECK(std::sin(wrapped) == Approx(std::sin(angle)).margin(1e-6));
        CHECK(std::cos(wrapped) == Approx(std::cos(angle)).margin(1e-6));
    }
    CHECK(wrappedToTurn(-0.5 * constants::pi) == Approx(1.5 * constants::pi).epsilon(1e-15));
}

TEST_CASE("constants give the published derived constants") {
    const double h = constants::planck_J_s;
    const double c = constants::speed_of_light_m_s;
    const double k = constants::boltzmann_J_K;
    // Stefan-Boltzmann constant and second radiation constant: CODATA 2018, exact to the figures given.
    const double sigma = 2.0 * std::pow(constants::pi, 5) * std::pow(k, 4) / (15.0 * std::pow(h, 3) * c * c);
    CHECK(sigma == Approx(5.670374419e-8).epsilon(1e-10));
    CHECK(h * c / k == Approx(1.438776877e-2).epsilon(1e-9));
    // Standard atmosphere: density at sea level, 1.225 kg m-3 (ICAO Doc 7488).
    CHECK(constants::standard_pressure_Pa / (constants::dry_air_gas_constant_J_kg_K * constants::standard_temperature_K) ==
          Approx(1.225).epsilon(1e-5));
    // A satellite at the geostationary radius, 42 164 km, goes round once in a sidereal day, 86 164 s.
    CHECK(2.0 * constants::pi * std::sqrt(std::pow(42164e3, 3) / constants::earth_gm_m3_s2) == Approx(86164.0).epsilon(1e-4));
}
