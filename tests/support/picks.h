#pragma once
// Picked places: random ones within their pixels, and the spread of a reading over them.

#include <cmath>
#include <functional>
#include <optional>
#include <span>
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

}  // namespace linefall::test
