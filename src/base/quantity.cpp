#include "base/quantity.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <cstdlib>
#include <limits>

#include "base/constants.h"

namespace linefall {

namespace {

struct Unit {
    Kind kind;
    std::string_view name;
    double scale;         // core = (text + offset) * scale
    double offset = 0.0;
    bool shown = false;   // may be chosen when writing
};

constexpr double degree = constants::pi / 180.0;

// The usual unit of a kind comes first.
constexpr std::array units{
    Unit{Kind::length, "m", 1.0, 0.0, true},
    Unit{Kind::length, "km", 1e3, 0.0, true},
    Unit{Kind::length, "cm", 1e-2},
    Unit{Kind::length, "mm", 1e-3, 0.0, true},
    Unit{Kind::length, "um", 1e-6, 0.0, true},
    Unit{Kind::length, "nm", 1e-9},
    Unit{Kind::length, "ft", 0.3048},
    Unit{Kind::area, "m2", 1.0, 0.0, true},
    Unit{Kind::area, "km2", 1e6, 0.0, true},
    Unit{Kind::area, "ha", 1e4},
    Unit{Kind::area, "ft2", 0.3048 * 0.3048},
    Unit{Kind::angle, "deg", degree, 0.0, true},
    Unit{Kind::angle, "rad", 1.0},
    Unit{Kind::angle, "mrad", 1e-3},
    Unit{Kind::angle, "urad", 1e-6},
    Unit{Kind::angle, "arcmin", degree / 60.0},
    Unit{Kind::time, "s", 1.0, 0.0, true},
    Unit{Kind::time, "ms", 1e-3, 0.0, true},
    Unit{Kind::time, "us", 1e-6, 0.0, true},
    Unit{Kind::time, "min", 60.0},
    Unit{Kind::time, "h", 3600.0},
    Unit{Kind::speed, "m/s", 1.0, 0.0, true},
    Unit{Kind::speed, "km/h", 1.0 / 3.6},
    Unit{Kind::speed, "km/s", 1e3, 0.0, true},
    Unit{Kind::speed, "kn", 1852.0 / 3600.0},
    Unit{Kind::frequency, "Hz", 1.0, 0.0, true},
    Unit{Kind::frequency, "kHz", 1e3, 0.0, true},
    Unit{Kind::frequency, "MHz", 1e6, 0.0, true},
    Unit{Kind::frequency, "rpm", 1.0 / 60.0},
    Unit{Kind::ratio, "%", 1e-2, 0.0, true},
    Unit{Kind::ratio, "", 1.0},
    Unit{Kind::temperature, "K", 1.0, 0.0, true},
    Unit{Kind::temperature, "C", 1.0, 273.15},
    Unit{Kind::pressure, "hPa", 100.0, 0.0, true},
    Unit{Kind::pressure, "Pa", 1.0},
    Unit{Kind::electrons, "e", 1.0, 0.0, true},
    Unit{Kind::electrons, "ke", 1e3},
    Unit{Kind::electron_rate, "e/s", 1.0, 0.0, true},
    Unit{Kind::radiance, "W m-2 sr-1 um-1", 1.0, 0.0, true},
    Unit{Kind::luminance, "cd/m2", 1.0, 0.0, true},
    Unit{Kind::vergence, "D", 1.0, 0.0, true},
    Unit{Kind::number, "", 1.0, 0.0, true},
    Unit{Kind::count, "", 1.0, 0.0, true},
};

std::string_view trimmed(std::string_view text) {
    const auto space = [](char c) { return c == ' ' || c == '\t'; };
    while (!text.empty() && space(text.front())) text.remove_prefix(1);
    while (!text.empty() && space(text.back())) text.remove_suffix(1);
    return text;
}

std::string expectation(Kind kind) {
    std::string list;
    for (const std::string& unit : unitsOf(kind)) {
        if (unit.empty()) continue;
        if (!list.empty()) list += ", ";
        list += unit;
    }
    if (list.empty()) return kind == Kind::count ? "a whole number" : "a number";
    return fmt::format("a number with a unit of {} ({})", nameOf(kind), list);
}

/// The unit in which a person would write the value: the largest shown one that leaves at least one before the point.
const Unit& suitable(double value, Kind kind) {
    const Unit* usual = nullptr;
    const Unit* best = nullptr;
    const Unit* smallest = nullptr;
    for (const Unit& unit : units) {
        if (unit.kind != kind || !unit.shown) continue;
        if (usual == nullptr) usual = &unit;
        if (smallest == nullptr || unit.scale < smallest->scale) smallest = &unit;
        if (std::abs(value) >= unit.scale * 0.9999999 && (best == nullptr || unit.scale > best->scale)) best = &unit;
    }
    if (value == 0.0) return *usual;
    return best != nullptr ? *best : *smallest;
}

double inUnit(double value, const Unit& unit) { return value / unit.scale - unit.offset; }

std::string joined(const std::string& number, std::string_view unit) {
    return unit.empty() ? number : number + " " + std::string(unit);
}

}  // namespace

std::string_view nameOf(Kind kind) {
    switch (kind) {
        case Kind::number: return "number";
        case Kind::count: return "count";
        case Kind::length: return "length";
        case Kind::area: return "area";
        case Kind::angle: return "angle";
        case Kind::time: return "time";
        case Kind::speed: return "speed";
        case Kind::frequency: return "frequency";
        case Kind::ratio: return "ratio";
        case Kind::temperature: return "temperature";
        case Kind::pressure: return "pressure";
        case Kind::electrons: return "electrons";
        case Kind::electron_rate: return "electron rate";
        case Kind::radiance: return "radiance";
        case Kind::luminance: return "luminance";
        case Kind::vergence: return "power of a lens";
        case Kind::flag: return "flag";
        case Kind::choice: return "choice";
        case Kind::text: return "text";
    }
    return "";
}

std::string_view coreUnit(Kind kind) {
    for (const Unit& unit : units) {
        if (unit.kind == kind && unit.scale == 1.0 && unit.offset == 0.0) return unit.name;
    }
    return "";
}

std::vector<std::string> unitsOf(Kind kind) {
    std::vector<std::string> names;
    for (const Unit& unit : units) {
        if (unit.kind == kind) names.emplace_back(unit.name);
    }
    return names;
}

ParsedQuantity parseQuantity(std::string_view text, Kind kind) {
    const std::string copy(trimmed(text));
    if (copy.empty() || copy.size() > 100 || copy.find('\0') != std::string::npos) return {0.0, expectation(kind)};
    // strtod also reads hexadecimal, infinities and not-a-number: only plain decimal numbers are taken.
    const char first = copy[copy.find_first_not_of("+-") == std::string::npos ? 0 : copy.find_first_not_of("+-")];
    if ((first < '0' || first > '9') && first != '.') return {0.0, expectation(kind)};
    char* end = nullptr;
    const double number = std::strtod(copy.c_str(), &end);
    const std::string_view rest = trimmed(std::string_view(end));
    if (end == copy.c_str() || !std::isfinite(number) || copy.find_first_of("xX") != std::string::npos) {
        return {0.0, expectation(kind)};
    }
    for (const Unit& unit : units) {
        if (unit.kind != kind || unit.name != rest) continue;
        const double value = (number + unit.offset) * unit.scale;
        if (!std::isfinite(value)) return {0.0, expectation(kind)};
        if (kind == Kind::count && (value != std::floor(value) || std::abs(value) > 9e15)) return {0.0, expectation(kind)};
        return {value, ""};
    }
    return {0.0, expectation(kind)};
}

std::string exactText(double value, Kind kind) {
    // Fifteen figures in a suitable unit hide the rounding of the conversion ("15 deg", not "14.999999999999998 deg").
    // Not every unit gives the double back through text; the core unit always does.
    const Unit& unit = suitable(value, kind);
    for (const std::string& number : {fmt::format("{:.15g}", inUnit(value, unit)), fmt::format("{}", inUnit(value, unit))}) {
        const std::string nice = joined(number, unit.name);
        if (const ParsedQuantity back = parseQuantity(nice, kind); back.ok() && back.value == value) return nice;
    }
    return joined(fmt::format("{}", value), coreUnit(kind));
}

double valueIn(double value, Kind kind, std::string_view unit) {
    for (const Unit& known : units) {
        if (known.kind == kind && known.name == unit) return inUnit(value, known);
    }
    return std::numeric_limits<double>::quiet_NaN();
}

std::string figuresText(double value, int figures) {
    if (!std::isfinite(value)) return "none";
    if (value == 0.0) return "0";
    // The power of ten after rounding: 9.996 with three figures is 10.0.
    const std::string rounded = fmt::format("{:.{}e}", value, figures - 1);
    const int magnitude = std::atoi(rounded.c_str() + rounded.find('e') + 1);
    if (magnitude < -4 || magnitude > 6) return fmt::format("{:.{}g}", value, figures);
    const int decimals = std::max(0, figures - 1 - magnitude);
    return fmt::format("{:.{}f}", value, decimals);
}

std::string shortText(double value, Kind kind, int figures) {
    const Unit& unit = suitable(value, kind);
    std::string number = figuresText(inUnit(value, unit), figures);
    if (number.find('.') != std::string::npos && number.find('e') == std::string::npos) {
        number.erase(number.find_last_not_of('0') + 1);
        if (number.back() == '.') number.pop_back();
    }
    return joined(number, unit.name);
}

}  // namespace linefall
