#pragma once
// Places in a picture, between pixels too: where they look, when, and what they meet.

#include <optional>

#include "flight/formation.h"
#include "flight/picture_place.h"

namespace linefall {

[[nodiscard]] inline PicturePlace centreOf(int sample, int line) { return {sample + 0.5, line + 0.5}; }
[[nodiscard]] bool inPicture(const Formation& formation, const PicturePlace& place);
/// The pixel that holds a place; the nearest one for a place outside.
struct PixelIndex {
    int sample = 0, line = 0;
    friend bool operator==(const PixelIndex&, const PixelIndex&) = default;
};
[[nodiscard]] PixelIndex pixelAt(const Formation& formation, const PicturePlace& place);

/// The ray of a place, as flight/picture_place.h has it.
[[nodiscard]] Ray rayAt(const Formation& formation, const PicturePlace& place);
/// The time of a place's look, s since the flight began; linear between centres.
[[nodiscard]] double lookTimeAt_s(const Formation& formation, const PicturePlace& place);
/// Where the platform was then, world frame.
[[nodiscard]] Vec3 sensorAt(const Formation& formation, const PicturePlace& place);
/// The ground that a place shows; nothing for sky. At a pixel's centre: the kept ground point (before it was rounded to
/// single precision).
[[nodiscard]] std::optional<Vec3> groundAt(const Formation& formation, const PicturePlace& place);
/// Where a place's look meets a level plane; nothing when it does not go down to it.
[[nodiscard]] std::optional<Vec3> levelAt(const Formation& formation, const PicturePlace& place, double height_m);

}  // namespace linefall
