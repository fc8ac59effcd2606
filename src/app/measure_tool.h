#pragma once
// Measuring in the pictures: places set by pointer or keys, and what the core reads there.

#include <optional>
#include <string>
#include <vector>

#include "app/picture_frame.h"
#include "measure/calibration.h"
#include "measure/picture_place.h"
#include "measure/reading.h"

namespace linefall {

struct Desk;

enum class MeasureKind { length, height, angle, area, profile, histogram, parallax };

struct MeasureTool {
    MeasureKind kind = MeasureKind::length;
    std::vector<PicturePlace> places;   ///< in the picture of `craft`; the order in which they were set
    int craft = 0;
    std::vector<PicturePlace> other;    ///< parallax alone: base and top in the next picture
    Scale scale = Scale::counts;
    DisplayUnits units;
    /// Lowest and highest place of the ground under the profile, as last drawn.
    struct Span {
        double lowest_m = 0.0, lowest_at_m = 0.0, highest_m = 0.0, highest_at_m = 0.0;  ///< above datum; along the line
    };
    std::optional<Span> profile;
    int setting = -1;                   ///< the picture in which the pointer is down and moves the last place
};

/// Places that a kind of measuring takes.
[[nodiscard]] int placesOf(MeasureKind kind);
[[nodiscard]] bool measuring(const Desk& desk);
/// The pointer or a key sets places in a picture; true when it was taken for measuring.
bool measureTouch(Desk& desk, const PictureFrame& frame, int craft, const Touch& touch);
/// Lines, numbers and areas over a picture.
void drawMeasure(Desk& desk, const PictureFrame& frame, int craft);
/// What is read just now, the first first; empty until the places are set.
[[nodiscard]] std::vector<Reading> readingsOf(const Desk& desk);
/// Takes the last place back.
void measureBack(Desk& desk);

}  // namespace linefall
