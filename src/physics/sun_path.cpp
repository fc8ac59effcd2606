#include "physics/sun_path.h"

#include <algorithm>

namespace linefall {

namespace {

constexpr double day_s = 86400.0;

SunMoment momentAt(const Instant& time, const Site& site) {
    const SunPosition sun = sunAt(time, site);
    return {time, sun.azimuth_rad, sun.elevation_rad};
}

}  // namespace

SunPath sunPath(const CivilDate& local_date, int utc_offset_s, const Site& site, double step_min) {
    SunPath path;
    const Instant start = startOfDay(local_date, utc_offset_s);
    const double step_s = 60.0 * std::max(1.0, step_min);
    for (int i = 0; i * step_s < day_s - 1e-6; ++i) path.moments.push_back(momentAt(plusSeconds(start, i * step_s), site));
    path.moments.push_back(momentAt(plusSeconds(start, day_s), site));

    path.day = sunriseSunset(local_date, utc_offset_s, site);
    const SunPosition noon = sunAt(path.day.transit, site);
    path.noon = {path.day.transit, noon.azimuth_rad, noon.elevation_rad};
    path.declination_rad = noon.declination_rad;
    if (!path.polarNight()) {
        const Instant rise = path.day.sunrise.value_or(plusSeconds(path.day.transit, -0.5 * day_s));
        const Instant set = path.day.sunset.value_or(plusSeconds(path.day.transit, 0.5 * day_s));
        path.length_s = secondsBetween(rise, set);
    }
    return path;
}

}  // namespace linefall
