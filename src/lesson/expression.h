#pragma once
// Arithmetic over named amounts: what a lesson writes for a truth, a tolerance or a wrong answer. No statement, no loop, no
// name of its own: an expression ends, and asks nothing of the machine but numbers.
//
//   or        a or b                        logic: a comparison is 1 when it holds, 0 when not
//   and, not  a and not b
//   compare   a < b  <=  >  >=  ==  !=      both sides of one dimension
//   sum       a + b - c                     of one dimension
//   product   a * b / c
//   power     a ^ 2  -a                     whole powers
//   atom      12.5  60 deg  sun.elevation  sqrt(a)  (a)
//
// Functions: sin cos tan (of an angle); asin acos atan (give one); sqrt abs floor ceil round exp ln log10;
// min max hypot atan2 (two or more of one dimension); if(condition, a, b); number(angle) in radians, angle(number).

#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "lesson/dimension.h"

namespace linefall {

/// Why an expression has no value, and where in its text (from 0).
struct ExpressionError : std::runtime_error {
    ExpressionError(const std::string& what, std::size_t at) : std::runtime_error(what), offset(at) {}
    std::size_t offset;
};

/// What a name stands for. Throws std::runtime_error, whose text says what was expected, for a name it does not know.
using NameLookup = std::function<Amount(const std::string&)>;

class Expression {
public:
    Expression() = default;
    /// Throws ExpressionError: at most 1000 characters, parentheses at most 50 deep.
    explicit Expression(const std::string& text);

    [[nodiscard]] bool empty() const { return root_ == nullptr; }
    [[nodiscard]] const std::string& text() const { return text_; }
    /// All names that it asks for, each once, in the order of the text.
    [[nodiscard]] std::vector<std::string> names() const;
    /// Throws ExpressionError where dimensions do not fit, or a value is not finite.
    [[nodiscard]] Amount evaluate(const NameLookup& lookup) const;
    /// True when not 0. The expression must be logic or a pure number.
    [[nodiscard]] bool holds(const NameLookup& lookup) const;

    struct Node;

private:
    std::string text_;
    std::shared_ptr<const Node> root_;
};

}  // namespace linefall
