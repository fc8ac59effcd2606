#pragma once
// One cause at a time: the twelve causes of an image's greys and places that a lecturer takes away and puts back.
// Each is a handful of declared switches; nothing here computes light or places.

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/scene.h"

namespace linefall {

enum class Cause {
    perspective, relief, attitude, sweep_motion, air, skylight, cast_shadow, slope_shading, blur, noise, quantisation, pattern
};
inline constexpr std::size_t cause_count = 12;

struct CauseRow {
    Cause cause;
    const char* name;         ///< as shown: "motion during the sweep"
    const char* word;         ///< one word for reports and figures: "sweep-motion"
    const char* sentence;     ///< what it does to the image
    const char* stage;        ///< the stop of the light path at which it acts, as named there: "aim", "air, down", "ground", ...
    std::vector<const char*> keys;  ///< flags of the scene; the cause is off when all of them are false
};

/// All causes in the order of the issue: those of place first, then of light, then of the detector.
[[nodiscard]] const std::array<CauseRow, cause_count>& causeTable();
[[nodiscard]] const CauseRow& rowOf(Cause cause);
/// Index of its stop in lightStops().
[[nodiscard]] int stopOfCause(Cause cause);
/// By word or name; nothing when unknown.
[[nodiscard]] std::optional<Cause> causeNamed(std::string_view text);

/// True when any of the cause's switches is on.
[[nodiscard]] bool isOn(const Scene& scene, Cause cause);
/// The scene with all switches of the cause turned on or off; everything else as it was.
[[nodiscard]] Scene switched(const Scene& scene, Cause cause, bool on);

/// Why a cause changes nothing in the image of one instrument whether it is switched on or off, as a sentence for the user;
/// empty when it can act. Where a sentence is given, the images with and without are the same (for relief: but for the
/// rounding of a place). No sentence is no promise: a cast shadow may fall outside the swath.
[[nodiscard]] std::string whyIdle(const Scene& scene, std::size_t instrument, Cause cause);
/// True when the cause is on and can act.
[[nodiscard]] bool acts(const Scene& scene, std::size_t instrument, Cause cause);

}  // namespace linefall
