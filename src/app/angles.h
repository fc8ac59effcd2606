#pragma once
// Angles on the spot: which of them are drawn in the flight view, and the sun's path by latitude and date.

#include <array>
#include <optional>
#include <string>

#include "base/vectors.h"
#include "physics/sun_path.h"

namespace linefall {

struct Desk;
class Sketch;

enum class AngleMark { nadir, zenith, solar_zenith, elevation, view, local, ifov, fov, swath, sun_path };
inline constexpr std::size_t angle_count = 10;

struct AngleRow {
    const char* word;  ///< in the report
    const char* name;  ///< on its switch
    const char* hint;
    bool standard;     ///< drawn from the beginning
};
/// In the order of AngleMark.
[[nodiscard]] const std::array<AngleRow, angle_count>& angleTable();

/// Which sun path is shown: that of the place and its date, unless something else was typed. The scene never changes with it.
struct PathChoice {
    std::optional<double> latitude_rad;
    std::optional<CivilDate> date;
};

struct Angles {
    std::array<bool, angle_count> on;
    PathChoice typed;
    std::string latitude_wrong, date_wrong;  ///< what is wrong with the text typed last
    Angles();
    [[nodiscard]] bool shows(AngleMark mark) const { return on[static_cast<std::size_t>(mark)]; }
};

/// What the path is of.
struct PathOf {
    CivilDate date;
    double latitude_rad = 0.0, longitude_rad = 0.0;
    int utc_offset_s = 0;
    friend bool operator==(const PathOf&, const PathOf&) = default;
};
[[nodiscard]] PathOf pathOf(const Desk& desk);
/// The path of the place's latitude and date, or of those typed; made once for each.
[[nodiscard]] const SunPath& sunPathNow(Desk& desk);
/// A direction's vector: east, north, up.
[[nodiscard]] Vec3 towardsOf(double azimuth_rad, double elevation_rad);
/// "13:05" on the path's clock.
[[nodiscard]] std::string clockText(const Instant& instant, int utc_offset_s);
/// "52.0°", "7.1°"; "2.20 mrad" below two degrees when `small`.
[[nodiscard]] std::string angleText(double angle_rad, int figures = 3, bool small = false);
[[nodiscard]] std::string dateText(const CivilDate& date);

/// All angles that are switched on, in the flight view.
void drawAngles(Sketch& sketch, Desk& desk);

}  // namespace linefall
