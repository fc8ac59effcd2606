#pragma once
// Where the instrument looks, as lines in the world: made from its own looks and motion, so nothing here knows
// what kind of instrument it is.

#include <optional>
#include <vector>

#include "flight/formation.h"

namespace linefall {

/// Where a look ends on the ground (or far away for the sky).
[[nodiscard]] Vec3 groundOf(const Formation& formation, const LookManner& manner, int line, double sample, const Offset& offset = {});

/// Points of one line on the ground, starboard to port, `count` of them.
[[nodiscard]] std::vector<Vec3> lineOnGround(const Formation& formation, const LookManner& manner, int line, int count);

/// The two edges of the swath, `count` points each along the whole flight.
struct SwathEdges {
    std::vector<int> lines;
    std::vector<Vec3> starboard, port;
};
[[nodiscard]] SwathEdges swathEdges(const Formation& formation, const LookManner& manner, int count);

/// The four corners of a sample's footprint, half way through its dwell or at another share of it (-0.5 .. 0.5).
[[nodiscard]] std::vector<Vec3> footprint(const Formation& formation, const LookManner& manner, int line, int sample, double dwell_share = 0.0);

/// A sample of an image.
struct Pixel {
    int line = 0, sample = 0;
    friend bool operator==(const Pixel&, const Pixel&) = default;
};
/// The sample among lines 0 .. lines - 1 that met the ground nearest to a point, and how far off it is.
struct Nearest {
    Pixel pixel;
    double off_m = 0.0;
};
[[nodiscard]] std::optional<Nearest> nearestSample(Formation& formation, int lines, const Vec3& point_m);
/// How far off a sample may be and still be said to see a point: four times what it covers under the platform. A shown rule, not a measure.
[[nodiscard]] double sameGround_m(const Formation& formation);

}  // namespace linefall
