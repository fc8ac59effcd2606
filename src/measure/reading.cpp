#include "measure/reading.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "flight/light_stops.h"

namespace linefall {

namespace {

/// No reading is given to more than one part in so many: nothing in a flight is known any better. Common practice, no source.
constexpr double finest_share = 1e5;

std::string withUnit(const std::string& number, const std::string& unit) {
    return unit.empty() ? number : number + " " + printedUnit(unit);
}

/// The unit in which a quantity is shown, and its value there.
struct Shown {
    double value;
    std::string unit;
};
Shown shown(double value, Kind kind, const DisplayUnits& units, const std::string& own_unit) {
    const std::string unit = units.of(kind);
    return {valueIn(value, kind, unit), unit.empty() ? own_unit : unit};
}

/// The right-hand side with each {symbol} replaced.
template <class Replacement>
std::string filled(const std::string& formula, const Replacement& replacement) {
    std::string out;
    for (std::size_t i = 0; i < formula.size();) {
        const std::size_t close = formula[i] == '{' ? formula.find('}', i) : std::string::npos;
        if (close == std::string::npos) {
            out += formula[i++];
        } else {
            out += replacement(formula.substr(i + 1, close - i - 1));
            i = close + 1;
        }
    }
    return out;
}

}  // namespace

const std::vector<std::string>& lengthUnits() {
    static const std::vector<std::string> units{"m", "km", "ft"};
    return units;
}

const std::vector<std::string>& angleUnits() {
    static const std::vector<std::string> units{"deg", "mrad"};
    return units;
}

const std::vector<std::string>& speedUnits() {
    static const std::vector<std::string> units{"m/s", "km/h", "kn"};
    return units;
}

std::string DisplayUnits::of(Kind kind) const {
    switch (kind) {
        case Kind::length: return length;
        case Kind::area: return length + "2";
        case Kind::angle: return angle;
        case Kind::speed: return speed;
        case Kind::ratio: return "%";
        default: return std::string(coreUnit(kind));
    }
}

std::string uncertainText(double value, double sigma) {
    if (!std::isfinite(value)) return "none";
    if (!(sigma > 0.0)) return figuresText(value, 4);
    if (!std::isfinite(sigma)) return figuresText(value, 4) + " ± ?";
    // The first figure of sigma after rounding to two, and its power of ten: "9.6e-02".
    const std::string two = fmt::format("{:.1e}", sigma);
    const int magnitude = std::atoi(two.c_str() + two.find('e') + 1);
    const int decimals = (two[0] == '1' ? 1 : 0) - magnitude;
    if (std::abs(value) > finest_share * sigma) {  // finer than any flight is known: the last figure written bounds it
        const int place = static_cast<int>(std::floor(std::log10(std::abs(value)))) - 3;
        return figuresText(value, 4) + " ± <" + fmt::format("{:.{}f}", std::pow(10.0, place), std::max(0, -place));
    }
    if (decimals > 12) return figuresText(std::abs(value) < 1e-9 ? 0.0 : value, 6) + " ± 0";  // finer than any double of the window's sizes
    const double step = std::pow(10.0, -decimals);  // the last place that is written
    const auto written = [&](double x) {
        const double rounded = std::round(x / step) * step;
        return fmt::format("{:.{}f}", rounded == 0.0 ? 0.0 : rounded, std::max(decimals, 0));  // never "-0"
    };
    return written(value) + " ± " + written(sigma);
}

std::string shownText(double value, Kind kind, const DisplayUnits& units, const std::string& own_unit, int figures) {
    const Shown s = shown(value, kind, units, own_unit);
    return withUnit(figuresText(s.value, figures), s.unit);
}

std::string textOf(const Reading& reading, const DisplayUnits& units) {
    if (!reading.ok()) return reading.missing;
    const Shown s = shown(reading.value, reading.kind, units, reading.unit);
    return withUnit(uncertainText(s.value, valueIn(reading.sigma, reading.kind, units.of(reading.kind))), s.unit);
}

std::string termText(const Term& term, const DisplayUnits& units) {
    return term.symbol + ": " + term.meaning + ", " + shownText(term.value, term.kind, units, term.unit);
}

std::string formulaText(const Reading& reading) {
    return reading.symbol + " = " + filled(reading.formula, [](const std::string& symbol) { return symbol; });
}

std::string workedText(const Reading& reading, const DisplayUnits& units) {
    if (!reading.ok()) return reading.missing;
    const std::string right = filled(reading.formula, [&](const std::string& symbol) {
        const auto term = std::find_if(reading.terms.begin(), reading.terms.end(), [&](const Term& t) { return t.symbol == symbol; });
        if (term == reading.terms.end()) return symbol;
        const std::string text = shownText(term->value, term->kind, units, term->unit);
        return term->value < 0.0 ? "(" + text + ")" : text;
    });
    return reading.symbol + " = " + right + " = " + textOf(reading, units);
}

}  // namespace linefall
