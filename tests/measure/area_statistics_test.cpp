// Areas of known panels, read in counts, radiance and reflectance.

#include "measure/area_statistics.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "physics/solar_spectrum.h"
#include "support/picks.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

struct Panel {
    double reflectance, east_m;
};
const std::vector<Panel> panels{{0.02, -270}, {0.05, -180}, {0.10, -90}, {0.20, 0}, {0.40, 90}, {0.60, 180}, {0.80, 270}};

/// The proving ground's panels: 60 m square, 540 m south of the centre.
Formation overPanels(const std::string& preset, const Sets& sets) {
    const Sets where = preset == "frame-camera" ? Sets{"instrument.station=70 %"} : Sets{};
    return Formation(sceneOf("proving-ground", preset, Sets{"sun.elevation=40 deg"} + where + sets), 0);
}

/// The same without noise or air, so exposed that no panel fills a well or the converter, in 16 bits.
Formation quietlyOverPanels(const std::string& preset, const Sets& sets = {}) {
    const Sets where = preset == "frame-camera" ? Sets{"instrument.station=70 %"} : Sets{};
    return Formation(exposed(sceneOf("proving-ground", preset, bare() + Sets{"sun.elevation=40 deg"} + where + sets)), 0);
}

/// Inside a panel, 6 m from its edges.
Region inside(const Formation& formation, const Panel& panel) {
    Region region;
    for (const auto& [x, y] : std::vector<std::pair<double, double>>{{-24, -24}, {24, -24}, {24, 24}, {-24, 24}}) {
        region.corners.push_back(placeOf(formation, {panel.east_m + x, -540.0 + y, 0.0}));
    }
    return region;
}

/// The lines that hold all panels.
void formPanels(Formation& formation) {
    int first = formation.lines(), last = 0;
    for (const Panel& panel : panels) {
        for (const PicturePlace& corner : inside(formation, panel).corners) {
            first = std::min(first, static_cast<int>(corner.line));
            last = std::max(last, static_cast<int>(corner.line) + 1);
        }
    }
    formation.form(first, last);
}

}  // namespace

TEST_CASE("without air every panel reads as the reflectance it has, in every band and of every instrument", "[area]") {
    // With shot noise, read noise, dark current and the converter's steps: the mean lies within 4 standard errors of the truth
    // (two-sided 6e-5 a reading, below 0.5 % for all of them together). The detectors' own gains are switched off: a push
    // broom's columns repeat them in every line, so pixels would not be independent. Where the well is full a panel is at
    // least so bright, and is left out.
    const std::string preset = GENERATE("push-broom", "whisk-broom", "frame-camera");
    Formation formation = overPanels(preset, {"air.on=false", "effect.pattern=false"});
    formPanels(formation);
    int read = 0;
    for (const Panel& panel : panels) {
        const AreaStatistics area = areaStatistics(formation, inside(formation, panel), Scale::reflectance);
        REQUIRE(area.pixels > 100);
        CHECK(area.sky + area.not_formed + area.no_sun == 0);
        for (std::size_t b = 0; b < area.bands.size(); ++b) {
            if (area.bands[b].at_most > 0) continue;
            INFO(preset << ", panel " << panel.reflectance << ", " << area.bands[b].band << ": " << area.bands[b].mean << " +- " << area.bands[b].standard_error);
            CHECK(std::abs(area.bands[b].mean - panel.reflectance) < 4.0 * area.bands[b].standard_error);
            CHECK(area.bands[b].least < panel.reflectance);
            CHECK(area.bands[b].most > panel.reflectance);
            ++read;
        }
    }
    CHECK(read >= 15);
}

TEST_CASE("without noise a panel's radiance is reflectance times irradiance over pi, to a step of the converter", "[area]") {
    // L = rho E cos z / pi (optical.md, Radiometry); E the band mean of the sun, worked out here from its spectrum.
    const std::string preset = GENERATE("push-broom", "whisk-broom", "frame-camera");
    Formation formation = quietlyOverPanels(preset);
    formPanels(formation);
    for (const Panel& panel : panels) {
        const Region region = inside(formation, panel);
        const AreaStatistics radiance = areaStatistics(formation, region, Scale::radiance);
        const AreaStatistics reflectance = areaStatistics(formation, region, Scale::reflectance);
        for (std::size_t b = 0; b < radiance.bands.size(); ++b) {
            REQUIRE(radiance.bands[b].at_most == 0);
            const double sun = bandMean(solarSpectrum(), formation.instrument().bands()[b]);
            const double expected = panel.reflectance * sun * std::sin(radiansFromDegrees(40.0)) / constants::pi;
            CHECK(radiance.bands[b].mean == Approx(expected).epsilon(2e-3));
            CHECK(reflectance.bands[b].mean == Approx(panel.reflectance).epsilon(2e-3));
        }
    }
}

TEST_CASE("radiance is the trace's own, within half a step, air and cos4 and dark current included", "[area]") {
    // The walk forwards wrote the radiance down in the trace; the calibration walks back from the count.
    const std::string preset = GENERATE("push-broom", "whisk-broom", "frame-camera", "eye");
    Formation formation = overPanels(preset, {"effect.shot_noise=false", "effect.read_noise=false", "effect.pattern=false"});
    for (int i = 0; i < 30; ++i) {
        const int line = (37 * i) % formation.lines();
        const int sample = (211 * i) % formation.samples();
        const Why why = formation.why(line, sample);
        const LineScale scale(formation, Scale::radiance, line);
        for (std::size_t b = 0; b < why.counts.size(); ++b) {
            if (why.counts[b] == 0 || why.counts[b] == formation.image().most_count) continue;
            const int band = static_cast<int>(b);
            // From half a count below to half a count above: an eye's steps widen with the light.
            const double truth = why.trace.value("L", band), little = 1e-6 + 1e-6 * truth;
            REQUIRE(scale.valueOf(band, sample, why.counts[b] - 0.5) <= truth + little);
            REQUIRE(scale.valueOf(band, sample, why.counts[b] + 0.5) >= truth - little);
        }
    }
}

TEST_CASE("the distance of the sun is taken out of a reflectance", "[area]") {
    Formation formation = quietlyOverPanels("whisk-broom", {"sun.distance=1.0167"});
    formPanels(formation);
    CHECK(areaStatistics(formation, inside(formation, panels[3]), Scale::reflectance).bands[1].mean == Approx(0.2).epsilon(2e-3));
}

TEST_CASE("count, mean, spread, least and most of an area are those of its pixels one by one", "[area]") {
    Formation formation = overPanels("push-broom", {});
    formation.form(50, 121);
    const Region region{{{100.2, 50.0}, {160.0, 70.7}, {120.0, 120.0}}};
    const AreaStatistics area = areaStatistics(formation, region, Scale::counts);
    std::vector<double> counts;
    for (const PixelRun& run : pixelsIn(region, formation.samples(), formation.lines())) {
        for (int s = run.first; s < run.last; ++s) counts.push_back(formation.image().counts[1].at(s, run.line));
    }
    double sum = 0.0;
    for (const double c : counts) sum += c;
    const double mean = sum / static_cast<double>(counts.size());
    double squares = 0.0;
    for (const double c : counts) squares += (c - mean) * (c - mean);
    CHECK(area.pixels == counts.size());
    CHECK(area.bands[1].mean == Approx(mean).epsilon(1e-12));
    CHECK(area.bands[1].standard_deviation == Approx(std::sqrt(squares / (static_cast<double>(counts.size()) - 1.0))).epsilon(1e-9));
    CHECK(area.bands[1].standard_error == Approx(area.bands[1].standard_deviation / std::sqrt(static_cast<double>(counts.size()))));
    CHECK(area.bands[1].least == *std::min_element(counts.begin(), counts.end()));
    CHECK(area.bands[1].most == *std::max_element(counts.begin(), counts.end()));
    const Reading reading = area.mean(1);
    CHECK(reading.value == area.bands[1].mean);
    CHECK(reading.sigma == area.bands[1].standard_error);
    CHECK(area.spread(1).value == area.bands[1].standard_deviation);
}

TEST_CASE("shot noise of a bright panel spreads counts as the square root of its electrons", "[area]") {
    // Read noise and quantisation off; n electrons spread by sqrt(n), so the spread of counts times q is sqrt(n). The spread
    // of a spread of N pixels is 1 / sqrt(2 N): 4 of them.
    Formation formation = overPanels("whisk-broom", {"air.on=false", "effect.read_noise=false", "effect.quantisation=false", "effect.pattern=false", "effect.dark_current=false"});
    formPanels(formation);
    const AreaStatistics area = areaStatistics(formation, inside(formation, panels[3]), Scale::counts);
    const double q = formation.image().step_e;
    for (const BandStatistics& band : area.bands) {
        const double electrons = band.mean * q;
        CHECK(band.standard_deviation * q == Approx(std::sqrt(electrons)).epsilon(4.0 / std::sqrt(2.0 * static_cast<double>(area.pixels))));
    }
}

TEST_CASE("lines that are not formed, sky and night are left out and told", "[area]") {
    Formation formation = overPanels("push-broom", {});
    formation.form(10, 20);
    AreaStatistics area = areaStatistics(formation, rectangleOf({5.5, 5.5}, {14.5, 24.5}), Scale::counts);
    CHECK(area.pixels == 100);
    CHECK(area.not_formed == 100);
    area = areaStatistics(formation, rectangleOf({5.5, 100.5}, {14.5, 110.5}), Scale::counts);
    CHECK(area.pixels == 0);
    CHECK(area.mean(0).missing == "the area is not formed yet");

    Formation night = overPanels("push-broom", {"sun.elevation=-3 deg"});
    night.form(0, 30);
    area = areaStatistics(night, rectangleOf({5.5, 5.5}, {14.5, 24.5}), Scale::reflectance);
    CHECK(area.no_sun == 200);
    CHECK(area.mean(0).missing == "the sun is down");
    CHECK(areaStatistics(night, rectangleOf({5.5, 5.5}, {14.5, 24.5}), Scale::counts).pixels == 200);
}

TEST_CASE("pixels at either end of the converter are told", "[area]") {
    Formation formation = overPanels("push-broom", {"instrument.full_well=3000 e", "effect.shot_noise=false", "effect.read_noise=false"});
    formation.form(0, 30);
    const AreaStatistics area = areaStatistics(formation, rectangleOf({5.5, 5.5}, {14.5, 24.5}), Scale::radiance);
    CHECK(area.bands[0].at_most == 200);
    REQUIRE(area.mean(0).remarks.size() == 2);
    CHECK(area.mean(0).remarks[1] == "200 pixels stand at the largest count: the true mean is higher");
}
