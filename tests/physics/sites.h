#pragma once
// Places on the Earth for tests of the sun.

#include "base/angle.h"
#include "physics/sun_position.h"

namespace linefall::test {

inline Site siteAt(double latitude_deg, double longitude_deg = 0.0) {
    Site site;
    site.latitude_rad = radiansFromDegrees(latitude_deg);
    site.longitude_rad = radiansFromDegrees(longitude_deg);
    return site;
}

inline double deg(double angle_rad) { return degreesFromRadians(angle_rad); }

}  // namespace linefall::test
