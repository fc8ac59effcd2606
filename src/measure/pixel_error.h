#pragma once
// How sure a reading is that was taken at picked pixels.
//
// A place that was picked may be anywhere in its pixel: an error that is uniform over half a pixel to either side, along
// the line and across it, each with a standard deviation of pixel / sqrt(12), independent of the other and of other places.
// To first order of a formula f of such places,
//   sigma^2 = sum over places and axes of (f(+1/2 pixel) - f(-1/2 pixel))^2 / 12.
// Blur, noise and a careless hand are not in it. Source: the variance of a uniform distribution.

#include <functional>
#include <optional>
#include <span>

#include "measure/picture_place.h"

namespace linefall {

/// A number that follows from places in pictures; nothing where there is none (a look into the sky).
using OfPlaces = std::function<std::optional<double>(std::span<const PicturePlace>)>;

/// One standard deviation of `f` about the places. Where f has no value on one side of a place, the other side counts
/// double; where it has none on either, the result is infinite. Where half a pixel crosses the edge of a thing (a tower's
/// top instead of the ground behind it), the jump is in the result, as it should be.
[[nodiscard]] double pixelSigma(std::span<const PicturePlace> places, const OfPlaces& f);

}  // namespace linefall
