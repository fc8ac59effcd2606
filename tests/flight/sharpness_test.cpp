// Sharpness measured in formed images of sine panels, slanted edges and bars, against the product of the transfer
// functions: footprint, diffraction, blur, and motion during the dwell.

#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>

#include "base/angle.h"
#include "physics/point_spread.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

using std::numbers::pi;
constexpr double pixel_m = 2.0;

/// Diffraction, lambda N / pitch, of the one green band (its mean wavelength is 0.56 um within 0.2 %).
double diffractionPitch(double f_number, double pitch_um) { return 0.56 * f_number / pitch_um; }

/// A camera with pixels of 2 m on the ground from 2 km.
Scene cameraOver(const std::string& place, const std::string& kind, const std::string& keys, int contributions, const Sets& more = {}) {
    return exposed(sceneOf(written(place), oneBand(kind, "focal_length = \"10 mm\"\ndetector_pitch = \"10 um\"\n" + keys),
                           bare() + Sets{"flight.height=2 km", "flight.start_north=150 m", "flight.length=300 m", "sun.elevation=70 deg",
                                         "quality.contributions=" + std::to_string(contributions)} + more), 12000.0);
}

std::string sinePlace(double period_m, double heading_deg) {
    const double length = period_m * std::floor(260.0 / period_m);
    return levelPlace(paint("sine", 0, 0, length, 200, "heading = \"" + std::to_string(heading_deg) + " deg\"\nperiod = \"" + metres(period_m) +
                                                            "\"\nlow = \"5 %\"\nhigh = \"75 %\""), "600 m");
}

/// Modulation of the counts relative to the panel's own, 0.35 of 0.40 (its 96 steps change this by less than 1e-3).
double modulationPassed(const std::vector<double>& counts, double period_m) {
    const double cycles = pixel_m / period_m;
    const int count = static_cast<int>(std::lround(std::floor(160.0 / period_m) * period_m / pixel_m));
    const Wave wave = waveOf(counts, static_cast<int>(counts.size()) / 2 - count / 2, count, cycles);
    return wave.amplitude / wave.mean / (0.35 / 0.40);
}

}  // namespace

TEST_CASE("a sine panel loses what footprint and diffraction take: frame camera, across and along", "[sharpness]") {
    const double period = GENERATE(32.0, 16.0, 10.0, 8.0, 5.0, 4.4);
    const bool across = GENERATE(true, false);
    const double f_number = 5.6;
    const Image image = imageOf(cameraOver(sinePlace(period, across ? 90.0 : 0.0), "frame-camera",
                                           across ? "samples = 140\nrows = 1\nf_number = 5.6" : "samples = 1\nrows = 140\nf_number = 5.6", 1024));
    const double f = pixel_m / period;
    const double expected = footprintTransfer(f) * diffractionTransfer(f * diffractionPitch(f_number, 10.0));
    // Margin: the grain of 1024 contributions (point_spread_test measures at most 0.05 for these causes together).
    CHECK(modulationPassed(across ? lineOf(image, 0) : columnOf(image, 0), period) == Approx(expected).epsilon(0.0).margin(0.04));
}

TEST_CASE("4096 contributions bring the panel's modulation within 0.015 of theory", "[sharpness]") {
    const double period = GENERATE(16.0, 8.0, 5.0);
    const Image image = imageOf(cameraOver(sinePlace(period, 90.0), "frame-camera", "samples = 140\nrows = 1\nf_number = 8\nblur = 0.3", 4096));
    const double f = pixel_m / period;
    const double expected = footprintTransfer(f) * diffractionTransfer(f * diffractionPitch(8.0, 10.0)) * blurTransfer(0.3, f);
    CHECK(modulationPassed(lineOf(image, 0), period) == Approx(expected).epsilon(0.0).margin(0.015));
}

TEST_CASE("a push broom smears along the track by its dwell, and not across it", "[sharpness]") {
    const double duty = GENERATE(1.0, 0.3);
    const double period = GENERATE(16.0, 8.0, 5.0);
    const std::string keys = "\nf_number = 2\nduty_cycle = \"" + std::to_string(100.0 * duty) + " %\"";
    const double f = pixel_m / period;
    const double still = footprintTransfer(f) * diffractionTransfer(f * diffractionPitch(2.0, 10.0));
    const Image along = imageOf(cameraOver(sinePlace(period, 0.0), "push-broom", "samples = 1" + keys, 1024));
    REQUIRE(along.lines() == 150);
    CHECK(modulationPassed(columnOf(along, 0), period) == Approx(still * footprintTransfer(f * duty)).epsilon(0.0).margin(0.04));
    const Image across = imageOf(cameraOver(sinePlace(period, 90.0), "push-broom", "samples = 140" + keys, 1024,
                                            {"flight.start_north=2 m", "flight.length=2 m"}));
    REQUIRE(across.lines() == 1);
    CHECK(modulationPassed(lineOf(across, 0), period) == Approx(still).epsilon(0.0).margin(0.04));
}

TEST_CASE("a whisk broom smears across the track: its mirror turns on by a step in each dwell", "[sharpness]") {
    const double period = GENERATE(16.0, 8.0, 5.0);
    // 140 steps of 1 mrad from 2 km: cells of 2.00 m at nadir, 2.01 m at the edge of the panel.
    const Image image = imageOf(exposed(sceneOf(written(sinePlace(period, 90.0)), oneBand("whisk-broom", "ifov = \"1 mrad\"\nsamples = 140\nfocal_length = \"50 mm\"\nf_number = 2"),
                                                bare() + Sets{"flight.height=2 km", "flight.start_north=4 m", "flight.length=8 m", "sun.elevation=70 deg",
                                                              "quality.contributions=1024"}), 12000.0));
    const double f = pixel_m / period;
    CHECK(modulationPassed(lineOf(image, 2), period) == Approx(footprintTransfer(f) * footprintTransfer(f)).epsilon(0.0).margin(0.04));
}

TEST_CASE("without blur a sample sees one point: the panel keeps its full modulation", "[sharpness]") {
    const Scene scene = cameraOver(sinePlace(8.0, 90.0), "frame-camera", "samples = 140\nrows = 3\nf_number = 8", 64, {"effect.blur=false"});
    CHECK(modulationPassed(lineOf(imageOf(scene), 1), 8.0) == Approx(1.0).epsilon(0.0).margin(0.02));
}

TEST_CASE("a slanted edge gives the same transfer as the sine panels", "[sharpness]") {
    // Method of ISO 12233 (from memory): pixels are laid out by their distance from the edge, four bins a pixel; the slope of
    // that profile is the line spread, its Fourier transform the modulation transfer.
    const double slant = radiansFromDegrees(5.0);
    const std::string place = levelPlace(paint("solid", 0, 0, 800, 800, "material = \"grey5\"") +
                                             paint("solid", 150 * std::cos(slant), -150 * std::sin(slant), 400, 300, "heading = \"5 deg\"\nmaterial = \"grey60\""), "1 km");
    const Image image = imageOf(cameraOver(place, "frame-camera", "samples = 64\nrows = 128\nf_number = 5.6", 256));
    constexpr int bins_a_pixel = 4, reach = 10;
    std::vector<double> sum(2 * reach * bins_a_pixel), number(sum.size());
    for (int l = 0; l < image.lines(); ++l) {
        for (int s = 0; s < image.samples(); ++s) {
            const double east = s + 0.5 - 32.0, north = 64.0 - l - 0.5;  // pixels from the centre, through which the edge runs
            const double away = east * std::cos(slant) - north * std::sin(slant);
            const double bin = std::floor((away + reach) * bins_a_pixel);
            if (bin < 0.0 || bin >= static_cast<double>(sum.size())) continue;
            sum[static_cast<std::size_t>(bin)] += image.counts[0].at(s, l);
            number[static_cast<std::size_t>(bin)] += 1.0;
        }
    }
    for (std::size_t i = 0; i < sum.size(); ++i) {
        REQUIRE(number[i] > 10.0);
        sum[i] /= number[i];
    }
    CHECK(sum.back() / sum.front() == Approx(12.0).epsilon(0.02));  // 60 % by 5 %
    for (const double f : {0.1, 0.2, 0.3, 0.4, 0.5}) {
        std::complex<double> transform = 0.0;
        for (std::size_t i = 1; i < sum.size(); ++i) {
            transform += (sum[i] - sum[i - 1]) * std::polar(1.0, -2.0 * pi * f * static_cast<double>(i) / bins_a_pixel);
        }
        // What the bins themselves take: a box a quarter of a pixel wide, and a difference over the same distance.
        const double bins = footprintTransfer(f / bins_a_pixel);
        const double measured = std::abs(transform) / (sum.back() - sum.front()) / bins;
        const double expected = footprintTransfer(f * std::cos(slant)) * footprintTransfer(f * std::sin(slant)) *
                                diffractionTransfer(f * diffractionPitch(5.6, 10.0));
        INFO("frequency " << f);
        CHECK(measured == Approx(expected).epsilon(0.0).margin(0.05));
    }
}

TEST_CASE("three-bar targets are what an exact box convolution makes of them", "[sharpness]") {
    // Diffraction is made too small to matter (f/0.5 on pixels of 100 um: 0.003 pixels), so a pixel is the mean of what its
    // square covers. A target's place among the pixels is arbitrary: bars of w metres, centred 0.7 m off a pixel's edge.
    const double w = GENERATE(6.0, 4.0, 3.0, 2.0, 1.0);
    const bool across = GENERATE(true, false);
    const double off = 0.7;
    const std::string place = levelPlace(
        paint("solid", 0, 0, 300, 300, "material = \"grey5\"") +
            paint("bars", across ? off : 0, across ? 0 : off, 5 * w, 40, std::string("heading = \"") + (across ? "90" : "0") + " deg\"\nperiod = \"" + metres(2 * w) + "\"\nmaterial = \"grey60\"\nother = \"grey5\""),
        "400 m");
    const Scene scene = exposed(sceneOf(written(place), oneBand("frame-camera", "focal_length = \"100 mm\"\ndetector_pitch = \"100 um\"\nsamples = 40\nrows = 40\nf_number = 0.5\ntransmission = \"1 %\""),
                                        bare() + Sets{"flight.height=2 km", "flight.start_north=1000 m", "flight.length=2 km", "sun.elevation=70 deg", "quality.contributions=1024"}), 12000.0);
    Formation formation(scene, 0);
    formation.form(across ? 20 : 0, across ? 21 : 40);
    const Image& image = formation.image();
    const double panel = 12000.0 / 0.20;  // counts of full reflectance
    for (int i = 5; i < 35; ++i) {
        // Part of the pixel from a to b that lies in the bars at -2.5 w .. -1.5 w, -0.5 w .. 0.5 w, 1.5 w .. 2.5 w about `off`.
        const double a = across ? (i - 20) * pixel_m : (20 - i - 1) * pixel_m;
        double covered = 0.0;
        for (const double bar : {-2.0, 0.0, 2.0}) {
            covered += std::max(0.0, std::min(a + pixel_m, off + (bar + 0.5) * w) - std::max(a, off + (bar - 0.5) * w)) / pixel_m;
        }
        const double expected = panel * (0.05 + 0.55 * covered);
        INFO("bars of " << w << " m, pixel " << i << ", covered " << covered);
        CHECK(image.counts[0].at(across ? i : 20, across ? 20 : i) == Approx(expected).epsilon(0.0).margin(0.006 * panel));
    }
}
