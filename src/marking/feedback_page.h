#pragma once
// One page a student: what was asked, what was answered, what is said about it. Self-contained HTML that prints well.

#include <string>

#include "marking/marks.h"

namespace linefall {

[[nodiscard]] std::string feedbackPage(const MarkedStudent& student, const Answers& answers, Truths& truths);
/// The same in a few lines, for the gradebook's cell.
[[nodiscard]] std::string feedbackText(const MarkedStudent& student);

/// A name for a student's file: letters, digits, point, minus and underscore of the id, at most 60; where anything had to be
/// changed, a sign of its own is added, so that no two ids get one name. Never a path, never hidden, no device's name.
[[nodiscard]] std::string safeName(const std::string& id);

/// The opening of a page: title, style, no script, nothing fetched. `closing` ends it.
[[nodiscard]] std::string pageOpening(const std::string& title);
[[nodiscard]] std::string pageClosing();
/// "1.25", "2": points without a needless end.
[[nodiscard]] std::string pointsText(double points);

}  // namespace linefall
