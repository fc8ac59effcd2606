// Noise measured in pictures of a flat panel. False alarms: about once in ten thousand; seeds are fixed, so a test that
// passes once passes always.

#include <catch2/catch.hpp>
#include <cmath>

#include "support/effort.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// A frame of a level ground of 20 %: `mean_e` electrons a sample, one electron a count unless said otherwise.
Scene panel(double mean_e, int side, const Sets& more = {}) {
    const Scene scene = sceneOf(written(levelPlace()), oneBand("frame-camera", "focal_length = \"100 mm\"\ndetector_pitch = \"5 um\"\nf_number = 16\nsamples = " + std::to_string(side) + "\nrows = " + std::to_string(side)),
                                bare() + Sets{"flight.height=1 km", "sun.elevation=60 deg", "instrument.read_noise=0 e", "instrument.exposure=1 ms"});
    const double e_per_ms = factsOfScene(scene, 0).bands[0].signal_e;
    char exposure[64];
    std::snprintf(exposure, sizeof exposure, "instrument.exposure=%.12g ms", mean_e / e_per_ms);
    return with(scene, Sets{exposure, "instrument.full_well=1000000 e", "instrument.gain=1 e"} + more);
}

struct Moments {
    double mean = 0.0, variance = 0.0, n = 0.0;
};
Moments momentsOf(const Image& image) {
    Moments m;
    m.n = static_cast<double>(image.counts[0].size());
    for (const auto c : image.counts[0].values()) m.mean += c / m.n;
    for (const auto c : image.counts[0].values()) m.variance += (c - m.mean) * (c - m.mean) / (m.n - 1.0);
    return m;
}

const int side = effort(100) == 100 ? 400 : 60;

}  // namespace

TEST_CASE("shot noise in the picture: mean and variance are equal and the signal-to-noise ratio is the root of the mean", "[noise image]") {
    // 100 and 10 000 electrons: 10 and 100 (optical.md, Radiometry, A).
    const double mean = GENERATE(5.0, 100.0, 10000.0);
    const Moments m = momentsOf(imageOf(panel(mean, side, {"effect.shot_noise=true"})));
    CHECK(m.mean == Approx(mean).margin(3.9 * std::sqrt(mean / m.n) + 1e-4 * mean));
    CHECK(m.variance == Approx(mean).epsilon(3.9 * std::sqrt((2.0 + 1.0 / mean) / m.n) + 1e-4));
    CHECK(m.mean / std::sqrt(m.variance) == Approx(std::sqrt(mean)).epsilon(3.9 / std::sqrt(m.n)));
}

TEST_CASE("signal - dark current and read noise add up as facts say: S / sqrt(S + D + R^2)", "[noise image]") {
    const Scene scene = panel(2000.0, side, {"effect.shot_noise=true", "effect.read_noise=true", "effect.dark_current=true", "instrument.read_noise=30 e"});
    const double dwell_s = factsOfScene(scene, 0).derived.dwell_s;
    char dark[64];
    std::snprintf(dark, sizeof dark, "instrument.dark_current=%.9g e/s", 500.0 / dwell_s);
    const Scene warm = with(scene, {dark});
    const Moments m = momentsOf(imageOf(warm));
    // One count of an electron adds the noise of rounding, 1/12, and half a count to the mean.
    CHECK(m.mean == Approx(2500.0 - 0.5).margin(3.9 * std::sqrt(3400.0 / m.n) + 0.3));
    CHECK(m.variance == Approx(2000.0 + 500.0 + 900.0 + 1.0 / 12.0).epsilon(3.9 * std::sqrt(2.0 / m.n) + 2e-4));
    const Facts facts = factsOfScene(warm, 0);
    CHECK(facts.bands[0].snr == Approx(2000.0 / std::sqrt(2000.0 + 500.0 + 900.0)).epsilon(1e-3));
    CHECK(2000.0 / std::sqrt(m.variance) == Approx(facts.bands[0].snr).epsilon(3.9 / std::sqrt(2.0 * m.n) + 1e-3));
}

TEST_CASE("a signal-to-noise ratio of 128 at a radiance of 21.8 is a noise-equivalent radiance of 0.170", "[noise image]") {
    // NASA, MODIS specifications, red 650 nm band (optical.md, Radiometry, A). An instrument is made whose ratio is 128 there.
    CHECK(21.8 / 128.0 == Approx(0.170).margin(5e-4));
    const Scene scene = panel(128.0 * 128.0, 8, {"effect.shot_noise=true"});
    const BandFacts f = factsOfScene(scene, 0).bands[0];
    CHECK(f.snr == Approx(128.0).epsilon(1e-3));
    CHECK(f.noise_equivalent_radiance * 128.0 == Approx(f.reference_radiance).epsilon(1e-3));
    CHECK(f.noise_equivalent_radiance * 21.8 / f.reference_radiance == Approx(0.170).margin(1e-3));
}

TEST_CASE("a panel of even brightness through few bits errs by what its place between two counts makes of it", "[noise image]") {
    // 4 bits and noise of 1 % of full scale: between 0.3 and 3.1 % of full scale (optical.md, Radiometry, C).
    double least = 1e9, most = 0.0;
    for (double share = 0.40; share < 0.46; share += 0.004) {
        const Scene scene = panel(share * 100000.0, effort(50) == 50 ? 60 : 30, {"effect.read_noise=true", "instrument.read_noise=1000 e", "instrument.bits=4", "instrument.full_well=100000 e", "instrument.gain=auto"});
        const Image image = imageOf(scene);
        double sum = 0.0;
        for (const auto c : image.counts[0].values()) sum += std::pow((c + 0.5) / 16.0 - share, 2.0);
        const double error = 100.0 * std::sqrt(sum / static_cast<double>(image.counts[0].size()));
        least = std::min(least, error);
        most = std::max(most, error);
    }
    CHECK(least < 0.8);
    CHECK(most > 3.0);
    CHECK(most < 3.3);
}

TEST_CASE("each seed has its own noise and the same seed the same noise - and no other seed touches it", "[noise image]") {
    const Scene scene = panel(1000.0, 30, {"effect.shot_noise=true"});
    const Image image = imageOf(scene);
    CHECK(imageOf(scene).counts == image.counts);
    CHECK(imageOf(with(scene, {"noise.seed=2"})).counts != image.counts);
    CHECK(imageOf(with(scene, {"instrument.seed=2"})).counts == image.counts);
    CHECK(imageOf(with(scene, {"flight.seed=2"})).counts == image.counts);
}

TEST_CASE("a push broom's pattern is one gain and offset a column - all lines alike", "[noise image]") {
    const Scene scene = exposed(sceneOf(written(levelPlace()), oneBand("push-broom", "focal_length = \"10 mm\"\ndetector_pitch = \"10 um\"\nsamples = 400\npattern_gain = \"2 %\"\ndead_detectors = \"5 %\"\npattern_offset = \"5 e\""),
                                        bare() + Sets{"effect.pattern=true", "flight.height=1 km", "flight.length=20 m"}));
    const Image image = imageOf(scene);
    REQUIRE(image.lines() > 5);
    int dead = 0;
    double sum = 0.0, square = 0.0;
    for (int s = 0; s < image.samples(); ++s) {
        for (int l = 1; l < image.lines(); ++l) REQUIRE(std::abs(image.counts[0].at(s, l) - image.counts[0].at(s, 0)) <= 1);  // the air is off
        const double gain = image.counts[0].at(s, 0) / 8000.0;
        if (gain < 0.01) ++dead;
        else {
            sum += gain;
            square += gain * gain;
        }
    }
    const double live = 400.0 - dead;
    CHECK(std::abs(dead - 20.0) < 3.9 * std::sqrt(400.0 * 0.05 * 0.95));
    const double spread = std::sqrt(square / live - (sum / live) * (sum / live)) / (sum / live);
    CHECK(spread == Approx(0.02).epsilon(3.9 / std::sqrt(2.0 * live)));
    CHECK(imageOf(with(scene, {"instrument.seed=2"})).counts != image.counts);
    CHECK(imageOf(with(scene, {"noise.seed=2"})).counts == image.counts);
}

TEST_CASE("a whisk broom has one pattern for each detector of its short column: every n-th line alike", "[noise image]") {
    const Scene scene = exposed(sceneOf(written(levelPlace()), oneBand("whisk-broom", "focal_length = \"10 mm\"\nifov = \"5 mrad\"\nfov = \"20 deg\"\ndetectors = 4\npattern_gain = \"5 %\""),
                                        bare() + Sets{"effect.pattern=true", "flight.height=1 km", "flight.length=200 m"}));
    const Image image = imageOf(scene);
    REQUIRE(image.lines() == 40);
    for (int l = 4; l < 40; ++l) CHECK(image.counts[0].at(10, l) == image.counts[0].at(10, l - 4));
    CHECK(image.counts[0].at(10, 0) != image.counts[0].at(10, 1));
    CHECK(image.counts[0].at(10, 0) == image.counts[0].at(50, 0));  // the same detector all along the sweep
}
