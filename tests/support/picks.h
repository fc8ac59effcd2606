#pragma once
// Picked places: random ones within their pixels, and the spread of a reading over them.

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <span>
#include <stdexcept>
#include <vector>

#include "measure/picture_place.h"
#include "support/terrain.h"

namespace linefall::test {

/// Standard deviation of `f` when every place is anywhere within half a pixel, along and across, evenly: plain drawing, no
/// formula. Its own relative error is below 1 / sqrt(2 n) for values that are no wilder than normal ones.
inline double drawnSpread(std::span<const PicturePlace> places, int n, std::uint64_t seed,
                          const std::function<std::optional<double>(std::span<const PicturePlace>)>& f) {
    Draws draws(seed, 7);
    double sum = 0.0, squares = 0.0, origin = 0.0;
    std::vector<PicturePlace> moved(places.size());
    for (int i = 0; i < n; ++i) {
        for (std::size_t k = 0; k < places.size(); ++k) {
            moved[k] = {places[k].sample + draws.between(-0.5, 0.5), places[k].line + draws.between(-0.5, 0.5)};
        }
        const double value = f(moved).value();
        if (i == 0) origin = value;
        sum += value - origin;
        squares += (value - origin) * (value - origin);
    }
    return std::sqrt((squares - sum * sum / n) / (n - 1));
}

/// The place whose look passes through a point of the world, whether or not something stands in the way: Newton's steps on
/// the rays of the picture. Throws when there is none.
inline PicturePlace placeOf(const Formation& formation, const Vec3& point_m) {
    PicturePlace at{0.5 * formation.samples(), 0.5 * formation.lines()};
    for (int i = 0; i < 60; ++i) {
        const Vec3 here = levelAt(formation, at, point_m.z).value();
        const Vec3 across = levelAt(formation, {at.sample + 0.5, at.line}, point_m.z).value() - levelAt(formation, {at.sample - 0.5, at.line}, point_m.z).value();
        const Vec3 along = levelAt(formation, {at.sample, at.line + 0.5}, point_m.z).value() - levelAt(formation, {at.sample, at.line - 0.5}, point_m.z).value();
        const Vec3 away = point_m - here;
        if (std::hypot(away.x, away.y) < 1e-7) return at;
        const double determinant = across.x * along.y - along.x * across.y;
        at.sample += (away.x * along.y - along.x * away.y) / determinant;
        at.line += (across.x * away.y - away.x * across.y) / determinant;
        at.sample = std::clamp(at.sample, 0.0, 1.0 * formation.samples());
        at.line = std::clamp(at.line, 0.0, 1.0 * formation.lines());
    }
    throw std::runtime_error("the picture does not look there");
}

/// The centre of the pixel that holds a place: what a click picks.
inline PicturePlace picked(const PicturePlace& place) { return {std::floor(place.sample) + 0.5, std::floor(place.line) + 0.5}; }

}  // namespace linefall::test
