#pragma once
// An instrument says when and where each sample looks, and which stages its light passes.

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/parameter.h"
#include "base/spectrum.h"
#include "base/vectors.h"
#include "physics/converter.h"
#include "physics/detector.h"
#include "physics/noise.h"
#include "physics/optics.h"
#include "physics/point_spread.h"

namespace linefall {

/// What an instrument needs to know of its flight.
struct FlightFrame {
    double height_m = 3000.0;
    double speed_m_s = 70.0;
    double length_m = 4000.0;
    double earth_radius_m = 6378137.0;
};

/// One look: a direction in the platform frame (unit), at a time since the flight's start.
struct PlatformLook {
    Vec3 direction{0.0, 0.0, 1.0};
    double time_s = 0.0;
};

/// The footprint of a sample and its distance to its neighbours at one place of the field, on one shape of the Earth.
struct GroundCell {
    double across_m = 0.0;          ///< footprint of the IFOV
    double along_m = 0.0;
    double spacing_across_m = 0.0;  ///< between neighbouring samples
};

/// Where the field's centre or edge meets the ground; nothing when it leaves the Earth.
struct FieldPoint {
    GroundCell cell;
    double zenith_rad = 0.0;         ///< of the sensor, seen from the ground
    double ground_distance_m = 0.0;  ///< from the nadir point, along the surface
};

/// Where a scanning mirror points.
struct MirrorState {
    double angle_rad = 0.0;  ///< of the line of sight off the platform's down, starboard positive
    int facets = 0;          ///< of a mirror that turns evenly by one facet a sweep; 0: one that swings
    bool sweeping = false;   ///< false between two sweeps, when no light is gathered
};

/// A number that one kind of instrument alone has to tell.
struct OwnFact {
    std::string key;    ///< as JSON has it, with its unit: "pupil_m"
    std::string title;  ///< for people: "pupil"
    double value = 0.0;
    Kind kind = Kind::number;
    std::string note{};
};

/// The receptor that a pixel's band is read from, where pixels share receptors.
struct ReceptorRead {
    int id = 0;                     ///< 0 .. derived().detectors - 1
    double eccentricity_rad = 0.0;  ///< from the middle of the fovea
    double away_pitch = 0.0;        ///< from the pixel's own place
};

/// Everything that is derived from geometry and timing, the same for flat ground and for a sphere.
struct Derived {
    int samples = 0;
    int lines = 0;
    int lines_at_once = 1;          ///< detectors along track of a whisk broom; all rows of a frame
    double line_period_s = 0.0;     ///< mean time between image lines; 0 for a frame
    double scan_period_s = 0.0;     ///< time between sweeps of a whisk broom; line period of a push broom
    double dwell_s = 0.0;
    double duty_cycle = 1.0;        ///< share of the scan period that is spent on samples
    double ifov_rad = 0.0;          ///< at the centre, across
    double fov_rad = 0.0;
    double sample_step_rad = 0.0;   ///< at the centre
    double focal_length_m = 0.0;
    double detector_pitch_m = 0.0;
    double line_rate_Hz = 0.0;
    int detectors = 1;              ///< physical detectors a band
};

/// A passive instrument, ready to look. Immutable.
class Instrument {
public:
    virtual ~Instrument() = default;
    Instrument() = default;
    Instrument(const Instrument&) = delete;
    Instrument& operator=(const Instrument&) = delete;

    [[nodiscard]] const Derived& derived() const { return derived_; }
    [[nodiscard]] const std::vector<Band>& bands() const { return bands_; }
    [[nodiscard]] const OpticsSettings& optics() const { return optics_; }
    [[nodiscard]] const DetectorSettings& detector() const { return detector_; }
    [[nodiscard]] const NoiseSettings& noise() const { return noise_; }
    [[nodiscard]] const ConverterSettings& converter() const { return converter_; }
    [[nodiscard]] int samples() const { return derived_.samples; }
    [[nodiscard]] int lines() const { return derived_.lines; }

    /// Where and when a sample looks, displaced by an offset within its footprint and dwell. `line` and `sample` within
    /// the image; column 0 is starboard, rows grow forward. Pure.
    [[nodiscard]] virtual PlatformLook look(int line, int sample, const Offset& offset) const = 0;
    /// Directions of all samples of a line without an offset, platform frame; empty when the instrument keeps none.
    [[nodiscard]] virtual std::span<const Vec3> centreDirections(int line) const = 0;
    /// The time of that look alone, s; equal to look(...).time_s.
    [[nodiscard]] virtual double lookTime_s(int line, int sample, double dwell_share) const = 0;
    /// Cosine of the angle between a sample's direction and the optical axis at the moment it looks (1 for a mirror).
    [[nodiscard]] virtual double offAxisCosine(int line, int sample) const = 0;
    /// Which physical detector a sample is read from, 0 .. derived().detectors - 1.
    [[nodiscard]] virtual int detectorOf(int line, int sample) const = 0;
    /// Nothing where every pixel has detectors of its own; else the receptor from which a band of a pixel is read. Several
    /// pixels may read the same one, and every band of a pixel looks from a place of its own: Offset::band tells which.
    [[nodiscard]] virtual std::optional<ReceptorRead> receptorOf(int, int, int) const { return std::nullopt; }
    /// An offset of one band as an offset from the pixel's own place, for any band.
    [[nodiscard]] virtual Offset placed(int, int, const Offset& offset) const { return offset; }
    /// True where bands look from places of their own.
    [[nodiscard]] virtual bool hasReceptors() const { return false; }
    /// True when the line of sight follows the ground while light is gathered, so that nothing is smeared.
    [[nodiscard]] virtual bool followsGround() const { return false; }
    [[nodiscard]] virtual std::vector<OwnFact> ownFacts() const { return {}; }
    /// What must be said beside this instrument's numbers; empty: nothing of its own.
    [[nodiscard]] virtual std::string caution() const { return ""; }
    /// True when the light is brought to the axis by a mirror (no cos^4, no flat focal plane).
    [[nodiscard]] virtual bool hasMirror() const = 0;
    /// Where the mirror points at a time, between two sweeps too; nothing without a mirror. No light depends on what it does
    /// between sweeps.
    [[nodiscard]] virtual std::optional<MirrorState> mirrorAt(double) const { return std::nullopt; }
    /// Footprint and place of the field at a share of half the field: 0 the centre, 1 the edge (+-FOV/2).
    /// Flat: level ground at datum. Curved: a sphere of `earth_radius_m`.
    [[nodiscard]] virtual std::optional<FieldPoint> field(double share, bool curved) const = 0;
    /// The time at the middle of a line; of a sweep, half way through it.
    [[nodiscard]] virtual double lineTime_s(int line) const = 0;
    /// The last time at which light of this line is gathered: from then on the line can be shown.
    [[nodiscard]] virtual double lineDone_s(int line) const = 0;

protected:
    Derived derived_;
    std::vector<Band> bands_;
    OpticsSettings optics_{};
    DetectorSettings detector_{};
    NoiseSettings noise_{};
    ConverterSettings converter_{};
    FlightFrame flight_;
    void takeCommon(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight);
    /// Field point of a flat ground or sphere for a direction `angle` off nadir with angular footprints.
    [[nodiscard]] std::optional<FieldPoint> project(double angle_rad, double across_rad, double along_rad, double step_rad,
                                                    bool curved) const;
};

/// Rows that every passive instrument declares beside its geometry.
[[nodiscard]] std::vector<Parameter> commonInstrumentRows();

}  // namespace linefall
