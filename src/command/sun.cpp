#include <fmt/format.h>

#include <iostream>
#include <nlohmann/json.hpp>

#include "base/angle.h"
#include "command/command.h"
#include "command/json_text.h"
#include "physics/calendar.h"
#include "physics/sun_position.h"

namespace linefall {

namespace {

constexpr double degree = constants::pi / 180.0;

/// An angle given with its unit, or as plain degrees.
double readAngle(const std::string& option, const std::string& text, double limit_deg, Problems& problems) {
    ParsedQuantity value = parseQuantity(text, Kind::angle);
    if (!value.ok()) {
        value = parseQuantity(text, Kind::number);
        value.value *= degree;
    }
    if (!value.ok() || std::abs(value.value) > limit_deg * degree * (1.0 + 1e-12)) {
        problems.push_back({{option, 0, 0}, "", "'" + text + "'", fmt::format("an angle of -{0} to {0} deg", limit_deg), ""});
    }
    return value.value;
}

double readQuantity(const std::string& option, const std::string& text, Kind kind, double least, double most,
                    Problems& problems) {
    const Parameter row{option, kind, 0.0, least, most, false, {}, {}, "", false};
    const auto value = readValue(row, text, {"", 0, 0}, problems);
    return value ? std::get<double>(*value) : least;
}

}  // namespace

int runSun(const SunOptions& options) {
    Problems problems;
    const ParsedInstant time = parseInstant(options.time);
    if (!time.ok()) problems.push_back({{"--time", 0, 0}, "", "'" + options.time + "'", time.error, ""});
    Site site;
    site.latitude_rad = readAngle("--latitude", options.latitude, 90.0, problems);
    site.longitude_rad = readAngle("--longitude", options.longitude, 180.0, problems);
    site.altitude_m = readQuantity("--altitude", options.altitude, Kind::length, -500.0, 1e5, problems);
    site.pressure_Pa = readQuantity("--pressure", options.pressure, Kind::pressure, 0.0, 2e5, problems);
    site.temperature_K = readQuantity("--temperature", options.temperature, Kind::temperature, 150.0, 350.0, problems);
    if (!problems.empty()) throw InputError(problems);

    const SunPosition p = sunAt(time.instant, site);
    const SunDay day = sunriseSunset(localDate(time.instant, time.utc_offset_s), time.utc_offset_s, site);
    const auto text = [&](const std::optional<Instant>& instant) {
        return instant ? instantText(*instant, time.utc_offset_s) : std::string();
    };
    if (options.json) {
        nlohmann::ordered_json out;
        out["time"] = instantText(time.instant, time.utc_offset_s);
        out["zenith_deg"] = degreesFromRadians(p.zenith_rad);
        out["azimuth_deg"] = degreesFromRadians(p.azimuth_rad);
        out["elevation_unrefracted_deg"] = degreesFromRadians(p.elevation_unrefracted_rad);
        out["refraction_deg"] = degreesFromRadians(p.refraction_rad);
        out["distance_au"] = p.distance_au;
        out["declination_deg"] = degreesFromRadians(p.declination_rad);
        out["equation_of_time_min"] = p.equation_of_time_s / 60.0;
        out["sunrise"] = day.sunrise ? nlohmann::ordered_json(text(day.sunrise)) : nlohmann::ordered_json(nullptr);
        out["sunset"] = day.sunset ? nlohmann::ordered_json(text(day.sunset)) : nlohmann::ordered_json(nullptr);
        out["transit"] = instantText(day.transit, time.utc_offset_s);
        if (!day.reason.empty()) out["reason"] = day.reason;
        std::cout << jsonText(out);
        return 0;
    }
    const auto degrees = [](double rad) { return figuresText(degreesFromRadians(rad), 6) + " deg"; };
    fmt::print("azimuth      {} (clockwise from north)\n", degrees(p.azimuth_rad));
    fmt::print("zenith       {}\n", degrees(p.zenith_rad));
    fmt::print("elevation    {} unrefracted, lifted by {}\n", degrees(p.elevation_unrefracted_rad), degrees(p.refraction_rad));
    fmt::print("distance     {} au\n", figuresText(p.distance_au, 7));
    fmt::print("sunrise      {}\n", day.sunrise ? text(day.sunrise) : "none: " + day.reason);
    fmt::print("sunset       {}\n", day.sunset ? text(day.sunset) : "none: " + day.reason);
    fmt::print("Never look at the sun through an optic.\n");
    return 0;
}

}  // namespace linefall
