#pragma once
// Questions of a sheet, and their answers for the key, as HTML.

#include <string>

#include "lesson/truth.h"

namespace linefall {

/// A question with room to write. `number`: on the sheet, from 1.
[[nodiscard]] std::string questionHtml(const Part& part, const Step& step, Truths& truths, int number);
/// What is right, how near counts, what earns a part and what is said. Throws InputError.
[[nodiscard]] std::string answerHtml(const Part& part, const Step& step, Truths& truths, int number);

/// A row of the table of right answers: number, answer, points. Empty: nothing is right or wrong.
[[nodiscard]] std::string glanceHtml(const Part& part, const Step& step, Truths& truths, int number);

/// "2 points", "1 point", "not marked".
[[nodiscard]] std::string pointsWords(double points);
/// The tolerance of a number or a place with its unit, and the author's words for it.
[[nodiscard]] std::string toleranceText(const Part& part, const std::string& scene, Truths& truths);
/// The same for students: in the author's words alone where there are any, since a share of the truth would tell the truth.
[[nodiscard]] std::string roomText(const Part& part, const std::string& scene, Truths& truths);

}  // namespace linefall
