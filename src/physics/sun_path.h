#pragma once
// Stage 1, sun: its way over the sky in one day, for drawing.

#include <string>
#include <vector>

#include "physics/sun_position.h"

namespace linefall {

struct SunMoment {
    Instant time;
    double azimuth_rad = 0.0;    ///< clockwise from north, [0, 2 pi)
    double elevation_rad = 0.0;  ///< topocentric, refracted; negative below the horizon
};

/// The sun's day at a site.
struct SunPath {
    std::vector<SunMoment> moments;  ///< from 0h to 24h of the local clock, both included; times rise
    SunDay day;                      ///< sunrise and sunset as the almanacs have them
    SunMoment noon;                  ///< at the transit: the highest place of the day, but for the drift of the declination
    double declination_rad = 0.0;    ///< at the transit
    /// From sunrise to sunset. In the polar day and night 86400 and 0 s; on the first or last day of the polar day the time
    /// above the horizon within half a day of the transit.
    double length_s = 0.0;

    [[nodiscard]] bool polarDay() const { return day.reason == "polar day"; }
    [[nodiscard]] bool polarNight() const { return day.reason == "polar night"; }
};

/// The path of a local day on a clock `utc_offset_s` ahead of UTC, a moment every `step_min` minutes (at least 1; the last
/// step may be shorter). The same sunAt and sunriseSunset as everywhere: the sun of a scene with a date lies on its path.
[[nodiscard]] SunPath sunPath(const CivilDate& local_date, int utc_offset_s, const Site& site, double step_min = 10.0);

}  // namespace linefall
