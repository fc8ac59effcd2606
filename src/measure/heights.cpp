#include "measure/heights.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle.h"
#include "measure/pixel_error.h"

namespace linefall {

namespace {

double dot2(const Vec3& a, const Vec3& b) { return a.x * b.x + a.y * b.y; }
double length2(const Vec3& a) { return std::hypot(a.x, a.y); }
std::string degrees(double angle_rad) { return figuresText(degreesFromRadians(angle_rad), 2) + " deg"; }
std::string wholeDegrees(double azimuth_rad) { return std::to_string(std::lround(degreesFromRadians(wrappedToTurn(azimuth_rad)))) + " deg"; }

/// Height of the terrain, without things on it, under what a place shows.
std::optional<double> terrainUnder_m(const Formation& formation, const PicturePlace& place) {
    const auto point = groundAt(formation, place);
    if (!point) return std::nullopt;
    const HeightField& terrain = formation.place().ground->terrain();
    return terrain.contains(point->x, point->y) ? terrain.heightAt(point->x, point->y) : 0.0;
}

/// Says when the line drawn runs off the direction in which the height shows.
void remarkOff(Reading& reading, double along, double aside, const std::string& direction) {
    const double off_rad = std::atan2(std::abs(aside), along);
    if (off_rad > radiansFromDegrees(5.0)) {
        reading.remarks.push_back("the line runs " + degrees(off_rad) + " off " + direction + ": only its part along it is used");
    }
}

/// The geometry of a shadow on the level of its base.
struct ShadowLine {
    double along_m, aside_m;
};
std::optional<ShadowLine> shadowLine(const Formation& formation, std::span<const PicturePlace> p, double level_m, const Vec3& away) {
    const auto base = levelAt(formation, p[0], level_m);
    const auto tip = levelAt(formation, p[1], level_m);
    if (!base || !tip) return std::nullopt;
    const Vec3 line = *tip - *base;
    return ShadowLine{dot2(line, away), line.x * away.y - line.y * away.x};
}

/// Height above a level from which the looks of a picture seem to come. Exaggerated lean multiplies their horizontal run
/// about datum, as if they came from flying height / lean.
double apparentHeight_m(const Formation& formation, const Vec3& sensor, double level_m) {
    return sensor.z / formation.manner().lean - level_m;
}

Term heightTerm(const Formation& formation, double height_m) {
    const double lean = formation.manner().lean;
    return {"H", lean == 1.0 ? "flying height above the base" : "flying height / " + figuresText(lean, 2) + " (lean), above the base", height_m};
}

/// The geometry of a displaced top on the level of its base.
struct Lean {
    double height_m, radial_m, displacement_m, aside_m;
};
std::optional<Lean> leanOf(const Formation& formation, std::span<const PicturePlace> p, double level_m) {
    const auto base = levelAt(formation, p[0], level_m);
    const auto top = levelAt(formation, p[1], level_m);
    if (!base || !top) return std::nullopt;
    const Vec3 nadir = sensorAt(formation, p[1]);
    const Vec3 run = *top - nadir;
    const double radial = length2(run);
    if (!(radial > 0.0)) return std::nullopt;
    const Vec3 line = *top - *base;
    return Lean{apparentHeight_m(formation, nadir, level_m), radial, dot2(line, run) / radial, (line.x * run.y - line.y * run.x) / radial};
}

}  // namespace

double heightFromShadow_m(double shadow_m, double sun_elevation_rad) { return shadow_m * std::tan(sun_elevation_rad); }
double heightFromRelief_m(double displacement, double radial, double flying_height_m) { return displacement * flying_height_m / radial; }
double heightFromParallax_m(double air_base, double parallax_difference, double flying_height_m) {
    return flying_height_m * parallax_difference / (air_base + parallax_difference);
}

Reading shadowHeight(const Formation& formation, const PicturePlace& base, const PicturePlace& tip) {
    Reading reading{"height from the shadow", 0.0, Kind::length, "", 0.0, "h", "{L} · tan {e}"};
    reading.assumes = {"the thing stands upright", "base and shadow tip lie on level ground", "the sun is a point"};
    const auto level = terrainUnder_m(formation, base);
    if (!level) {
        reading.missing = looks_into_sky;
        return reading;
    }
    const Sunlight sun = formation.sun(pixelAt(formation, tip).line);
    if (!sun.up()) {
        reading.missing = "the sun is down";
        return reading;
    }
    const double level_part = length2(sun.towards);
    if (level_part < 1e-6) {
        reading.missing = "the sun stands overhead: there is no shadow";
        return reading;
    }
    const Vec3 away = Vec3{-sun.towards.x, -sun.towards.y, 0.0} / level_part;
    const std::array places{base, tip};
    const auto line = shadowLine(formation, places, *level, away);
    if (!line) {
        reading.missing = looks_into_sky;
        return reading;
    }
    if (line->along_m <= 0.0) {
        reading.missing = "shadows fall towards " + wholeDegrees(std::atan2(away.x, away.y)) + ": this line runs the other way";
        return reading;
    }
    reading.value = heightFromShadow_m(line->along_m, sun.elevation_rad);
    reading.terms = {{"L", "length of the shadow along the sun's azimuth", line->along_m}, {"e", "elevation of the sun", sun.elevation_rad, Kind::angle}};
    reading.sigma = pixelSigma(places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto moved = shadowLine(formation, p, *level, away);
        if (!moved) return std::nullopt;
        return heightFromShadow_m(moved->along_m, sun.elevation_rad);
    });
    remarkOff(reading, line->along_m, line->aside_m, "the direction of shadows");
    if (const auto under_tip = terrainUnder_m(formation, tip)) {
        const double rise = *under_tip - *level;
        if (std::abs(rise) > std::max(0.1, reading.sigma)) {
            reading.remarks.push_back("the ground is not level: the tip lies " + shortText(std::abs(rise), Kind::length, 2) + (rise > 0.0 ? " above" : " below") + " the base");
        }
    }
    if (!formation.lightPath().effects.cast_shadow) reading.remarks.push_back("cast shadows are switched off");
    return reading;
}

Reading reliefHeight(const Formation& formation, const PicturePlace& base, const PicturePlace& top) {
    const bool frame = formation.instrument().derived().line_period_s <= 0.0;
    const double lean = formation.manner().lean;
    Reading reading{"height from relief displacement", 0.0, Kind::length, "", 0.0, "h", frame ? "{d} · {H} / {r}" : "{H} · ({x'} - {x}) / {x'}"};
    reading.assumes = {"the thing stands upright: base and top lie on one plumb line", "the base lies on level ground",
                       "place and attitude of the platform are known"};
    const auto level = terrainUnder_m(formation, base);
    const std::array places{base, top};
    const auto measured = level ? leanOf(formation, places, *level) : std::nullopt;
    if (!measured) {
        reading.missing = level ? "the top appears at the nadir point: it is not displaced" : looks_into_sky;
        return reading;
    }
    if (lean <= 0.0 || !formation.manner().perspective) {
        reading.missing = lean <= 0.0 ? "relief displacement is switched off" : "without perspective nothing leans away from nadir";
        return reading;
    }
    if (measured->height_m <= 0.0) {
        reading.missing = "relief displacement is exaggerated too far for ground of this height";
        return reading;
    }
    if (measured->displacement_m <= 0.0) {
        reading.missing = "tops lean away from the nadir point: this line runs towards it";
        return reading;
    }
    reading.value = heightFromRelief_m(measured->displacement_m, measured->radial_m, measured->height_m);
    const Term flying = heightTerm(formation, measured->height_m);
    if (frame) {
        reading.terms = {{"d", "displacement of the top, along the radius from the nadir point", measured->displacement_m}, flying,
                         {"r", "distance of the top's image from the nadir point", measured->radial_m}};
    } else {
        reading.terms = {flying, {"x'", "where the top appears, across the track from nadir", measured->radial_m},
                         {"x", "the base, across the track from nadir", measured->radial_m - measured->displacement_m}};
    }
    if (lean != 1.0) reading.remarks.push_back("relief displacement is exaggerated " + figuresText(lean, 2) + " times");
    reading.sigma = pixelSigma(places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto moved = leanOf(formation, p, *level);
        if (!moved) return std::nullopt;
        return heightFromRelief_m(moved->displacement_m, moved->radial_m, moved->height_m);
    });
    remarkOff(reading, measured->displacement_m, measured->aside_m, frame ? "the radius from the nadir point" : "the direction across the track");
    return reading;
}

ImpliedHeights impliedHeights(const Formation& formation, const PicturePlace& base, const PicturePlace& end) {
    return {shadowHeight(formation, base, end), reliefHeight(formation, base, end)};
}

Reading parallaxHeight(const StereoView& one, const StereoView& other) {
    Reading reading{"height from parallax", 0.0, Kind::length, "", 0.0, "h", "{H} · {Δp} / ({b} + {Δp})"};
    reading.assumes = {"base and top are the same points in both pictures", "the thing stands upright on level ground", "both frames were taken from one height"};
    const auto refuse = [&](const char* why) {
        reading.missing = why;
        return reading;
    };
    const auto frame = [](const Formation& f) { return f.instrument().derived().line_period_s <= 0.0; };
    if (!frame(one.formation) || !frame(other.formation)) return refuse("parallax needs two frame pictures");
    if (!one.formation.manner().perspective || !other.formation.manner().perspective) return refuse("without perspective there is no parallax");
    if (&one.formation.place() != &other.formation.place()) return refuse("the two pictures show different places");
    if (one.formation.manner().lean != other.formation.manner().lean || one.formation.manner().lean <= 0.0) return refuse("both pictures need the same relief displacement");
    const auto level = terrainUnder_m(one.formation, one.base);
    if (!level) return refuse(looks_into_sky);
    const Vec3 from = sensorAt(one.formation, one.base);
    const Vec3 base_line = sensorAt(other.formation, other.base) - from;
    const double air_base = length2(base_line);
    if (air_base <= 0.0) return refuse("both pictures were taken from the same station");
    const Vec3 along = base_line / air_base;
    const double height = apparentHeight_m(one.formation, from, *level);
    if (height <= 0.0) return refuse("relief displacement is exaggerated too far for ground of this height");
    // On the level of the base, counted from each picture's own nadir point, a parallax is the air base plus the distance
    // from where the other picture has the point to where this one has it.
    const auto difference = [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto base_one = levelAt(one.formation, p[0], *level);
        const auto top_one = levelAt(one.formation, p[1], *level);
        const auto base_other = levelAt(other.formation, p[2], *level);
        const auto top_other = levelAt(other.formation, p[3], *level);
        if (!base_one || !top_one || !base_other || !top_other) return std::nullopt;
        return dot2(*top_one - *top_other, along) - dot2(*base_one - *base_other, along);
    };
    const std::array places{one.base, one.top, other.base, other.top};
    const auto dp = difference(places);
    if (!dp) return refuse(looks_into_sky);
    if (air_base + *dp <= 0.0) return refuse("the places cannot be the same points: the parallax of the top is negative");
    reading.value = heightFromParallax_m(air_base, *dp, height);
    reading.terms = {heightTerm(one.formation, height), {"Δp", "parallax of the top less that of the base, on the level of the base", *dp},
                     {"b", "air base: distance between the stations", air_base}};
    reading.sigma = pixelSigma(places, [&](std::span<const PicturePlace> p) -> std::optional<double> {
        const auto moved = difference(p);
        if (!moved) return std::nullopt;
        return heightFromParallax_m(air_base, *moved, height);
    });
    return reading;
}

}  // namespace linefall
