#pragma once
// What a number in a lesson measures: powers of a few base units, so that metres are never added to seconds.

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "base/quantity.h"

namespace linefall {

/// Powers of m, s, rad, W, K, e (electrons), DN (counts) and cd; pixels, lines and samples are numbers. Angles are kept apart from pure numbers only where
/// nothing else has a dimension: an angle times a length is a length (small angles), as textbooks write it.
class Dimension {
public:
    enum Base { metre, second, radian, watt, kelvin, electron, count, candela, bases };

    constexpr Dimension() = default;
    [[nodiscard]] static constexpr Dimension of(Base base, int power = 1) {
        Dimension d;
        d.powers_[base] = static_cast<signed char>(power);
        return d;
    }
    [[nodiscard]] static Dimension of(Kind kind);

    /// Nothing has a power: a ratio.
    [[nodiscard]] bool pure() const { return *this == Dimension{}; }
    [[nodiscard]] bool angle() const { return *this == of(radian); }
    [[nodiscard]] int power(Base base) const { return powers_[base]; }
    /// "m", "m s-1"; "a pure number" when pure.
    [[nodiscard]] std::string text() const;

    /// Of a product, and of a quotient. Nothing where a power leaves -9 .. 9.
    [[nodiscard]] std::optional<Dimension> times(const Dimension& other, int sign = 1) const;
    /// Of a whole power.
    [[nodiscard]] std::optional<Dimension> raised(int power) const;
    /// Of a square root; nothing where a power is odd.
    [[nodiscard]] std::optional<Dimension> root() const;

    friend bool operator==(const Dimension&, const Dimension&) = default;

private:
    [[nodiscard]] Dimension settled() const;
    std::array<signed char, bases> powers_{};
};

/// A number with what it measures, in core units (SI, radians; counts and electrons as such).
struct Amount {
    double value = 0.0;
    Dimension dimension;
};

/// A unit by its spelling: its kind, its size in the core unit, and its offset: core = (number + offset) * scale.
struct UnitOfText {
    std::string name;
    Dimension dimension;
    double scale = 1.0;
    double offset = 0.0;
};

/// Every unit that lessons and answers may write: those of quantity text, "counts", "pixels", "lines", "samples", "Mbit".
[[nodiscard]] const std::vector<UnitOfText>& lessonUnits();
/// A unit by its spelling, or by a spelled-out name that a student might write ("metres", "degrees", "°", "feet"); null
/// when there is none.
[[nodiscard]] const UnitOfText* findUnit(std::string_view spelling);

/// The unit as a student is told of it: "m", "us (microseconds)".
[[nodiscard]] std::string unitInWords(const UnitOfText& unit);

/// A value in a unit, "52.0 m", with so many significant figures; "0.40" for the unit "".
[[nodiscard]] std::string textIn(const UnitOfText& unit, double core_value, int figures = 4);
/// The same with as many figures as a tolerance, in the core unit, leaves a sense to, and one more.
[[nodiscard]] std::string textWithin(const UnitOfText& unit, double core_value, double core_tolerance);
/// A value in the unit that suits its dimension.
[[nodiscard]] std::string textOf(const Amount& amount, int figures = 4);

}  // namespace linefall
