#pragma once
// Stages 2 and 5, the air: what reaches the ground in the beam and from the sky, what survives on the way to the sensor,
// and what haze is added. Molecules (Rayleigh) and aerosol, plane parallel, light scattered once.
//
// Left out: multiple scattering, so a thick or hazy air is too dark in the sky and in the haze; adjacency (light from
// neighbouring ground scattered into the view); light from neighbouring slopes and from ground to sky and back;
// absorption by gases (ozone, water vapour, oxygen, carbon dioxide); polarisation; twilight (the sun below the horizon
// gives no light at all); the haze of a level path (it grows with the difference in height only).

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "base/parameter.h"
#include "base/spectrum.h"
#include "base/vectors.h"

namespace linefall {

/// Declared parameters of the air, SI.
struct AirSettings {
    bool on;
    double aerosol_depth;     ///< optical depth of the aerosol above the datum at 550 nm
    double angstrom;          ///< exponent: aerosol depth falls as wavelength^-angstrom
    double asymmetry;         ///< mean cosine of the aerosol's scattering angle
    double aerosol_height_m;  ///< scale height of the aerosol
    double aerosol_albedo;    ///< share of the aerosol's extinction that is scattering, 0..1
    double pressure_Pa;       ///< at the datum
};

[[nodiscard]] const Keys<AirSettings>& airKeys();

/// Optical depth of the molecules above a place: tau = 0.0021520 (p / 1013.25 hPa)
/// (1.0455996 - 341.29061 w^-2 - 0.90230850 w^2) / (1 + 0.0027059889 w^-2 - 85.968563 w^2), with w the wavelength in um and
/// p the pressure there. 0.25 to 4 um; dry air with 360 ppm of CO2 at 45 degrees latitude, gravity of sea level.
/// Source: Bodhaine et al. 1999, J. Atmos. Oceanic Technol. 16, eq. 30.
[[nodiscard]] double rayleighOpticalDepth(double wavelength_um, double pressure_Pa);

/// Optical depth of the aerosol: tau = depth_550 (w / 0.55)^-angstrom, with w the wavelength in um. Definition (Angstrom).
[[nodiscard]] double aerosolOpticalDepth(double wavelength_um, double depth_550, double angstrom);

/// Length of the path through the air divided by the vertical one: 1 / (cos z + 0.50572 (96.07995 - z)^-1.6364), z the
/// apparent (refracted) zenith angle in degrees, up to 90; beyond 90 the value of the horizon, 37.92, is kept.
/// It starts at 0.9997 for z = 0. Source: Kasten and Young 1989, Appl. Opt. 28.
[[nodiscard]] double relativeAirMass(double zenith_rad);

/// Pressure of the ICAO standard atmosphere at a geopotential height, Pa: in a layer with base height Hb, temperature Tb,
/// pressure pb and lapse L, p = pb (1 + L (H - Hb) / Tb)^(-g / (R L)), or pb exp(-g (H - Hb) / (R Tb)) when L = 0.
/// Below 0 the lowest layer goes on; above 71 km the highest one goes on to 80 km and is isothermal beyond it.
/// Source: ICAO Doc 7488, layers from memory: 0, 11, 20, 32, 47, 51, 71 km with -6.5, 0, 1, 2.8, 0, -2.8, -2 K/km.
[[nodiscard]] double standardPressure_Pa(double geopotential_height_m);

/// Geopotential height of a geometric height above the datum, m: r h / (r + h) with r = 6356.766 km. ICAO Doc 7488.
[[nodiscard]] double geopotentialHeight_m(double height_m);

/// Phase function of molecules, 3/4 (1 + c^2), c the cosine of the scattering angle; its mean over the sphere is 1.
/// Left out: the anisotropy of the molecules (depolarisation). Rayleigh 1871.
[[nodiscard]] double rayleighPhase(double cosine);

/// Phase function of aerosol, (1 - g^2) / (1 + g^2 - 2 g c)^(3/2), c the cosine of the scattering angle (1 is forward),
/// g the mean cosine, -1 < g < 1; its mean over the sphere is 1. Henyey and Greenstein 1941, Astrophys. J. 93.
[[nodiscard]] double henyeyGreensteinPhase(double cosine, double asymmetry);

/// What the air of every band asks of a row of points and their lines of sight: worked out once by Air::lookUp.
struct AirColumns {
    std::vector<double> rayleigh, aerosol;  ///< of the depth above datum, the share that lies above each point
    std::vector<std::int32_t> cell;         ///< of the tables over height; 0 for points beyond them
    std::vector<double> in_cell;            ///< 0..1, place in that cell
    std::vector<std::size_t> beyond;        ///< points beyond the tables
    std::vector<double> air_mass;           ///< of the line of sight
    std::vector<double> rayleigh_phase;     ///< 3/4 (1 + c^2)
    std::vector<double> aerosol_phase;      ///< (1 + g^2 - 2 g c)^(-3/2)
    [[nodiscard]] std::size_t size() const { return rayleigh.size(); }
};

/// The air under one sun, for the bands of one instrument.
///
/// Optical depth above a height h: tau(h) = tau_R p(h)/p(0) + tau_A exp(-h / H), where tau_R and tau_A are averaged once
/// over each band, weighted by response x sun; p(h) is the ICAO standard atmosphere, H the scale height of the aerosol.
/// Within a layer both kinds are taken as evenly mixed: P = (d_R P_R + w d_A P_A) / (d_R + d_A), with d the depths of the
/// layer, P the phase functions and w the aerosol's albedo. m0 and m are the relative air masses of sun and view. They are
/// smaller than 1 / cos z near the horizon, so level ground receives a few per cent less than the beam has lost even in thin
/// air: part of the scattered light passes over the horizon.
class Air {
public:
    /// `sun_zenith_rad` is the refracted one; at pi/2 and more there is no light (no twilight).
    /// Throws std::invalid_argument when a setting is not finite or outside its declared range.
    Air(const AirSettings& settings, const Spectrum& sun_spectrum, const std::vector<Band>& bands, double sun_zenith_rad);

    /// Looks up what does not depend on the band, for points at `ground_height_m` (m above datum).
    void lookUp(std::span<const double> ground_height_m, AirColumns& out) const;
    /// The same, and what the lines of sight from there need: see `up`.
    void lookUp(std::span<const double> ground_height_m, std::span<const double> view_air_mass,
                std::span<const double> scattering_cosine, AirColumns& out) const;

    /// Stage 2. For each ground height (m above datum): transmission of the beam from above the air, exp(-m0 tau(h)), and the
    /// irradiance of level ground from the sky divided by the normal irradiance above the air. With E0 that irradiance and
    /// z the sun's zenith angle, level ground receives E0 (transmission cos z + sky_share). All spans have the same length and
    /// do not overlap. -500 to 9000 m come from tables, cubic between nodes 25 m apart: relative error of the depth and of
    /// sky_share below 1e-5 even for the smallest scale height of aerosol. Heights beyond are computed directly, slower.
    void down(int band, std::span<const double> ground_height_m, std::span<double> beam_transmission,
              std::span<double> sky_share) const;
    void down(int band, const AirColumns& columns, std::span<double> beam_transmission, std::span<double> sky_share) const;

    /// Stage 5. For each line of sight: transmission exp(-m d) between ground and sensor, d the difference of tau, and the
    /// haze radiance divided by the normal irradiance above the air, sr-1:
    ///   exp(-m0 tau(sensor)) m (d_R P_R + w d_A P_A) / (4 pi) (1 - exp(-y)) / y,  y = (m + m0) d;
    /// when the ground is above the sensor the light is followed upwards: y = (m - m0) |d|.
    /// `view_air_mass`: relativeAirMass of the view's zenith angle at the ground. `scattering_cosine`: between the
    /// direction in which sunlight travels and the direction to the sensor (1: forward). Equal heights: transmission 1, haze 0.
    /// With a sensor above the air, haze x m0 is the same when sun and view are exchanged (reciprocity).
    void up(int band, double sensor_height_m, std::span<const double> ground_height_m, std::span<const double> view_air_mass,
            std::span<const double> scattering_cosine, std::span<double> transmission,
            std::span<double> path_radiance_per_irradiance) const;
    void up(int band, double sensor_height_m, const AirColumns& columns, std::span<double> transmission,
            std::span<double> path_radiance_per_irradiance) const;

    /// Radiance of the clear sky divided by the normal irradiance above the air, sr-1, seen from a height in a direction
    /// (both directions: unit vectors from the eye, z up). Below the horizon: the value of the horizon at that azimuth.
    /// The sun's disc itself is not in it.
    [[nodiscard]] double skyRadiance(int band, double height_m, const Vec3& view_direction, const Vec3& sun_direction) const;

    [[nodiscard]] int bands() const { return static_cast<int>(bands_.size()); }
    /// Optical depths above the datum, band averages.
    [[nodiscard]] double opticalDepth(int band) const { return rayleighDepth(band) + aerosolDepth(band); }
    [[nodiscard]] double rayleighDepth(int band) const { return of(band).rayleigh; }
    [[nodiscard]] double aerosolDepth(int band) const { return of(band).aerosol; }
    /// What lies above a height of them, m above datum: shares of the pressure and of the aerosol, as `down` and `up` take them.
    [[nodiscard]] double pressureShareAbove(double height_m) const { return sharesAbove(height_m).rayleigh; }
    [[nodiscard]] double aerosolShareAbove(double height_m) const { return sharesAbove(height_m).aerosol; }
    [[nodiscard]] const AirSettings& settings() const { return settings_; }
    /// Mean wavelength of the band, weighted by response x sun.
    [[nodiscard]] double effectiveWavelength_um(int band) const { return of(band).wavelength_um; }
    /// Relative air mass of the sun, m0.
    [[nodiscard]] double sunAirMass() const { return sun_air_mass_; }
    [[nodiscard]] bool on() const { return settings_.on; }
    [[nodiscard]] bool sunIsUp() const { return sun_is_up_; }

private:
    using Cubic = std::array<double, 4>;  // a + u (b + u (c + u d)), u = 0..1 between two nodes
    struct Depths {
        double rayleigh = 0.0, aerosol = 0.0;
    };
    /// One cell of the tables over height: p(h) / p(0) and exp(-h / H).
    struct Layer {
        Cubic pressure, aerosol;
    };
    struct OfBand {
        double rayleigh = 0.0, aerosol = 0.0, wavelength_um = 0.0;
        std::vector<Cubic> sky;
    };
    /// One direction of the sky's quadrature: its air mass and its share of the irradiance per kind of scatterer.
    struct SkyDirection {
        double air_mass, rayleigh_weight, aerosol_weight;
    };

    [[nodiscard]] const OfBand& of(int band) const { return bands_.at(static_cast<std::size_t>(band)); }
    [[nodiscard]] Depths sharesAbove(double height_m) const;
    [[nodiscard]] Depths depthsAbove(const OfBand& band, double height_m) const;
    [[nodiscard]] double skyShare(const Depths& above) const;
    void buildSkyDirections(double sun_zenith_rad);

    AirSettings settings_;
    double sun_air_mass_ = 1.0;
    bool sun_is_up_ = true;
    std::vector<OfBand> bands_;
    std::vector<SkyDirection> directions_;
    std::vector<Layer> layers_;
};

}  // namespace linefall
