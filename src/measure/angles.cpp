#include "measure/angles.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle.h"
#include "measure/pixel_error.h"

namespace linefall {

namespace {

double azimuth(const Vec3& from, const Vec3& to) { return std::atan2(to.x - from.x, to.y - from.y); }

/// Angle between two directions on the map, 0 to pi.
double between(double one_rad, double other_rad) { return std::abs(std::remainder(one_rad - other_rad, 2.0 * constants::pi)); }

bool apart(const Vec3& a, const Vec3& b) { return a.x != b.x || a.y != b.y; }

}  // namespace

Reading lookAngle(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"angle between the lines of sight", 0.0, Kind::angle, "", 0.0, "α", "arccos(u₁ · u₂)"};
    const auto angle = [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const Vec3 a = rayAt(formation, p[0]).direction;
        const Vec3 b = rayAt(formation, p[1]).direction;
        return std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b));  // exact for small angles too
    };
    const std::array places{from, to};
    reading.value = *angle(places);
    reading.sigma = pixelSigma(places, angle);
    return reading;
}

Reading bearing(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"bearing", 0.0, Kind::angle, "", 0.0, "B", "arctan(({E₂} - {E₁}) / ({N₂} - {N₁}))"};
    const auto a = groundAt(formation, from);
    const auto b = groundAt(formation, to);
    if (!a || !b) {
        reading.missing = "a place looks into the sky";
        return reading;
    }
    reading.terms = {{"E₁", "first point, east", a->x}, {"N₁", "first point, north", a->y},
                     {"E₂", "second point, east", b->x}, {"N₂", "second point, north", b->y}};
    if (!apart(*a, *b)) {
        reading.missing = "both places show the same ground point";
        return reading;
    }
    const double middle = azimuth(*a, *b);
    reading.value = wrappedToTurn(middle);
    const std::array places{from, to};
    reading.sigma = pixelSigma(places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto first = groundAt(formation, p[0]);
        const auto second = groundAt(formation, p[1]);
        if (!first || !second) return std::nullopt;
        return std::remainder(azimuth(*first, *second) - middle, 2.0 * constants::pi);
    });
    return reading;
}

namespace {

/// Angle between the lines 0 -> 1 and 2 -> 3 of `index`ed places.
Reading angleOf(const Formation& formation, std::span<const PicturePlace> places, const std::array<std::size_t, 4>& index) {
    Reading reading{"angle on the ground", 0.0, Kind::angle, "", 0.0, "γ", "|{B₁} - {B₂}|"};
    std::array<double, 2> azimuths{};
    const auto angle = [&](std::span<const PicturePlace> p) -> std::optional<double> {
        std::array<Vec3, 4> points;
        for (std::size_t i = 0; i < 4; ++i) {
            const auto point = groundAt(formation, p[index[i]]);
            if (!point) return std::nullopt;
            points[i] = *point;
        }
        if (!apart(points[0], points[1]) || !apart(points[2], points[3])) return std::nullopt;
        azimuths = {azimuth(points[0], points[1]), azimuth(points[2], points[3])};
        return between(azimuths[0], azimuths[1]);
    };
    const std::optional<double> value = angle(places);
    if (!value) {
        reading.missing = "a line needs two different ground points";
        return reading;
    }
    reading.value = *value;
    reading.terms = {{"B₁", "bearing of the first line", wrappedToTurn(azimuths[0]), Kind::angle},
                     {"B₂", "bearing of the second line", wrappedToTurn(azimuths[1]), Kind::angle}};
    reading.assumes = {"a difference above 180 deg is taken from 360 deg"};
    reading.sigma = pixelSigma(places, angle);
    return reading;
}

}  // namespace

Reading angleAt(const Formation& formation, const PicturePlace& vertex, const PicturePlace& one, const PicturePlace& other) {
    const std::array places{vertex, one, other};
    return angleOf(formation, places, {0, 1, 0, 2});
}

Reading angleBetween(const Formation& formation, const PictureLine& one, const PictureLine& other) {
    const std::array places{one.from, one.to, other.from, other.to};
    return angleOf(formation, places, {0, 1, 2, 3});
}

}  // namespace linefall
