#pragma once
// Two pictures under one place of the page: the same scale, and the same ground in the middle.

#include "app/picture_frame.h"

namespace linefall {

struct Desk;

/// Where the ground under the platform at a time lies in a picture: sample, line; may lie outside it. Level attitude.
[[nodiscard]] Vec2 nadirPlace(const Formation& formation, double time_s);
/// The times at which the ground under the platform runs through a picture, s.
[[nodiscard]] std::pair<double, double> nadirTimes(const Formation& formation);

/// The frame of a craft's picture while the pictures are shown by turns: all at the scale at which each fits, about the
/// picked ground, else about the ground under the platform when what all of them saw was newest.
[[nodiscard]] PictureFrame blinkFrame(const Desk& desk, int craft, const Rect& space);

}  // namespace linefall
