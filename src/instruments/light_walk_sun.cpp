// What of the sun each contribution sees.

#include <algorithm>

#include "base/dispatch.h"
#include "instruments/light_walk_parts.h"

namespace linefall {

namespace {

/// 1 where a surface faces a direction, 0 where it turns its back, or where there is none.
LINEFALL_VECTORISED
void face(const LineLooks& looks, std::size_t start, const Vec3& towards, std::span<std::uint8_t> out) {
    const float* __restrict nx = looks.nx.data() + start;
    const float* __restrict ny = looks.ny.data() + start;
    const float* __restrict nz = looks.nz.data() + start;
    const Meets* __restrict meets = looks.meets.data() + start;
    std::uint8_t* __restrict faces = out.data();
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double cosine = static_cast<double>(nx[i]) * towards.x + static_cast<double>(ny[i]) * towards.y +
                              static_cast<double>(nz[i]) * towards.z;
        faces[i] = ((cosine > 0.0) & (meets[i] != Meets::sky)) ? 1 : 0;
    }
}

/// Whether each contribution that faces one point of the sun sees it, at its own time: 0 or 1.
void seePoint(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part, const Vec3& towards,
              std::span<std::uint8_t> seen) {
    const std::size_t n = path.offsets.size(), start = static_cast<std::size_t>(part.first) * n;
    face(looks, start, towards, seen);
    if (!path.effects.cast_shadow) return;
    const Ground& ground = *path.ground;
    const auto timeOf = [&](std::size_t i) {
        return ground.movers().empty() ? 0.0 : contributionTime(path, part.line, part.first + static_cast<int>(i / n), path.offsets[i % n]);
    };
    if (weather.field) {
        const auto of = [&](const std::vector<float>& all) { return std::span(all).subspan(start, seen.size()); };
        weather.field->look({of(looks.x_m), of(looks.y_m), of(looks.z_m), of(looks.nx), of(looks.ny), of(looks.nz)}, seen);
        for (std::size_t i = 0; i < seen.size() && !ground.movers().empty(); ++i) {
            if (seen[i] != 0 && ground.blockedByMover(pointOf(looks, start + i), normalOf(looks, start + i), towards, timeOf(i))) seen[i] = 0;
        }
        return;
    }
    for (std::size_t i = 0; i < seen.size(); ++i) {
        if (seen[i] != 0 && ground.blocked(pointOf(looks, start + i), normalOf(looks, start + i), towards, timeOf(i))) seen[i] = 0;
    }
}

}  // namespace

void seeSun(const LightPath& path, const Weather& weather, const LineLooks& looks, const LinePart& part,
            std::span<std::uint8_t> seen) {
    std::fill(seen.begin(), seen.end(), std::uint8_t{0});
    std::vector<std::uint8_t> one(seen.size());
    for (const Vec3& towards : weather.sun_points) {
        if (towards.z <= 0.0) continue;  // behind the Earth
        seePoint(path, weather, looks, part, towards, one);
        for (std::size_t i = 0; i < seen.size(); ++i) seen[i] = static_cast<std::uint8_t>(seen[i] + one[i]);
    }
}

}  // namespace linefall
