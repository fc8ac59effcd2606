// Golden images: every count of small images, compared with those that were looked at and accepted. tests/golden/README.md.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <numeric>

#include "command/program.h"
#include "support/folders.h"

using namespace linefall;
using namespace linefall::test;
namespace fs = std::filesystem;

namespace {

const std::string golden_folder = testsFolder() + "/golden";

struct Golden {
    std::string place, instrument;
    Sets sets;
};

/// 64 samples and 64 lines of 60 m, 3 km high; fast, so that the coarse cells do not overflow the detectors.
Sets coarse(const std::string& instrument, const Sets& more) {
    Sets sets{"flight.height=3 km",    "flight.start_east=0 m",  "flight.start_north=1920 m", "flight.length=3840 m",
              "flight.speed=1200 m/s", "flight.heading=180 deg", "sun.azimuth=135 deg",       "sun.elevation=35 deg",
              "noise.seed=5",          "instrument.samples=64",  "instrument.ifov=20 mrad"};
    if (instrument == "frame-camera") sets.insert(sets.end(), {"instrument.rows=64", "flight.lean=1"});
    if (instrument == "whisk-broom")
        sets.insert(sets.end(), {"instrument.focal_length=5 mm", "instrument.f_number=9"});  // the detector as small as before
    sets.insert(sets.end(), more.begin(), more.end());
    return sets;
}

/// The counts of all bands, one under the other.
Raster<std::uint16_t> stacked(const Image& image) {
    Raster<std::uint16_t> out(image.samples(), image.lines() * static_cast<int>(image.bands.size()));
    for (std::size_t b = 0; b < image.bands.size(); ++b) {
        std::copy(image.counts[b].values().begin(), image.counts[b].values().end(),
                  out.values().begin() + static_cast<std::ptrdiff_t>(b * image.counts[b].size()));
    }
    return out;
}

void save(const std::string& path, const Raster<std::uint16_t>& counts) {
    WholeFiles files;
    writePng16(files, path, counts);
    files.commit();
}

/// Grey 32768 where both are the same.
Raster<std::uint16_t> difference(const Raster<std::uint16_t>& got, const Raster<std::uint16_t>& expected) {
    Raster<std::uint16_t> out(got.columns(), got.rows());
    for (std::size_t i = 0; i < out.size(); ++i) {
        out.values()[i] = static_cast<std::uint16_t>(std::clamp(32768 + got.values()[i] - expected.values()[i], 0, 65535));
    }
    return out;
}

void compare(const std::string& name, const Raster<std::uint16_t>& got) {
    const std::string accepted = golden_folder + "/" + name + ".png";
    if (std::getenv("LINEFALL_APPROVE") != nullptr) {
        save(accepted, got);
        return;
    }
    CAPTURE(name);
    REQUIRE(fs::exists(accepted));
    const Raster<std::uint16_t> expected = counts(accepted);
    if (got == expected) return;
    const std::string left = fs::path(LINEFALL_PROGRAM).parent_path().string() + "/golden";
    fs::create_directories(left);
    save(left + "/" + name + ".got.png", got);
    save(left + "/" + name + ".expected.png", expected);
    std::size_t wrong = got.size();
    if (got.columns() == expected.columns() && got.rows() == expected.rows()) {
        save(left + "/" + name + ".difference.png", difference(got, expected));
        wrong = std::inner_product(got.values().begin(), got.values().end(), expected.values().begin(), std::size_t{0},
                                   std::plus<>(), std::not_equal_to<>());
    }
    FAIL(name << ": " << wrong << " of " << got.size() << " counts differ; the pictures lie in " << left);
}

}  // namespace

TEST_CASE("golden images: every instrument over the slopes, the hill and hollow, and a level field") {
    const std::string level = golden_folder + "/level.toml";
    for (const Golden& g : std::vector<Golden>{
             {"slopes", "whisk-broom", {}},
             {"slopes", "push-broom", {"flight.rough_air=2 deg", "flight.rough_period=1 s"}},
             {"slopes", "frame-camera", {"air.on=false"}},
             {"hill-and-hollow",
              "whisk-broom",
              {"instrument.sweep=two-way", "instrument.detectors=4", "instrument.f_number=20", "flight.roll_swing=5 deg",
               "flight.roll_period=2 s"}},
             {"hill-and-hollow", "push-broom", {"instrument.dead_detectors=5 %", "sun.elevation=10 deg"}},
             {"hill-and-hollow", "frame-camera", {"quality.contributions=5", "instrument.blur=0.5"}},
             {level, "whisk-broom", {"sun.elevation=20 deg"}},
             {level, "push-broom", {"quality.contributions=4", "flight.wind_speed=50 m/s", "flight.wind_from=90 deg"}},
             {level,
              "frame-camera",
              {"effect.shot_noise=false", "effect.read_noise=false", "effect.pattern=false", "flight.pitch=20 deg"}},
         }) {
        const Scene scene = sceneOf(g.place, g.instrument, coarse(g.instrument, g.sets));
        const Image image = imageOf(scene);
        const std::string name = fs::path(g.place).stem().string() + "." + g.instrument;
        CAPTURE(name);
        CHECK(image.samples() == 64);
        CHECK(image.lines() == 64);
        const Raster<std::uint16_t> got = stacked(image);
        // Worth comparing: neither dark nor blinded.
        const double mean = std::accumulate(got.values().begin(), got.values().end(), 0.0) / static_cast<double>(got.size());
        CHECK(mean > 0.02 * image.most_count);
        CHECK(mean < 0.8 * image.most_count);
        compare(name, got);
    }
}

TEST_CASE("golden images: a single changed count is noticed") {
    if (std::getenv("LINEFALL_APPROVE") != nullptr) return;
    const Raster<std::uint16_t> one = counts(golden_folder + "/slopes.push-broom.png");
    Raster<std::uint16_t> other = one;
    ++other.at(3, 200);
    CHECK_FALSE(one == other);
    CHECK(difference(other, one).at(3, 200) == 32769);
    CHECK(difference(other, one).at(4, 200) == 32768);
}
