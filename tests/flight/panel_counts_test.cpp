// The grey panels of the proving ground in counts, against the walk of light worked out by hand, step by step, in this
// file: no stage of the core is used but the solar spectrum and, for the last case, the air's own public numbers.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/angle.h"
#include "physics/solar_spectrum.h"
#include "support/measure.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

using std::numbers::pi;

const Sets& noNoise() {
    static const Sets sets{"effect.shot_noise=false", "effect.read_noise=false", "effect.pattern=false", "sun.elevation=40 deg"};
    return sets;
}

/// Integral over a box band of the sun's spectrum, and of wavelength times it: midpoint rule, 20 000 steps.
struct BandLight {
    double mean = 0.0, wavelength_um = 0.0;
};
BandLight lightIn(const Band& band) {
    const int n = 20000;
    double sum = 0.0, weighted = 0.0;
    for (int i = 0; i < n; ++i) {
        const double w = band.from_um + (band.to_um - band.from_um) * (i + 0.5) / n;
        sum += solarSpectrum().at(w);
        weighted += w * solarSpectrum().at(w);
    }
    return {sum / n, weighted / sum};
}

/// From the radiance at the sensor to the count.
double countByHand(const Instrument& instrument, const Band& band, double radiance_W_m2_sr_um, double off_axis_cosine) {
    const double n = instrument.optics().f_number;
    // Image irradiance on the axis, E = pi L t / (4 N^2 + 1), W m-2 um-1; off the axis cos^4 of it.
    const double image_W_m2_um = pi * radiance_W_m2_sr_um * instrument.optics().transmission / (4.0 * n * n + 1.0) * std::pow(off_axis_cosine, 4.0);
    // Power on a square detector of side p, over the whole band, W.
    const double p = instrument.derived().detector_pitch_m;
    const double power_W = image_W_m2_um * p * p * (band.to_um - band.from_um);
    // Energy in a dwell, J; photons of h c / lambda each; electrons by the quantum efficiency; dark current beside them.
    const double photon_J = 6.62607015e-34 * 299792458.0 / (lightIn(band).wavelength_um * 1e-6);
    const double t = instrument.derived().dwell_s;
    double electrons = power_W * t / photon_J * band.quantum_efficiency + instrument.detector().dark_current_e_s * t;
    electrons = std::min(electrons, instrument.detector().full_well_e);
    // One count is full well / 2^bits.
    const double step = instrument.detector().full_well_e / std::pow(2.0, instrument.converter().bits);
    return std::min(std::floor(electrons / step), std::pow(2.0, instrument.converter().bits) - 1.0);
}

struct Panel {
    double reflectance, east_m;
};
constexpr double panels_north_m = -540.0;
const std::vector<Panel> panels{{0.02, -270}, {0.05, -180}, {0.10, -90}, {0.20, 0}, {0.40, 90}, {0.60, 180}, {0.80, 270}};

/// A sample that looks at a ground point, and its angle off the axis.
struct At {
    int sample, line;
    double cosine;
};
At sampleOver(Formation& formation, double east_m, double north_m) {
    // Flying south: columns grow east, rows south. Halve the lines along the middle column, then search along the line.
    At at{formation.samples() / 2, 0, 1.0};
    int last = formation.lines() - 1;
    while (at.line < last) {
        const int middle = (at.line + last) / 2;
        if (formation.groundPoint(middle, at.sample)->y > north_m) at.line = middle + 1;
        else last = middle;
    }
    REQUIRE(std::abs(formation.groundPoint(at.line, at.sample)->y - north_m) < 10.0);
    double best = 1e9;
    for (int s = 0; s < formation.samples(); ++s) {
        const double away = std::abs(formation.groundPoint(at.line, s)->x - east_m);
        if (away < best) {
            best = away;
            at.sample = s;
        }
    }
    REQUIRE(best < 10.0);
    const Vec3 down = *formation.groundPoint(at.line, at.sample) - formation.motion().positionAt(formation.instrument().lookTime_s(at.line, at.sample, 0.0));
    at.cosine = formation.instrument().hasMirror() ? 1.0 : -down.z / glm::length(down);
    return at;
}

}  // namespace

TEST_CASE("without air the counts of every panel, instrument and band are those worked out by hand", "[radiometry]") {
    const std::string preset = GENERATE("push-broom", "whisk-broom", "frame-camera");
    const Sets where = preset == "frame-camera" ? Sets{"instrument.station=70 %"} : Sets{};
    Formation formation(sceneOf("proving-ground", preset, noNoise() + where + Sets{"air.on=false"}), 0);
    const Instrument& instrument = formation.instrument();
    for (const Panel& panel : panels) {
        const At at = sampleOver(formation, panel.east_m, panels_north_m);
        const Why why = formation.why(at.line, at.sample);
        INFO(preset << ", panel " << panel.reflectance << ", " << why.material);
        for (std::size_t b = 0; b < instrument.bands().size(); ++b) {
            // Radiance of a level Lambertian panel in the beam above the air: L = rho E cos z / pi, z = 50 degrees.
            const double radiance = panel.reflectance * lightIn(instrument.bands()[b]).mean * std::cos(50.0 * pi / 180.0) / pi;
            const double by_hand = countByHand(instrument, instrument.bands()[b], radiance, at.cosine);
            REQUIRE(by_hand > 3.0);
            // One count: where the electrons fall on a step, the last digits decide.
            CHECK(std::abs(formation.image().counts[b].at(at.sample, at.line) - by_hand) <= (by_hand > 2000.0 ? 1.0 : 0.999));
        }
    }
}

TEST_CASE("radiance of a white level panel under an overhead sun: 622.2, 586.8, 494.7, 338.6", "[radiometry]") {
    // optical.md, Radiometry (C), of ASTM E490 before it is scaled to the modern total; 0.3 %. Read from the trace.
    const std::string preset = written(
        "kind = \"frame-camera\"\nsamples = 3\nrows = 3\n"
        "[[band]]\nname = \"1\"\nfrom = \"450 nm\"\nto = \"520 nm\"\nquantum_efficiency = \"50 %\"\n"
        "[[band]]\nname = \"2\"\nfrom = \"520 nm\"\nto = \"600 nm\"\nquantum_efficiency = \"50 %\"\n"
        "[[band]]\nname = \"3\"\nfrom = \"630 nm\"\nto = \"690 nm\"\nquantum_efficiency = \"50 %\"\n"
        "[[band]]\nname = \"4\"\nfrom = \"760 nm\"\nto = \"900 nm\"\nquantum_efficiency = \"50 %\"\n");
    const std::string place = levelPlace(paint("solid", 0, 0, 500, 500, "material = \"white\""));
    Formation formation(sceneOf(written(place), preset, bare() + Sets{"sun.elevation=90 deg", "flight.start_north=1000 m", "flight.length=2000 m"}), 0);
    const Why why = formation.why(1, 1);
    const double published[] = {622.2, 586.8, 494.7, 338.6};
    for (int b = 0; b < 4; ++b) CHECK(why.trace.value("L", b) == Approx(published[b] * 1360.8 / 1366.1).epsilon(0.003));
}

TEST_CASE("with air the counts follow from the air's own beam, skylight, transmission and haze", "[radiometry]") {
    const std::string preset = GENERATE("push-broom", "whisk-broom");
    Formation formation(sceneOf("proving-ground", preset, noNoise()), 0);
    const Instrument& instrument = formation.instrument();
    const double zenith = 50.0 * pi / 180.0;
    const Air air(airKeys().defaults(), solarSpectrum(), instrument.bands(), zenith);
    for (const Panel& panel : panels) {
        const At at = sampleOver(formation, panel.east_m, panels_north_m);
        const Vec3 sensor = formation.motion().positionAt(instrument.lookTime_s(at.line, at.sample, 0.0));
        const Vec3 to_sensor = glm::normalize(sensor - *formation.groundPoint(at.line, at.sample));
        const double azimuth = 140.0 * pi / 180.0;
        const Vec3 to_sun{std::sin(zenith) * std::sin(azimuth), std::sin(zenith) * std::cos(azimuth), std::cos(zenith)};
        const std::vector<double> height{0.0}, mass{relativeAirMass(std::acos(to_sensor.z))}, scattering{-glm::dot(to_sun, to_sensor)};
        for (int b = 0; b < air.bands(); ++b) {
            std::vector<double> beam(1), sky(1), transmission(1), haze(1);
            air.down(b, height, beam, sky);
            air.up(b, 1500.0, height, mass, scattering, transmission, haze);
            const double above = lightIn(instrument.bands()[static_cast<std::size_t>(b)]).mean;
            const double on_panel = above * (beam[0] * std::cos(zenith) + sky[0]);
            const double radiance = panel.reflectance * on_panel / pi * transmission[0] + above * haze[0];
            const double by_hand = countByHand(instrument, instrument.bands()[static_cast<std::size_t>(b)], radiance, at.cosine);
            INFO(preset << ", panel " << panel.reflectance << ", band " << b);
            // No tower stands near enough to a panel to take more than a thousandth of its sky.
            CHECK(formation.image().counts[static_cast<std::size_t>(b)].at(at.sample, at.line) == Approx(by_hand).epsilon(0.001).margin(1.0));
        }
    }
}

TEST_CASE("a signal above the full well is written as the largest count, and never wraps", "[radiometry]") {
    const Image image = imageOf(sceneOf("proving-ground", "push-broom", noNoise() + Sets{"instrument.full_well=3000 e", "flight.length=200 m"}));
    for (const auto count : image.counts[0].values()) REQUIRE(count == 4095);
    CHECK(image.most_count == 4095);
}
