#pragma once
// How figures of a scene are made. No image depends on it; it stands in a state so that the state makes the same figure again.

#include <optional>
#include <string>
#include <vector>

#include "base/parameter.h"

namespace linefall {

enum class FigureKind { picture, flight, path, profile, histogram };
enum class FigureTheme { day, night };
enum class FigureQuantity { counts, radiance, reflectance };  ///< in the order of Scale (measure/calibration.h)

/// As declared: texts are read by the functions below. Bands, stretch, pixel and time are those of ShowSettings.
struct FigureSettings {
    std::string what, from, to, scales, difference;
    FigureQuantity quantity;
    FigureTheme theme;
    bool plain;
    // The eye of the flight figure; nothing: one that sees platform, swath and pixel.
    std::optional<double> azimuth_rad, elevation_rad, distance_m, east_m, north_m, up_m;
};
[[nodiscard]] const Keys<FigureSettings>& figureKeys();

/// "picture, flight": kinds separated by commas; empty text: all. Nothing: not understood.
[[nodiscard]] std::optional<std::vector<FigureKind>> readKinds(const std::string& text);
[[nodiscard]] std::string kindName(FigureKind kind);
/// "1, 2, 3": 1 to 3, each once. Nothing: not understood.
[[nodiscard]] std::optional<std::vector<int>> readScales(const std::string& text);

/// What each text must be, for messages.
[[nodiscard]] std::string kindsExpected();
inline constexpr const char* sample_expected = "LETTER:LINE,SAMPLE, as in A:120,45 (line 120, sample 45 of the first instrument)";
inline constexpr const char* scales_expected = "1, 2 or 3, or several of them separated by commas";

/// Adds a problem for each text that is not understood.
void checkFigureTexts(const Settings& settings, Problems& problems);

}  // namespace linefall
