#include "physics/atmosphere.h"

#include <array>
#include <cmath>

#include "base/angle.h"

namespace linefall {

const Keys<AirSettings>& airKeys() {
    using A = AirSettings;
    static const Keys<A> keys = [] {
        Keys<A> k("air.");
        k.flag("on", &A::on, true, "air scatters and takes light; off: no air at all")
            .number("aerosol_depth", Kind::number, &A::aerosol_depth, 0.10, 0.0, 2.0,
                    "optical depth of the aerosol at 550 nm: 0.05 clear, 0.3 hazy, 1 thick haze")
            .number("angstrom", Kind::number, &A::angstrom, 1.3, -1.0, 4.0,
                    "how fast the aerosol thins out towards long waves: small for coarse dust, large for fine smoke")
            .number("asymmetry", Kind::number, &A::asymmetry, 0.65, -0.95, 0.95,
                    "how much the aerosol scatters forward: 0 evenly, towards 1 ever more ahead")
            .number("aerosol_height", Kind::length, &A::aerosol_height_m, 2000.0, 500.0, 20000.0,
                    "height over which the aerosol thins out to 37 %")
            .number("aerosol_albedo", Kind::ratio, &A::aerosol_albedo, 0.95, 0.0, 1.0,
                    "share of the light taken by the aerosol that is scattered, not absorbed")
            .number("pressure", Kind::pressure, &A::pressure_Pa, constants::standard_pressure_Pa, 0.0, 120000.0,
                    "air pressure at the datum; sets the scattering by molecules");
        return k;
    }();
    return keys;
}

double rayleighOpticalDepth(double wavelength_um, double pressure_Pa) {
    const double w2 = wavelength_um * wavelength_um;
    return pressure_Pa / constants::standard_pressure_Pa * 0.0021520 * (1.0455996 - 341.29061 / w2 - 0.90230850 * w2) /
           (1.0 + 0.0027059889 / w2 - 85.968563 * w2);
}

double aerosolOpticalDepth(double wavelength_um, double depth_550, double angstrom) {
    return depth_550 * std::pow(wavelength_um / 0.55, -angstrom);
}

double relativeAirMass(double zenith_rad) {
    const double zenith = std::fmin(zenith_rad, 0.5 * constants::pi);
    const double cosine = std::fmax(std::cos(zenith), 0.0);
    return 1.0 / (cosine + 0.50572 * std::pow(96.07995 - degreesFromRadians(zenith), -1.6364));
}

double geopotentialHeight_m(double height_m) {
    constexpr double radius_m = 6356766.0;
    return radius_m * height_m / (radius_m + height_m);
}

double standardPressure_Pa(double geopotential_height_m) {
    struct Layer {
        double base_m, lapse_K_m;
    };
    constexpr double end_m = 80000.0;  // isothermal beyond
    constexpr std::array<Layer, 8> layers{{{0.0, -constants::standard_lapse_K_m},
                                           {constants::tropopause_m, 0.0},
                                           {20000.0, 0.001},
                                           {32000.0, 0.0028},
                                           {47000.0, 0.0},
                                           {51000.0, -0.0028},
                                           {71000.0, -0.002},
                                           {end_m, 0.0}}};
    double pressure = constants::standard_pressure_Pa;
    double temperature = constants::standard_temperature_K;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        const bool last = i + 1 == layers.size() || geopotential_height_m < layers[i + 1].base_m;
        const double rise = (last ? geopotential_height_m : layers[i + 1].base_m) - layers[i].base_m;
        const double lapse = layers[i].lapse_K_m;
        const double per_m = constants::standard_gravity_m_s2 / constants::dry_air_gas_constant_J_kg_K;
        if (lapse == 0.0) pressure *= std::exp(-per_m * rise / temperature);
        else pressure *= std::pow(1.0 + lapse * rise / temperature, -per_m / lapse);
        temperature += lapse * rise;
        if (last) break;
    }
    return pressure;
}

double rayleighPhase(double cosine) { return 0.75 * (1.0 + cosine * cosine); }

double henyeyGreensteinPhase(double cosine, double asymmetry) {
    const double g = asymmetry;
    const double d = 1.0 + g * g - 2.0 * g * cosine;
    return (1.0 - g * g) / (d * std::sqrt(d));
}

}  // namespace linefall
