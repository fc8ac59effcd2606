#include "flight/aim.h"

#include <cmath>

namespace linefall {

namespace {

std::unique_ptr<Instrument> madeInstrument(const Scene& scene, std::size_t index) {
    Problems problems;
    std::unique_ptr<Instrument> instrument = makeInstrument(scene, index, problems);
    if (!problems.empty()) throw InputError(problems);
    return instrument;
}

}  // namespace

Aim::Aim(const Scene& scene, std::size_t instrument)
    : place_(scene.place), instrument_(madeInstrument(scene, instrument)), motion_(scene.flightSettings()),
      manner_(lookManner(scene.flightSettings(), effectKeys().read(scene.settings))) {}

std::optional<Vec2> placeInQuad(const Quad& quad, const Vec2& point) {
    const Vec2 a = quad.a - point;  // small numbers, so that rounding far from the world's origin does no harm
    const Vec2 e = quad.b - quad.a, f = quad.c - quad.a, g = quad.a - quad.b - quad.c + quad.d;
    // A twisted patch may send Newton's method away: then from near a corner.
    for (const Vec2& from : {Vec2{0.5, 0.5}, Vec2{0.1, 0.1}, Vec2{0.9, 0.1}, Vec2{0.1, 0.9}, Vec2{0.9, 0.9}}) {
        double u = from.x, v = from.y;
        for (int i = 0; i < 20; ++i) {
            const Vec2 off = a + u * e + v * f + u * v * g;
            const Vec2 by_u = e + v * g, by_v = f + u * g;
            const double det = by_u.x * by_v.y - by_u.y * by_v.x;
            if (det == 0.0) break;
            const double du = (off.x * by_v.y - off.y * by_v.x) / det;
            const double dv = (by_u.x * off.y - by_u.y * off.x) / det;
            u -= du;
            v -= dv;
            if (std::abs(du) + std::abs(dv) < 1e-12 * (1.0 + std::abs(u) + std::abs(v))) return Vec2{u, v};
            if (std::abs(u) + std::abs(v) > 1e6) break;
        }
    }
    return std::nullopt;
}

}  // namespace linefall
