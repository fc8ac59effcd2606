#include "lesson/dimension.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace linefall {

namespace {

constexpr std::array<std::string_view, Dimension::bases> base_names{"m", "s", "rad", "W", "K", "e", "DN", "cd"};

std::vector<UnitOfText> makeUnits() {
    std::vector<UnitOfText> all;
    for (const Kind kind : {Kind::length, Kind::area, Kind::angle, Kind::time, Kind::speed, Kind::frequency, Kind::ratio, Kind::temperature,
                            Kind::pressure, Kind::electrons, Kind::electron_rate, Kind::radiance, Kind::luminance, Kind::vergence}) {
        for (const std::string& name : unitsOf(kind)) {
            // Asked of quantity text itself, so that a unit has one size in the whole program.
            const double zero = parseQuantity("0 " + name, kind).value, one = parseQuantity("1 " + name, kind).value;
            const double scale = one - zero;
            all.push_back({name, Dimension::of(kind), scale, zero / scale});
        }
    }
    const auto more = [&all](const char* name, Dimension dimension, double scale = 1.0) { all.push_back({name, dimension, scale, 0.0}); };
    more("counts", Dimension::of(Dimension::count));
    more("DN", Dimension::of(Dimension::count));
    for (const char* name : {"pixels", "pixel", "px", "lines", "samples"}) more(name, Dimension{});
    for (const char* name : {"lines/s", "1/s"}) more(name, Dimension::of(Kind::frequency));
    return all;
}

/// Spelled-out names, in lower case.
const std::map<std::string, std::string, std::less<>>& spelled() {
    static const std::map<std::string, std::string, std::less<>> names{
        {"metre", "m"},      {"metres", "m"},       {"meter", "m"},       {"meters", "m"},      {"kilometre", "km"},  {"kilometres", "km"},
        {"kilometer", "km"}, {"kilometers", "km"},  {"foot", "ft"},       {"feet", "ft"},       {"'", "ft"},          {"degree", "deg"},
        {"degrees", "deg"},  {"\xC2\xB0", "deg"},   {"\xC2\xBA", "deg"},  {"radian", "rad"},    {"radians", "rad"},   {"second", "s"},
        {"seconds", "s"},    {"sec", "s"},          {"millisecond", "ms"},{"milliseconds", "ms"},{"\xC2\xB5s", "us"}, {"\xCE\xBCs", "us"},
        {"\xC2\xB5m", "um"}, {"\xCE\xBCm", "um"},   {"microseconds", "us"},{"micrometres", "um"},{"minutes", "min"},  {"hours", "h"},
        {"km/hr", "km/h"},   {"kmh", "km/h"},       {"kph", "km/h"},      {"knots", "kn"},      {"knot", "kn"},       {"kt", "kn"},
        {"hertz", "Hz"},     {"hz", "Hz"},          {"percent", "%"},     {"per cent", "%"},    {"count", "counts"},  {"dn", "counts"},
        {"line", "lines"},   {"sample", "samples"}, {"rows", "lines"},    {"columns", "samples"},{"m\xC2\xB2", "m2"},  {"m^2", "m2"},
        {"electrons", "e"},  {"kelvin", "K"},       {"m.", "m"},          {"metres per second", "m/s"}, {"m s-1", "m/s"},
    };
    return names;
}

}  // namespace

Dimension Dimension::of(Kind kind) {
    Dimension d;
    const auto set = [&d](Base base, int power) { d.powers_[base] = static_cast<signed char>(power); };
    switch (kind) {
        case Kind::length: set(metre, 1); break;
        case Kind::area: set(metre, 2); break;
        case Kind::angle: set(radian, 1); break;
        case Kind::time: set(second, 1); break;
        case Kind::speed: set(metre, 1), set(second, -1); break;
        case Kind::frequency: set(second, -1); break;
        case Kind::temperature: set(kelvin, 1); break;
        case Kind::pressure: set(watt, 1), set(second, 1), set(metre, -3); break;
        case Kind::electrons: set(electron, 1); break;
        case Kind::electron_rate: set(electron, 1), set(second, -1); break;
        case Kind::radiance: set(watt, 1), set(metre, -3); break;
        case Kind::luminance: set(candela, 1), set(metre, -2); break;
        case Kind::vergence: set(metre, -1); break;
        case Kind::number:
        case Kind::count:
        case Kind::ratio:
        case Kind::flag:
        case Kind::choice:
        case Kind::text: break;
    }
    return d;
}

std::string Dimension::text() const {
    std::string out;
    for (std::size_t i = 0; i < bases; ++i) {
        if (powers_[i] == 0) continue;
        out += (out.empty() ? "" : " ") + std::string(base_names[i]);
        if (powers_[i] != 1) out += std::to_string(powers_[i]);
    }
    return out.empty() ? "a pure number" : out;
}

Dimension Dimension::settled() const {
    Dimension rest = *this;
    rest.powers_[radian] = 0;
    if (!rest.pure()) return rest;
    return powers_[radian] == 1 ? *this : Dimension{};  // steradians and the like are numbers
}

std::optional<Dimension> Dimension::times(const Dimension& other, int sign) const {
    Dimension d;
    for (std::size_t i = 0; i < bases; ++i) {
        const int power = powers_[i] + sign * other.powers_[i];
        if (power < -9 || power > 9) return std::nullopt;
        d.powers_[i] = static_cast<signed char>(power);
    }
    return d.settled();
}

std::optional<Dimension> Dimension::raised(int power) const {
    Dimension d;
    for (std::size_t i = 0; i < bases; ++i) {
        const long wide = static_cast<long>(powers_[i]) * power;
        if (wide < -9 || wide > 9) return std::nullopt;
        d.powers_[i] = static_cast<signed char>(wide);
    }
    return d.settled();
}

std::optional<Dimension> Dimension::root() const {
    Dimension d;
    for (std::size_t i = 0; i < bases; ++i) {
        if (powers_[i] % 2 != 0) return std::nullopt;
        d.powers_[i] = static_cast<signed char>(powers_[i] / 2);
    }
    return d;
}

const std::vector<UnitOfText>& lessonUnits() {
    static const std::vector<UnitOfText> units = makeUnits();
    return units;
}

const UnitOfText* findUnit(std::string_view spelling) {
    const auto named = [](std::string_view name) -> const UnitOfText* {
        for (const UnitOfText& unit : lessonUnits()) {
            if (unit.name == name) return &unit;
        }
        return nullptr;
    };
    if (const UnitOfText* unit = named(spelling)) return unit;
    std::string lower(spelling);
    for (char& c : lower) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    const auto found = spelled().find(lower);
    return found == spelled().end() ? nullptr : named(found->second);
}

std::string unitInWords(const UnitOfText& unit) {
    static const std::map<std::string_view, const char*> words{{"us", "microseconds"}, {"um", "micrometres"}, {"urad", "microradians"}, {"e", "electrons"}, {"D", "dioptres"}};
    const auto found = words.find(unit.name);
    return found == words.end() ? unit.name : unit.name + " (" + found->second + ")";
}

std::string textIn(const UnitOfText& unit, double core_value, int figures) {
    const double number = core_value / unit.scale - unit.offset;
    return figuresText(number, figures) + (unit.name.empty() ? "" : " " + unit.name);
}

std::string textWithin(const UnitOfText& unit, double core_value, double core_tolerance) {
    const double ratio = core_tolerance > 0.0 ? std::abs(core_value) / core_tolerance : 1e4;
    return textIn(unit, core_value, ratio > 1.0 ? std::min(static_cast<int>(std::log10(ratio)) + 2, 6) : 2);
}

std::string textOf(const Amount& amount, int figures) {
    if (amount.dimension.pure()) return figuresText(amount.value, figures);
    if (!std::isfinite(amount.value)) return "no finite number";
    for (const Kind kind : {Kind::length, Kind::area, Kind::angle, Kind::time, Kind::speed, Kind::frequency, Kind::temperature, Kind::pressure,
                            Kind::electrons, Kind::electron_rate, Kind::radiance, Kind::luminance, Kind::vergence}) {
        if (Dimension::of(kind) == amount.dimension) return shortText(amount.value, kind, figures);
    }
    if (amount.dimension == Dimension::of(Dimension::count)) return figuresText(amount.value, figures) + " counts";
    return figuresText(amount.value, figures) + " " + amount.dimension.text();
}

}  // namespace linefall
