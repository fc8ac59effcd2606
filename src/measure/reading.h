#pragma once
// A reading: a number measured in a picture, how sure the pixel size leaves it, and the formula that it came from.

#include <string>
#include <vector>

#include "base/quantity.h"

namespace linefall {

/// The units in which lengths (and areas), angles and speeds are shown; as quantity text spells them.
struct DisplayUnits {
    std::string length = "m";  ///< one of lengthUnits()
    std::string angle = "deg";
    std::string speed = "m/s";

    /// The unit of a kind; other kinds keep their core unit. Areas are shown in the square of the length.
    [[nodiscard]] std::string of(Kind kind) const;
};
[[nodiscard]] const std::vector<std::string>& lengthUnits();  ///< m, km, ft
[[nodiscard]] const std::vector<std::string>& angleUnits();   ///< deg, mrad
[[nodiscard]] const std::vector<std::string>& speedUnits();   ///< m/s, km/h, kn

/// One quantity of a formula.
struct Term {
    std::string symbol;   ///< "H"
    std::string meaning;  ///< "flying height above the base"
    double value = 0.0;   ///< core unit of the kind
    Kind kind = Kind::length;
    std::string unit{};   ///< of a kind without one: "counts"
};

/// Why a reading is missing: a place looks into the sky.
inline constexpr const char* looks_into_sky = "a place looks into the sky";

/// A measured number. Without a value `missing` says why, and the number means nothing.
struct Reading {
    std::string name;  ///< "height from the shadow"
    double value = 0.0;
    Kind kind = Kind::length;
    std::string unit{};    ///< of a kind without one: "counts"; else empty
    /// One standard deviation that the pixel size gives: see pixel_error.h. 0: the pixel size has no part in it.
    double sigma = 0.0;
    std::string symbol;    ///< "h"
    std::string formula;   ///< of the right-hand side, symbols of `terms` in braces: "{L} · tan {e}"
    std::vector<Term> terms{};
    std::vector<std::string> assumes{};  ///< what the formula takes for granted: "level ground"
    std::vector<std::string> remarks{};  ///< what should be looked at twice: "the line runs 12 deg off the shadow"
    std::string missing{};

    [[nodiscard]] bool ok() const { return missing.empty(); }
};

/// "72.3 ± 0.4 m", "40.0 %": the uncertainty with one figure (two when the first is a 1), the value to the same place;
/// four figures when there is no uncertainty, or one below a part in 100 000: "70.00 ± <0.01 m/s". Why there is no value, when there is none.
[[nodiscard]] std::string textOf(const Reading& reading, const DisplayUnits& units = {});
/// "72.3 ± 0.4": the same rule for bare numbers.
[[nodiscard]] std::string uncertainText(double value, double sigma);
/// What the "±" of readings stands for, in a sentence: of lengths, angles and heights, and of what is read over an area.
inline constexpr const char* meaning_of_uncertainty = "±: one standard deviation, from the size of a pixel alone. What else may be wrong is not in it.";
inline constexpr const char* meaning_over_area = "±: one standard deviation. Of a mean or a spread it comes from the pixels' own spread, of the area from the size of a pixel alone.";
/// The formula in symbols: "h = L · tan e".
[[nodiscard]] std::string formulaText(const Reading& reading);
/// The formula with values put in and the result: "h = 41.52 m · tan 40.00 deg = 34.8 ± 0.3 m".
[[nodiscard]] std::string workedText(const Reading& reading, const DisplayUnits& units = {});
/// "H: flying height above the base, 1500 m".
[[nodiscard]] std::string termText(const Term& term, const DisplayUnits& units = {});
/// A value of a kind in its display unit, four figures: "1500 m".
[[nodiscard]] std::string shownText(double value, Kind kind, const DisplayUnits& units, const std::string& own_unit = "", int figures = 4);

}  // namespace linefall
