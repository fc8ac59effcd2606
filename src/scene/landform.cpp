#include "scene/landform.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"

namespace linefall {

double Landform::at(double east, double north) const {
    const double x = east - east_m;
    const double y = north - north_m;
    if (kind == Kind::ridge) {
        const double along = x * std::sin(heading_rad) + y * std::cos(heading_rad);
        const double across = x * std::cos(heading_rad) - y * std::sin(heading_rad);
        const double beyond = std::max(0.0, std::abs(along) - 0.5 * length_m);  // past the end of the crest
        return height_m * std::max(0.0, 1.0 - std::max(std::abs(across), beyond) / radius_m);
    }
    const double share = std::hypot(x, y) / radius_m;
    if (share >= 1.0) return 0.0;
    switch (kind) {
        case Kind::cone:
            return height_m * (1.0 - share);
        case Kind::bump:
            return height_m * 0.5 * (1.0 + std::cos(constants::pi * share));
        default: {
            // A cap of a sphere of radius s through the foot and the top.
            const double h = std::abs(height_m);
            if (h == 0.0) return 0.0;
            const double s = (radius_m * radius_m + h * h) / (2.0 * h);
            const double r = share * radius_m;
            return std::copysign(std::sqrt(std::max(0.0, s * s - r * r)) - (s - h), height_m);
        }
    }
}

}  // namespace linefall
