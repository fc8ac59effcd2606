#include "physics/detector.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "support/effort.h"

using namespace linefall;
using test::effort;

namespace {

DetectorSettings settings(double gain, double offset_e, double dead, const std::string& seed = "1") {
    DetectorSettings s = detectorKeys().defaults();
    s.pattern_gain = gain;
    s.pattern_offset_e = offset_e;
    s.dead_share = dead;
    s.seed = seed;
    return s;
}

}  // namespace

TEST_CASE("a photon of 550 nm carries 3.6117e-19 J", "[detector]") {
    CHECK(photonEnergy_J(0.55) == Approx(3.6117e-19).epsilon(0.0).margin(0.5e-23));  // CODATA 2018 (optical.md, Radiometry, A)
    CHECK(photonEnergy_J(1.1) == Approx(0.5 * photonEnergy_J(0.55)).epsilon(1e-15));
}

TEST_CASE("electrons are power x time x electrons per joule x gain + dark + offset, clipped to the well", "[detector]") {
    std::vector<double> power{1e-12, 2e-12, 4e-12, 0.0};
    std::vector<double> electrons(4);
    Dwell dwell;
    dwell.time_s = 1e-3;
    dwell.electrons_per_joule = 0.5 / 3.6117e-19;
    dwell.dark_e = 7.0;
    dwell.full_well_e = 4000.0;
    gatherElectrons({power}, dwell, {}, {}, {electrons});
    // 1e-12 W x 1e-3 s x 0.5 / 3.6117e-19 J = 1384.39 e.
    CHECK(electrons[0] == Approx(1384.39 + 7.0).epsilon(1e-5));
    CHECK(electrons[1] == Approx(2768.78 + 7.0).epsilon(1e-5));
    CHECK(electrons[2] == 4000.0);
    CHECK(electrons[3] == 7.0);

    const std::vector<double> gain{1.1, 0.0, 1.0, 1.0};
    const std::vector<double> offset{3.0, -2.0, 0.0, -20.0};
    dwell.full_well_e = std::numeric_limits<double>::infinity();
    gatherElectrons({power}, dwell, gain, offset, {electrons});
    CHECK(electrons[0] == Approx(1384.39 * 1.1 + 10.0).epsilon(1e-5));
    CHECK(electrons[1] == 5.0);  // a dead detector has dark current and offset alone
    CHECK(electrons[2] == Approx(5537.56 + 7.0).epsilon(1e-5));
    CHECK(electrons[3] == 0.0);  // never below nothing
}

TEST_CASE("a detector's pattern belongs to it alone: seed, band and number decide", "[detector]") {
    const DetectorPattern few = detectorPattern(settings(0.02, 5.0, 0.1), 10, 0);
    const DetectorPattern many = detectorPattern(settings(0.02, 5.0, 0.1), 1000, 0);
    for (std::size_t i = 0; i < 10; ++i) {
        CHECK(few.gain[i] == many.gain[i]);
        CHECK(few.offset_e[i] == many.offset_e[i]);
    }
    CHECK(detectorPattern(settings(0.02, 5.0, 0.1), 10, 1).gain != few.gain);
    CHECK(detectorPattern(settings(0.02, 5.0, 0.1, "2"), 10, 0).gain != few.gain);
    const DetectorPattern none = detectorPattern(settings(0.0, 0.0, 0.0), 10, 0);
    CHECK(none.gain == std::vector<double>(10, 1.0));
    CHECK(none.offset_e == std::vector<double>(10, 0.0));
}

TEST_CASE("gains and offsets spread as stated, and the stated share of detectors is dead", "[detector]") {
    const int n = effort(200000);
    const DetectorPattern p = detectorPattern(settings(0.02, 5.0, 0.03), n, 0);
    double dead = 0, sum = 0, sum2 = 0, offset2 = 0;
    for (std::size_t i = 0; i < p.gain.size(); ++i) {
        offset2 += p.offset_e[i] * p.offset_e[i];
        if (p.gain[i] == 0.0) {
            ++dead;
            continue;
        }
        sum += p.gain[i];
        sum2 += (p.gain[i] - 1.0) * (p.gain[i] - 1.0);
    }
    const double live = n - dead;
    // Five standard errors each: a false alarm once in about 1.7 million.
    CHECK(std::abs(dead - 0.03 * n) < 5.0 * std::sqrt(n * 0.03 * 0.97));
    CHECK(std::abs(sum / live - 1.0) < 5.0 * 0.02 / std::sqrt(live));
    CHECK(std::abs(sum2 / live / (0.02 * 0.02) - 1.0) < 5.0 * std::sqrt(2.0 / live));
    CHECK(std::abs(offset2 / n / 25.0 - 1.0) < 5.0 * std::sqrt(2.0 / n));
}
