#include "measure/histogram.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "measure/stretch_curve.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// Keyed counts, some sky, no scene.
Image someImage(int samples, int lines, int most, std::uint64_t seed = 1) {
    Draws draws(seed, 2);
    Image image;
    image.bands = {{"one", 0.5, 0.6, 0.0, 0.5}};
    image.counts = {Raster<std::uint16_t>(samples, lines)};
    image.sky = Raster<std::uint8_t>(samples, lines);
    image.most_count = most;
    for (auto& count : image.counts[0].values()) count = static_cast<std::uint16_t>(draws.between(0.1 * most, 0.6 * most));
    for (auto& sky : image.sky.values()) sky = draws.uniform() < 0.05 ? 1 : 0;
    return image;
}

}  // namespace

TEST_CASE("every pixel of the ground is in a histogram once", "[histogram]") {
    const Image image = someImage(101, 57, 4095);
    const Histogram h(image, 0, 0, 57);
    std::uint64_t ground = 0, sky = 0;
    for (const auto s : image.sky.values()) (s != 0 ? sky : ground) += 1;
    CHECK(h.total() == ground);
    CHECK(h.sky() == sky);
    for (const int wanted : {1, 7, 64, 256, 5000}) {
        const Bins bins = h.bins(wanted);
        std::uint64_t sum = 0;
        for (const auto v : bins.values) sum += v;
        CHECK(sum == ground);
        CHECK(bins.below + bins.above == 0);
        CHECK(static_cast<int>(bins.values.size()) <= wanted);
        CHECK(bins.low == h.least());
        CHECK(bins.low + bins.width * static_cast<double>(bins.values.size()) >= h.most() + 1.0);
        CHECK(bins.width == std::floor(bins.width));
    }
    CHECK(Histogram(image, 0, 10, 20).total() + Histogram(image, 0, 0, 10).total() + Histogram(image, 0, 20, 99).total() == ground);
}

TEST_CASE("bins over a range of one's own tell what lies below and above", "[histogram]") {
    const Image image = someImage(101, 57, 4095);
    const Histogram h(image, 0, 0, 57);
    std::uint64_t below = 0, above = 0, within = 0;
    for (int l = 0; l < 57; ++l) {
        for (int s = 0; s < 101; ++s) {
            if (image.sky.at(s, l) != 0) continue;
            const int c = image.counts[0].at(s, l);
            (c < 800 ? below : c >= 1600 ? above : within) += 1;
        }
    }
    const Bins bins = h.bins(100, 800.0, 1600.0);
    REQUIRE(bins.values.size() == 100);
    CHECK(bins.width == 8.0);
    CHECK(bins.below == below);
    CHECK(bins.above == above);
    std::uint64_t sum = 0;
    for (const auto v : bins.values) sum += v;
    CHECK(sum == within);
    CHECK(bins.highest() >= within / 100);
}

TEST_CASE("percentiles are those that the stretch uses, and the cumulative share undoes them", "[histogram]") {
    const Image image = someImage(101, 57, 4095);
    const Histogram h(image, 0, 0, 57);
    for (const auto& [low, high] : std::vector<std::pair<double, double>>{{0.5, 98.0}, {2.0, 98.0}, {10.0, 50.0}, {0.0, 100.0}}) {
        Stretch stretch;
        stretch.low_percent = low;
        stretch.high_percent = high;
        const StretchLimits limits = limitsOf(image, 0, stretch, 0, 57);
        if (low > 0.0) CHECK(h.percentile(low) == limits.low);
        CHECK(h.percentile(high) == limits.high);
    }
    CHECK(h.percentile(0.0) == h.least());
    CHECK(h.percentile(100.0) == h.most());
    for (const double percent : {5.0, 37.0, 90.0}) {
        CHECK(h.shareUpTo(h.percentile(percent)) >= percent / 100.0);
        CHECK(h.shareUpTo(h.percentile(percent) - 1.0) < percent / 100.0);
    }
    CHECK(h.shareUpTo(-1.0) == 0.0);
    CHECK(h.shareUpTo(1e9) == 1.0);
}

TEST_CASE("an empty histogram is empty, not wrong", "[histogram]") {
    const Image image = someImage(20, 20, 255);
    const Histogram none(image, 0, 5, 5);
    CHECK(none.total() == 0);
    CHECK(none.percentile(50.0) == 0.0);
    CHECK(none.shareUpTo(100.0) == 0.0);
    CHECK(none.most() == 0.0);
    CHECK(none.bins(10).highest() == 0);
    CHECK(Histogram().bins(10).values.empty());
    CHECK(Histogram().total() == 0);
}

TEST_CASE("in radiance and reflectance a histogram holds the same pixels at their own values", "[histogram]") {
    const std::string preset = GENERATE("frame-camera", "whisk-broom");
    Formation formation(sceneOf("proving-ground", preset, {"flight.length=500 m"}), 0);
    formation.form(60, 91);
    const Region region = rectangleOf({50.5, 60.5}, {250.5, 90.5});
    const Scale scale = GENERATE(Scale::radiance, Scale::reflectance);
    const Histogram h(formation, 1, scale, region);
    const Histogram counts(formation, 1, Scale::counts, region);
    CHECK(h.total() == counts.total());
    CHECK(h.total() == 201u * 31u);
    std::vector<double> values;
    for (const PixelRun& run : pixelsIn(region, formation.samples(), formation.lines())) {
        const LineScale line(formation, scale, run.line);
        for (int s = run.first; s < run.last; ++s) values.push_back(line.valueOf(1, s, formation.image().counts[1].at(s, run.line)));
    }
    std::sort(values.begin(), values.end());
    const double fine = (values.back() - values.front()) / 60000.0;
    CHECK(h.least() == Approx(values.front()).margin(fine));
    CHECK(h.most() == Approx(values.back()).margin(fine));
    for (const double percent : {2.0, 50.0, 98.0}) {
        const auto at = static_cast<std::size_t>(std::ceil(percent / 100.0 * static_cast<double>(values.size()))) - 1;
        CHECK(h.percentile(percent) == Approx(values[at]).margin(2.0 * fine));
    }
    std::uint64_t sum = 0;
    for (const auto v : h.bins(100).values) sum += v;
    CHECK(sum == h.total());
}

TEST_CASE("a stretch's curve is what the display rows do to a ramp of counts", "[histogram]") {
    const int most = GENERATE(255, 4095, 65535);
    const bool screen_curve = GENERATE(true, false);
    const StretchLimits limits{0.13 * most, 0.71 * most};
    Image ramp;
    ramp.bands = {{"one", 0.5, 0.6, 0.0, 0.5}};
    ramp.counts = {Raster<std::uint16_t>(most + 1, 1)};
    ramp.sky = Raster<std::uint8_t>(most + 1, 1);
    ramp.most_count = most;
    for (int c = 0; c <= most; ++c) ramp.counts[0].at(c, 0) = static_cast<std::uint16_t>(c);
    const std::vector<std::uint8_t> row = displayRow(ramp, {0, 0, 0, "band one"}, {limits, limits, limits}, screen_curve, 0);
    for (int c = 0; c <= most; c += 1 + most / 200) CHECK(displayCode(c, limits, screen_curve) == row[static_cast<std::size_t>(c)]);
    const std::vector<CurvePoint> curve = stretchCurve(limits, screen_curve, most, 40);
    CHECK(curve.size() >= 42);
    CHECK(curve.front().count == 0.0);
    CHECK(curve.front().code == 0.0);
    CHECK(curve.back().count == most);
    CHECK(curve.back().code == 255.0);
    for (std::size_t i = 1; i < curve.size(); ++i) {
        CHECK(curve[i].count > curve[i - 1].count);
        CHECK(curve[i].code >= curve[i - 1].code);
    }
    // Limits beyond the counts are cut off, and the curve still ends at the last count.
    const std::vector<CurvePoint> wide = stretchCurve({-50.0, 2.0 * most}, false, most, 10);
    CHECK(wide.front().count == 0.0);
    CHECK(wide.back().count == most);
    CHECK(wide.back().code < 140.0);
}
