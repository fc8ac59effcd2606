#include "physics/point_spread.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/constants.h"

using namespace linefall;

namespace {

constexpr double pi = constants::pi;

/// Modulation that a set of offsets passes: |mean of exp(2 pi i f . o)|; symmetric offsets, so the mean of the cosine.
double transferOf(const std::vector<Offset>& offsets, double across, double along) {
    double sum = 0.0;
    for (const Offset& o : offsets) sum += std::cos(2.0 * pi * (across * o.across + along * o.along));
    return std::abs(sum) / static_cast<double>(offsets.size());
}

PointSpread spread(int n, double blur, double diffraction, bool footprint) {
    PointSpread s;
    s.contributions = n;
    s.blur_pitch = blur;
    s.diffraction_pitch = diffraction;
    s.footprint = footprint;
    return s;
}

}  // namespace

TEST_CASE("a square detector passes 2/pi at Nyquist and nothing at one cycle a pixel", "[point spread]") {
    CHECK(footprintTransfer(0.5) == Approx(0.6366).epsilon(0.0).margin(5e-5));  // sinc (optical.md, Sharpness, A)
    CHECK(footprintTransfer(1.0) == Approx(0.0).margin(1e-15));
    CHECK(footprintTransfer(0.0) == 1.0);
    CHECK(footprintTransfer(1.5) == Approx(2.0 / (3.0 * pi)));
}

TEST_CASE("diffraction at f/8 and 587 nm cuts off at 213 line pairs a millimetre", "[point spread]") {
    const double cut_off_per_mm = 1.0 / (587e-6 * 8.0);  // 1 / (lambda N), lambda in mm
    CHECK(cut_off_per_mm == Approx(213.0).epsilon(0.0).margin(0.5));  // Opto Engineering (optical.md, Sharpness, A)
    CHECK(diffractionTransfer(213.0 / cut_off_per_mm) == Approx(0.0).margin(1e-4));
    CHECK(diffractionTransfer(0.5) == Approx(0.3910).epsilon(0.0).margin(5e-5));
    CHECK(diffractionTransfer(0.0) == Approx(1.0));
    CHECK(diffractionTransfer(1.0) == 0.0);
    CHECK(diffractionTransfer(3.0) == 0.0);
}

TEST_CASE("the first dark ring of f/4 at 550 nm has a radius of 2.684 um and holds 83.8 % of the light", "[point spread]") {
    // Airy: first zero of J1(x), x = 3.8317, radius 1.21967 lambda N. Between ring and centre: 83.8 % (Born and Wolf 8.5, from memory).
    const double held = 1.0 - std::pow(std::cyl_bessel_j(0.0, 3.8317059702), 2.0);
    CHECK(held == Approx(0.838).epsilon(0.0).margin(5e-4));
    // No light lies on a dark ring, so the radius that holds a share is uncertain there: 1e-4.
    const double radius = airyRadius(held);
    CHECK(radius == Approx(1.21967).epsilon(0.0).margin(1e-4));
    CHECK(radius * 0.55 * 4.0 == Approx(2.684).epsilon(0.0).margin(1e-3));  // lambda N = 2.2 um: 2.6833
    CHECK(airyRadius(0.5) == Approx(0.535).epsilon(0.0).margin(2e-3));      // half the light, from memory
    CHECK(airyRadius(0.9) > 1.21967);
}

TEST_CASE("Gaussian blur of half a pixel passes 29 % at Nyquist", "[point spread]") {
    CHECK(blurTransfer(0.5, 0.5) == Approx(std::exp(-pi * pi / 8.0)).epsilon(1e-14));
    CHECK(blurTransfer(0.0, 0.5) == 1.0);
}

TEST_CASE("one contribution is the centre, and every set shifts nothing", "[point spread]") {
    const auto one = contributionOffsets(spread(1, 2.0, 1.0, true));
    REQUIRE(one.size() == 1);
    CHECK(one[0].across == 0.0);
    CHECK(one[0].along == 0.0);
    CHECK(one[0].dwell_share == 0.0);
    for (const int n : {2, 3, 16, 255, 256}) {
        const auto offsets = contributionOffsets(spread(n, 0.7, 0.4, true));
        REQUIRE(offsets.size() == static_cast<std::size_t>(n));
        double across = 0.0, along = 0.0, dwell = 0.0;
        for (const Offset& o : offsets) {
            across += o.across;
            along += o.along;
            dwell += o.dwell_share;
            CHECK(std::abs(o.dwell_share) <= 0.5);
        }
        CHECK(across == Approx(0.0).margin(1e-12));
        CHECK(along == Approx(0.0).margin(1e-12));
        CHECK(dwell == Approx(0.0).margin(1e-12));
        CHECK((n % 2 == 0 || (offsets.back().across == 0.0 && offsets.back().along == 0.0)));
    }
}

TEST_CASE("many contributions pass what theory says, up to one cycle a pixel", "[point spread]") {
    // The margin is the grain of the points, as a share of full modulation; it shrinks as their number grows. Measured worst
    // cases over these frequencies and directions are written beside it.
    struct Cause {
        double blur, diffraction;
        bool footprint;
    };
    struct Grain {
        int contributions;
        double margin;
    };
    const Cause cause = GENERATE(Cause{0.0, 0.0, true}, Cause{0.6, 0.0, false}, Cause{0.0, 0.5, false}, Cause{0.0, 0.37, true},
                                 Cause{0.4, 0.3, true});
    const Grain grain = GENERATE(Grain{256, 0.13}, Grain{1024, 0.075}, Grain{4096, 0.03});
    const auto offsets = contributionOffsets(spread(grain.contributions, cause.blur, cause.diffraction, cause.footprint));
    double worst = 0.0;
    for (double f = 0.05; f <= 1.01; f += 0.05) {
        const double optics = blurTransfer(cause.blur, f) * diffractionTransfer(f * cause.diffraction);
        for (double turn = 0.0; turn < pi; turn += pi / 12.0) {
            const double across = f * std::cos(turn);
            const double along = f * std::sin(turn);
            const double expected = optics * (cause.footprint ? footprintTransfer(across) * footprintTransfer(along) : 1.0);
            worst = std::max(worst, std::abs(transferOf(offsets, across, along) - expected));
        }
    }
    INFO("worst difference " << worst << " of " << grain.contributions << " contributions, blur " << cause.blur << ", diffraction " << cause.diffraction << ", footprint " << cause.footprint);
    CHECK(worst < grain.margin);
}
