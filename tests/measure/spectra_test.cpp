#include "measure/spectra.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "physics/solar_spectrum.h"
#include "support/picks.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

TEST_CASE("under a panel lies its own material, with the means that the walk of light uses", "[spectra]") {
    Formation formation(sceneOf("proving-ground", "push-broom", {"quality.contributions=9"}), 0);
    const PixelIndex pixel = pixelAt(formation, placeOf(formation, {90.0, -540.0, 0.0}));
    const auto spectra = spectraUnder(formation, pixel.line, pixel.sample);
    REQUIRE(spectra.size() == 1);
    CHECK(spectra[0].name == "grey-40");
    CHECK(spectra[0].title == "Panel of 40 %");
    CHECK(spectra[0].share == Approx(1.0));
    const Why why = formation.why(pixel.line, pixel.sample);
    CHECK(why.material == spectra[0].name);
    for (std::size_t b = 0; b < why.counts.size(); ++b) CHECK(spectra[0].band_means[b] == why.trace.value("rho", static_cast<int>(b), 0));
}

TEST_CASE("a pixel on the border of two materials has both, in the shares that its looks have", "[spectra]") {
    Formation formation(sceneOf("proving-ground", "push-broom", {"quality.contributions=64"}), 0);
    // The western edge of the panel of 80 %: 30 m from its middle.
    const PixelIndex pixel = pixelAt(formation, placeOf(formation, {240.0, -540.0, 0.0}));
    const auto spectra = spectraUnder(formation, pixel.line, pixel.sample);
    REQUIRE(spectra.size() == 2);
    double sum = 0.0;
    const Why why = formation.why(pixel.line, pixel.sample);
    for (const MaterialSpectrum& s : spectra) {
        sum += s.share;
        // The share by the kept looks, as the trace has them.
        int looks = 0, all = 0;
        for (const TraceRow& row : why.trace.rows()) {
            if (row.symbol != "material") continue;
            ++all;
            if (formation.place().materials[static_cast<std::size_t>(row.value)].name == s.name) ++looks;
        }
        CHECK(s.share == Approx(looks / static_cast<double>(all)));
    }
    CHECK(sum == Approx(1.0));
    CHECK(spectra[0].share >= spectra[1].share);
}

TEST_CASE("spectra have a source, or the place says none, and the island's come with one", "[spectra]") {
    Formation formation(sceneOf("island", "push-broom", {"flight.length=300 m"}), 0);
    const auto spectra = spectraUnder(formation, 5, formation.samples() / 2);
    REQUIRE_FALSE(spectra.empty());
    CHECK_FALSE(spectra[0].source.empty());
    CHECK_FALSE(spectra[0].reflectance.points().empty());
}

TEST_CASE("the corners of a band's response are where its trapezoid bends", "[spectra]") {
    const Band band{"red", 0.63, 0.69, 0.02, 0.5};
    const auto corners = responseCorners(band);
    REQUIRE(corners.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        // Just inside the corner, so that the rounding of a corner's wavelength does not decide.
        CHECK(band.responseAt(corners[i].wavelength_um) == Approx(corners[i].value).margin(1e-9));
        if (i > 0) CHECK(band.responseAt(0.5 * (corners[i].wavelength_um + corners[i - 1].wavelength_um)) == Approx(0.5 * (corners[i].value + corners[i - 1].value)).margin(1e-9));
    }
}
