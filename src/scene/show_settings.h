#pragma once
// How a formed image is shown. No count depends on it; it is kept with the scene, so that a state opens to the same picture.

#include <optional>
#include <string>
#include <vector>

#include "base/parameter.h"

namespace linefall {

enum class StretchKind { percent, value, none };
/// What the pictures show: the counts as they fell, what one cause does to them, or the counts laid out on the ground.
enum class ShownAs { picture, difference, map };
enum class MapResampling { nearest, bilinear };
enum class MapHeight { datum, ground };

struct ShowSettings {
    std::string bands;         ///< "true colour", "false colour", a band's name, or three names for red, green and blue
    StretchKind stretch;
    double low_percent, high_percent;
    double low_count, high_count;
    bool turned;               ///< by 180 degrees, never mirrored
    std::string pixel;         ///< "A:line,sample": the picked pixel of the first picture; empty: none
    ShownAs as;
    std::string cause;         ///< the one looked at, by its word
    bool displacement;         ///< arrows and outlines of what the cause does to places
    MapResampling resampling;
    MapHeight map_height;
    std::optional<double> time_s;  ///< where the clock stands; nothing: the whole flight is over
};

[[nodiscard]] const Keys<ShowSettings>& showKeys();
/// The words of the causes, in the order of flight/cause_table.h (a test holds the two together).
[[nodiscard]] const std::vector<std::string>& causeWords();

/// "A:120,45" read: instrument, line, sample, each from 0. Nothing when it is not of that form.
struct ShownPixel {
    int instrument = 0, line = 0, sample = 0;
    friend bool operator==(const ShownPixel&, const ShownPixel&) = default;
};
[[nodiscard]] std::optional<ShownPixel> readShownPixel(const std::string& text);
[[nodiscard]] std::string writtenPixel(const ShownPixel& pixel);

}  // namespace linefall
