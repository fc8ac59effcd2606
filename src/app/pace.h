#pragma once
// The pace of simulated time as people read and type it: "× 3.45", "1/20 000" of real time.

#include <optional>
#include <string>

namespace linefall {

[[nodiscard]] std::string paceText(double pace);
/// Reads "3", "x 0.00005", "× 3", "1/20000", "1/20 000", also followed by "of real time". Nothing: it is no pace, or outside
/// what the clock can do.
[[nodiscard]] std::optional<double> readPace(std::string text);
/// What readPace expects, in words.
[[nodiscard]] const char* paceExpected();

/// A length of time in its own unit, as printed: "124 µs".
[[nodiscard]] std::string shownTime(double time_s, int figures);
/// A time with so many digits that steps of `resolution_s` show: "10.90575 s".
[[nodiscard]] std::string timeText(double time_s, double resolution_s);

}  // namespace linefall
