#include "flight/picture_place.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace linefall {

namespace {

/// The pixels whose centres lie about a coordinate, the share of the upper one, and what is left where there is one pixel.
struct Between {
    int low = 0, high = 0;
    double share = 0.0, rest = 0.0;
};

Between between(double coordinate, int pixels) {
    const double centre = coordinate - 0.5;
    if (pixels < 2) return {0, 0, 0.0, centre};
    const double low = std::clamp(std::floor(centre), 0.0, pixels - 2.0);
    const double share = centre - low;
    const int at = static_cast<int>(low);
    if (share == 0.0) return {at, at, 0.0, 0.0};
    if (share == 1.0) return {at + 1, at + 1, 0.0, 0.0};
    return {at, at + 1, share, 0.0};
}

}  // namespace

Ray rayAt(const PicturePlace& place, int samples, int lines, double step_of_ifov, const LookOfPixel& look) {
    const Between s = between(place.sample, samples), l = between(place.line, lines);
    const Offset offset{s.rest * step_of_ifov, l.rest, 0.0};
    if (s.share == 0.0 && l.share == 0.0) return look(l.low, s.low, offset);
    const std::array<Ray, 4> rays{look(l.low, s.low, offset), look(l.low, s.high, offset), look(l.high, s.low, offset), look(l.high, s.high, offset)};
    const std::array<double, 4> weights{(1.0 - s.share) * (1.0 - l.share), s.share * (1.0 - l.share), (1.0 - s.share) * l.share, s.share * l.share};
    Vec3 origin{0.0}, direction{0.0};
    double time_s = 0.0;
    for (std::size_t i = 0; i < 4; ++i) {
        origin += weights[i] * rays[i].origin_m;
        direction += weights[i] * rays[i].direction;
        time_s += weights[i] * rays[i].time_s;
    }
    return {origin, glm::normalize(direction), time_s};
}

}  // namespace linefall
