#include "instruments/facts.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/angle.h"
#include "physics/solar_spectrum.h"
#include "support/scenes.h"

using namespace linefall;
using namespace linefall::test;

namespace {

Facts factsFor(const std::string& kind, const Sets& sets) { return factsOfScene(sceneOf("slopes", oneBand(kind), sets, false), 0); }

}  // namespace

TEST_CASE("where the edge of the field looks past the Earth the curved facts are missing, and say why", "[facts]") {
    // The horizon from 10 000 km lies asin(R / (R + h)) = 22.9 degrees off nadir.
    const Sets far{"flight.height=10000 km", "flight.speed=5 km/s", "flight.length=1000 km"};
    const Facts past = factsFor("whisk-broom", far + Sets{"instrument.fov=46 deg"});
    CHECK_FALSE(past.curved.has_value());
    CHECK_FALSE(past.curved_reason.empty());
    CHECK(past.flat.swath_m > 0.0);
    const Facts within = factsFor("whisk-broom", far + Sets{"instrument.fov=45 deg"});
    CHECK(within.curved.has_value());
    CHECK(within.curved_reason.empty());
    CHECK(degreesFromRadians(std::asin(constants::earth_radius_m / (constants::earth_radius_m + 1e7))) == Approx(22.9).margin(0.05));
    CHECK(factsFor("whisk-broom", far + Sets{"instrument.fov=46 deg", "earth.radius=8000 km"}).curved.has_value());
}

TEST_CASE("near the ground the round Earth and the flat one agree", "[facts]") {
    const std::string kind = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const Facts f = factsFor(kind, {"flight.height=1 km"});
    REQUIRE(f.curved.has_value());
    CHECK(f.curved->swath_m == Approx(f.flat.swath_m).epsilon(1e-3));
    CHECK(f.curved->edge.cell.across_m == Approx(f.flat.edge.cell.across_m).epsilon(1e-3));
    CHECK(f.curved->nadir.cell.across_m == f.flat.nadir.cell.across_m);
    CHECK(f.earth_radius_m == constants::earth_radius_m);
}

TEST_CASE("the data rate is samples x bands x bits x lines a second - of a frame its bits", "[facts]") {
    const Facts push = factsFor("push-broom", {"instrument.samples=1000", "instrument.line_rate=40 Hz", "instrument.bits=11"});
    CHECK(push.bits_per_s == Approx(1000.0 * 40.0 * 11.0));
    const Facts frame = factsFor("frame-camera", {"instrument.samples=100", "instrument.rows=50", "instrument.bits=8"});
    CHECK(frame.bits_per_s == Approx(100.0 * 50.0 * 8.0));
    const Facts whisk = factsOfScene(sceneOf("slopes", "whisk-broom", {}, false), 0);
    CHECK(whisk.bits_per_s == Approx(whisk.derived.samples * 4.0 * 12.0 * whisk.derived.line_rate_Hz));
}

TEST_CASE("signal, noise and saturation of the reference panel follow from the radiance by hand", "[facts]") {
    const Sets sets{"air.on=false", "sun.elevation=30 deg", "instrument.dark_current=5000 e/s", "instrument.read_noise=60 e", "instrument.full_well=200000 e", "instrument.bits=10",
                    "instrument.f_number=8", "instrument.transmission=50 %", "instrument.focal_length=100 mm", "instrument.detector_pitch=20 um", "instrument.line_rate=100 Hz"};
    const Facts f = factsFor("push-broom", sets);
    const Band band{"green", 0.52, 0.60, 0.0, 0.5};
    const double radiance = 0.2 * bandMean(solarSpectrum(), band) * 0.5 / constants::pi;
    CHECK(f.reference_reflectance == 0.2);
    CHECK(f.bands[0].reference_radiance == Approx(radiance).epsilon(1e-6));
    const double photon_J = constants::planck_J_s * constants::speed_of_light_m_s / (effectiveWavelength_um(solarSpectrum(), band) * 1e-6);
    const double per_radiance = constants::pi * 0.5 / 257.0 * 400e-12 * 0.08 * 0.01 * 0.5 / photon_J;
    const double signal = radiance * per_radiance, dark = 50.0, noise = std::sqrt(signal + dark + 3600.0);
    CHECK(f.bands[0].signal_e == Approx(signal).epsilon(1e-6));
    CHECK(f.bands[0].snr == Approx(signal / noise).epsilon(1e-6));
    CHECK(f.bands[0].noise_equivalent_radiance == Approx(noise / per_radiance).epsilon(1e-6));
    CHECK(f.bands[0].saturation_radiance == Approx((200000.0 - 50.0) / per_radiance).epsilon(1e-6));
    // A converter that ends below the well decides instead.
    CHECK(factsFor("push-broom", sets + Sets{"instrument.gain=50 e"}).bands[0].saturation_radiance == Approx((50.0 * 1024.0 - 50.0) / per_radiance).epsilon(1e-6));
}

TEST_CASE("facts need no ground, and no mountain changes them", "[facts]") {
    const Facts level = factsOfScene(sceneOf("slopes", "push-broom", {}, false), 0);
    const Facts ground = factsOfScene(sceneOf("slopes", "push-broom", {}, true), 0);
    CHECK(level.bands[1].signal_e == ground.bands[1].signal_e);
    CHECK(level.flat.swath_m == ground.flat.swath_m);
}
