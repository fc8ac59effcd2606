#include "measure/lengths.h"

#include <array>
#include <cmath>

#include "measure/pixel_error.h"

namespace linefall {

namespace {

/// Completes a reading that is a function of places alone.
Reading ofPlaces(Reading reading, std::span<const PicturePlace> places, const OfPlaces& f, const std::string& why_not = looks_into_sky) {
    const std::optional<double> value = f(places);
    if (!value || !std::isfinite(*value)) {
        reading.missing = why_not;
        return reading;
    }
    reading.value = *value;
    reading.sigma = pixelSigma(places, f);
    return reading;
}

/// A reading of the ground points of two places.
template <class OfPoints>
Reading ofTwoPoints(const Formation& formation, Reading reading, const PicturePlace& from, const PicturePlace& to, const OfPoints& of_points) {
    const auto a = groundAt(formation, from);
    const auto b = groundAt(formation, to);
    if (a && b) {
        reading.terms = {{"E₁", "first point, east", a->x}, {"N₁", "first point, north", a->y}, {"z₁", "first point, above datum", a->z},
                         {"E₂", "second point, east", b->x}, {"N₂", "second point, north", b->y}, {"z₂", "second point, above datum", b->z}};
    }
    const std::array places{from, to};
    return ofPlaces(std::move(reading), places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto first = groundAt(formation, p[0]);
        const auto second = groundAt(formation, p[1]);
        if (!first || !second) return std::nullopt;
        return of_points(*first, *second);
    });
}

double level(const Vec3& a, const Vec3& b) { return std::hypot(b.x - a.x, b.y - a.y); }

const char* const level_formula = "√(({E₂} - {E₁})² + ({N₂} - {N₁})²)";

}  // namespace

Reading groundDistance(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"distance on the ground", 0.0, Kind::length, "", 0.0, "D", level_formula};
    return ofTwoPoints(formation, std::move(reading), from, to, level);
}

Reading straightDistance(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"straight distance", 0.0, Kind::length, "", 0.0, "s", "√(({E₂} - {E₁})² + ({N₂} - {N₁})² + ({z₂} - {z₁})²)"};
    return ofTwoPoints(formation, std::move(reading), from, to, [](const Vec3& a, const Vec3& b) { return glm::length(b - a); });
}

Reading heightDifference(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"difference in height", 0.0, Kind::length, "", 0.0, "Δz", "{z₂} - {z₁}"};
    return ofTwoPoints(formation, std::move(reading), from, to, [](const Vec3& a, const Vec3& b) { return b.z - a.z; });
}

NadirSpacing nadirSpacing(const Formation& formation) {
    NadirSpacing out;
    const Derived& d = formation.instrument().derived();
    if (const auto nadir = formation.instrument().field(0.0, false)) {
        out.across_m = nadir->cell.spacing_across_m;
        out.along_m = nadir->cell.along_m;  // a frame's rows lie side by side
    }
    if (d.line_period_s > 0.0) out.along_m = formation.motion().speed_m_s() * d.line_period_s;
    return out;
}

Reading pictureDistance(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"distance as the picture says", 0.0, Kind::length, "", 0.0, "D", "√(({n across} · {a})² + ({n along} · {l})²)"};
    const NadirSpacing spacing = nadirSpacing(formation);
    reading.terms = {{"n across", "pixels across the track", std::abs(to.sample - from.sample), Kind::number, "pixels"},
                     {"a", "spacing of samples at nadir, on level ground at datum", spacing.across_m},
                     {"n along", "pixels along the track", std::abs(to.line - from.line), Kind::number, "pixels"},
                     {"l", "spacing of lines", spacing.along_m}};
    reading.assumes = {"every pixel is as large as at nadir", "level ground at datum"};
    const std::array places{from, to};
    return ofPlaces(std::move(reading), places, [spacing](std::span<const PicturePlace> p) -> std::optional<double> {
        return std::hypot((p[1].sample - p[0].sample) * spacing.across_m, (p[1].line - p[0].line) * spacing.along_m);
    });
}

Reading displacement(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"displacement at datum", 0.0, Kind::length, "", 0.0, "d", level_formula};
    const auto a = levelAt(formation, from, 0.0);
    const auto b = levelAt(formation, to, 0.0);
    if (a && b) {
        reading.terms = {{"E₁", "first look at datum, east", a->x}, {"N₁", "first look at datum, north", a->y},
                         {"E₂", "second look at datum, east", b->x}, {"N₂", "second look at datum, north", b->y}};
    }
    const std::array places{from, to};
    return ofPlaces(std::move(reading), places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto first = levelAt(formation, p[0], 0.0);
        const auto second = levelAt(formation, p[1], 0.0);
        if (!first || !second) return std::nullopt;
        return level(*first, *second);
    });
}

Reading reliefShift(const Formation& formation, const PicturePlace& place) {
    Reading reading{"displacement by relief", 0.0, Kind::length, "", 0.0, "d", "√(({E'} - {E})² + ({N'} - {N})²)"};
    const auto ground = groundAt(formation, place);
    const auto datum = levelAt(formation, place, 0.0);
    if (ground && datum) {
        reading.terms = {{"E", "ground point, east", ground->x}, {"N", "ground point, north", ground->y},
                         {"E'", "where the look meets datum, east", datum->x}, {"N'", "where the look meets datum, north", datum->y}};
    }
    const std::array places{place};
    return ofPlaces(std::move(reading), places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto here = groundAt(formation, p[0]);
        const auto there = levelAt(formation, p[0], 0.0);
        if (!here || !there) return std::nullopt;
        return level(*here, *there);
    });
}

Reading polygonArea(const Formation& formation, std::span<const PicturePlace> corners) {
    Reading reading{"area on the ground", 0.0, Kind::area, "", 0.0, "A", "½ |Σ (E₁ N₂ - E₂ N₁)|"};
    if (corners.size() < 3) {
        reading.missing = "an area needs three corners or more";
        return reading;
    }
    return ofPlaces(std::move(reading), corners, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        std::vector<Vec3> points;
        for (const PicturePlace& corner : p) {
            const auto point = groundAt(formation, corner);
            if (!point) return std::nullopt;
            points.push_back(*point);
        }
        // Counted from the first corner, so that large coordinates cost no digits.
        double twice = 0.0;
        for (std::size_t i = 1; i + 1 < points.size(); ++i) {
            const Vec3 a = points[i] - points[0];
            const Vec3 b = points[i + 1] - points[0];
            twice += a.x * b.y - b.x * a.y;
        }
        return 0.5 * std::abs(twice);
    });
}

Reading timeBetween(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    Reading reading{"time between the looks", 0.0, Kind::time, "", 0.0, "Δt", "{t₂} - {t₁}"};
    reading.terms = {{"t₁", "time of the first look", lookTimeAt_s(formation, from), Kind::time},
                     {"t₂", "time of the second look", lookTimeAt_s(formation, to), Kind::time}};
    const std::array places{from, to};
    return ofPlaces(std::move(reading), places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        return lookTimeAt_s(formation, p[1]) - lookTimeAt_s(formation, p[0]);
    });
}

Reading speedBetween(const Formation& formation, const PicturePlace& from, const PicturePlace& to) {
    const Reading distance = groundDistance(formation, from, to);
    const Reading time = timeBetween(formation, from, to);
    Reading reading{"speed", 0.0, Kind::speed, "", 0.0, "v", "{D} / |{Δt}|"};
    reading.terms = {{"D", "distance on the ground", distance.value}, {"Δt", "time between the looks", time.value, Kind::time}};
    reading.assumes = {"the thing moved straight from the first place to the second"};
    if (distance.ok() && time.value == 0.0) {
        reading.missing = "both places were seen at the same instant";
        return reading;
    }
    const std::array places{from, to};
    return ofPlaces(std::move(reading), places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto first = groundAt(formation, p[0]);
        const auto second = groundAt(formation, p[1]);
        if (!first || !second) return std::nullopt;
        return level(*first, *second) / std::abs(lookTimeAt_s(formation, p[1]) - lookTimeAt_s(formation, p[0]));
    });
}

}  // namespace linefall
