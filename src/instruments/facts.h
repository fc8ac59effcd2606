#pragma once
// Everything that follows from an instrument and its flight before anything is flown.

#include <optional>
#include <string>
#include <vector>

#include "instruments/instrument.h"
#include "instruments/light_walk.h"

namespace linefall {

/// Numbers of a field on flat ground or on a sphere. Lengths in m.
struct FieldFacts {
    FieldPoint nadir, edge;          ///< centre of the field and +-FOV/2
    double swath_m = 0.0;
    double spacing_along_m = 0.0;    ///< between image lines, at nadir
    double overlap_nadir_m = 0.0;    ///< of neighbouring lines or scans; negative: a gap
    double overlap_edge_m = 0.0;
};

struct BandFacts {
    std::string name;
    double reference_radiance = 0.0;   ///< at the sensor over the reference panel, W m-2 sr-1 um-1
    double signal_e = 0.0;             ///< electrons that it gives
    double snr = 0.0;                  ///< S / sqrt(S + D + R^2)
    double noise_equivalent_radiance = 0.0;  ///< W m-2 sr-1 um-1, at the reference radiance
    double saturation_radiance = 0.0;        ///< that fills the well or the converter
};

struct Facts {
    Derived derived;
    FieldFacts flat;
    std::optional<FieldFacts> curved;  ///< nothing where the edge leaves the Earth
    std::string curved_reason;         ///< why not
    double earth_radius_m = 0.0;
    double bits_per_s = 0.0;           ///< samples x bands x bits x lines a second; a frame: of one frame, per frame
    double reference_reflectance = 0.2;  ///< level panel under the scene's sun and air
    std::vector<BandFacts> bands;
    std::vector<OwnFact> own;          ///< of this kind of instrument alone
    std::string caution;
};

/// `weather` for the instrument's bands. Level ground at datum.
[[nodiscard]] Facts factsOf(const Instrument& instrument, const FlightFrame& flight, const LightPath& path, const Weather& weather);

}  // namespace linefall
