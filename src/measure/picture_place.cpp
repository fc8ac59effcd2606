#include "measure/picture_place.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

/// Pixel centres below and above a coordinate, and the share of the upper one.
struct Between {
    int low = 0, high = 0;
    double share = 0.0;
};

Between between(double coordinate, int pixels) {
    const double centre = coordinate - 0.5;
    if (pixels < 2) return {};
    const double low = std::clamp(std::floor(centre), 0.0, pixels - 2.0);
    const double share = centre - low;
    const int at = static_cast<int>(low);
    if (share == 0.0) return {at, at, 0.0};
    if (share == 1.0) return {at + 1, at + 1, 0.0};
    return {at, at + 1, share};
}

/// Bilinear between four values at pixels.
template <class ValueAt>
auto bilinear(const Between& s, const Between& l, const ValueAt& at) {
    const auto along = [&](int line) {
        const auto low = at(line, s.low);
        return s.share == 0.0 ? low : low + s.share * (at(line, s.high) - low);
    };
    const auto low = along(l.low);
    return l.share == 0.0 ? low : low + l.share * (along(l.high) - low);
}

}  // namespace

bool inPicture(const Formation& formation, const PicturePlace& place) {
    return place.sample >= 0.0 && place.line >= 0.0 && place.sample <= formation.samples() && place.line <= formation.lines();
}

PixelIndex pixelAt(const Formation& formation, const PicturePlace& place) {
    const auto index = [](double coordinate, int pixels) { return static_cast<int>(std::clamp(std::floor(coordinate), 0.0, pixels - 1.0)); };
    return {index(place.sample, formation.samples()), index(place.line, formation.lines())};
}

Ray rayAt(const Formation& formation, const PicturePlace& place) {
    const Derived& d = formation.instrument().derived();
    return rayAt(place, formation.samples(), formation.lines(), d.sample_step_rad / d.ifov_rad,
                 [&](int line, int sample, const Offset& offset) { return formation.ray(line, sample, offset); });
}

double lookTimeAt_s(const Formation& formation, const PicturePlace& place) {
    return bilinear(between(place.sample, formation.samples()), between(place.line, formation.lines()),
                    [&](int line, int sample) { return formation.lookTime_s(line, sample); });
}

Vec3 sensorAt(const Formation& formation, const PicturePlace& place) {
    return formation.motion().positionAt(lookTimeAt_s(formation, place));
}

std::optional<Vec3> groundAt(const Formation& formation, const PicturePlace& place) {
    const GroundHit hit = formation.place().ground->intersect(rayAt(formation, place));
    if (hit.meets == Meets::sky) return std::nullopt;
    return hit.point_m;
}

std::optional<Vec3> levelAt(const Formation& formation, const PicturePlace& place, double height_m) {
    const Ray ray = rayAt(formation, place);
    const double drop = ray.origin_m.z - height_m;
    if (ray.direction.z >= -1e-9 || drop <= 0.0) return std::nullopt;
    return ray.at(drop / -ray.direction.z);
}

}  // namespace linefall
