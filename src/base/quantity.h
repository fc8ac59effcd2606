#pragma once
// Quantity text: the only place where degrees, kilometres and percent exist. "5 km" <-> 5000 m.

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace linefall {

/// Kinds of quantity. A value of a kind is held in the kind's core unit (in brackets).
enum class Kind {
    number,       ///< pure number [1]
    count,        ///< whole number [1]
    length,       ///< [m]
    area,         ///< [m2]
    angle,        ///< [rad]
    time,         ///< [s]
    speed,        ///< [m/s]
    frequency,    ///< [Hz]
    ratio,        ///< share of one [1]; written with % or as a bare number
    temperature,  ///< [K]
    pressure,     ///< [Pa]
    electrons,    ///< [e]
    electron_rate,  ///< [e/s]
    radiance,     ///< spectral [W m-2 sr-1 um-1]
    luminance,    ///< [cd/m2]
    vergence,     ///< power of a lens [1/m]
    flag,         ///< true or false
    choice,       ///< one of a list of words
    text,         ///< any text
};

[[nodiscard]] std::string_view nameOf(Kind kind);
/// The core unit of a kind, as quantity text spells it; empty for kinds without one.
[[nodiscard]] std::string_view coreUnit(Kind kind);
/// All spellings of units that a kind accepts, the usual one first.
[[nodiscard]] std::vector<std::string> unitsOf(Kind kind);

/// A number in the kind's core unit, or why the text is none.
struct ParsedQuantity {
    double value = 0.0;
    std::string error;  ///< empty when the text was understood; otherwise what was expected
    [[nodiscard]] bool ok() const { return error.empty(); }
};

/// Reads "5 km", "2.5 mrad", "-3", "40 %". A dimensional kind needs its unit. Finite numbers only.
[[nodiscard]] ParsedQuantity parseQuantity(std::string_view text, Kind kind);

/// Writes a value so that parseQuantity reads exactly the same double, in a unit that suits its size.
[[nodiscard]] std::string exactText(double value, Kind kind);

/// Writes a value for people: up to `figures` significant figures in a unit that suits its size, "5 km", "28.7 m".
[[nodiscard]] std::string shortText(double value, Kind kind, int figures = 3);

/// A value of a kind in one of the kind's units: 100 m in "km" is 0.1. Not a number when the kind has no such unit.
[[nodiscard]] double valueIn(double value, Kind kind, std::string_view unit);

/// A number with so many significant figures ("5.00"), without an exponent between 1e-4 and 1e7, where digits before
/// the point are never left out.
[[nodiscard]] std::string figuresText(double value, int figures);

}  // namespace linefall
