#pragma once
// What is wrong with an input: where, what was read, what was expected. All problems of an input are collected.

#include <stdexcept>
#include <string>
#include <vector>

namespace linefall {

/// Where in an input something stands. Line and column count from 1; 0 means "the whole file".
struct Place {
    std::string file;
    int line = 0;
    int column = 0;

    /// "file:line:column", or "file" when no line is known.
    [[nodiscard]] std::string text() const;
    friend bool operator==(const Place&, const Place&) = default;
};

/// One mistake in an input.
struct Problem {
    Place place;
    std::string key;       ///< the key or thing concerned; may be empty
    std::string read;      ///< what was read; may be empty
    std::string expected;  ///< what was expected
    std::string nearest;   ///< the nearest known name; may be empty

    /// One line: "file:line:column: key: read ..., expected ...; did you mean ...?"
    [[nodiscard]] std::string text() const;
};

using Problems = std::vector<Problem>;

/// All problems, one a line.
[[nodiscard]] std::string textOf(const Problems& problems);

/// Thrown when an input cannot be used. The command line prints it and exits with 2; the window lists it.
class InputError : public std::runtime_error {
public:
    explicit InputError(Problems problems) : std::runtime_error(textOf(problems)), problems_(std::move(problems)) {}
    explicit InputError(Problem problem) : InputError(Problems{std::move(problem)}) {}
    [[nodiscard]] const Problems& problems() const { return problems_; }

private:
    Problems problems_;
};

/// The name in `known` closest to `name` by edit distance, or "" when none is close: more than two letters and more than
/// a third of its letters differ, or all of them.
[[nodiscard]] std::string nearestName(const std::string& name, const std::vector<std::string>& known);

}  // namespace linefall
