#include "physics/optics.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "base/constants.h"

using namespace linefall;

TEST_CASE("image irradiance on the axis is pi L t / (4 N^2 + 1)", "[optics]") {
    // N = 4, transmission 1: 0.04833 L, and 0.04909 L in the large-N form (Slater; Schowengerdt; optical.md, Radiometry, M).
    CHECK(irradiancePerRadiance(4.0, 1.0) == Approx(0.04833).epsilon(0.0).margin(1e-5));
    const double large_n = constants::pi / (4.0 * 4.0 * 4.0);
    CHECK(large_n == Approx(0.04909).epsilon(0.0).margin(1e-5));
    CHECK(large_n / irradiancePerRadiance(4.0, 1.0) == Approx(1.016).epsilon(0.001));  // "1.6 % higher at f/4"
    CHECK(irradiancePerRadiance(4.0, 0.5) == Approx(0.5 * irradiancePerRadiance(4.0, 1.0)).epsilon(1e-15));
}

TEST_CASE("a lens that opens without end gathers the whole hemisphere, pi L", "[optics]") {
    // The limit of the formula for N -> 0; the smallest admitted N, 0.5, gives half of it.
    CHECK(irradiancePerRadiance(0.5, 1.0) == Approx(0.5 * constants::pi).epsilon(1e-14));
    CHECK(irradiancePerRadiance(1e-9, 1.0) == Approx(constants::pi).epsilon(1e-14));
}

TEST_CASE("power is radiance x factor x area x band width, and falls by cos^4 off the axis", "[optics]") {
    std::vector<double> radiance{100.0, 100.0, 50.0};
    std::vector<double> power(3);
    const double area = 1e-5 * 1e-5;
    gatherLight({radiance}, {}, 0.04, area, 0.08, {power});
    // 100 W m-2 sr-1 um-1 x 0.04 sr x 1e-10 m2 x 0.08 um = 3.2e-11 W.
    CHECK(power[0] == Approx(3.2e-11).epsilon(1e-13));
    CHECK(power[2] == Approx(1.6e-11).epsilon(1e-13));
    const std::vector<double> cosine{1.0, std::cos(constants::pi / 6.0), std::cos(constants::pi / 3.0)};
    gatherLight({radiance}, cosine, 0.04, area, 0.08, {power});
    CHECK(power[0] == Approx(3.2e-11).epsilon(1e-13));
    CHECK(power[1] == Approx(3.2e-11 * 9.0 / 16.0).epsilon(1e-13));  // cos^4 30 deg = (3/4)^2
    CHECK(power[2] == Approx(1.6e-11 / 16.0).epsilon(1e-13));        // cos^4 60 deg = 1/16
}
