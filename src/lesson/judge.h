#pragma once
// One answer against the truth of its variant.

#include <optional>
#include <string>

#include "lesson/answer.h"
#include "lesson/truth.h"

namespace linefall {

struct Verdict {
    double share = 0.0;       ///< of the part's points, -1 .. 1
    /// "right", "follow", "unit", "wrong NAME", "partly" (match, plan), "other", "unreadable", "stored" (because), "none"
    std::string rule = "none";
    std::string message;      ///< said to the student; never "wrong!"
    std::optional<Amount> read, truth, tolerance;  ///< numbers
    [[nodiscard]] bool right() const { return rule == "right" || rule == "follow"; }
};

/// Judges an answer. Numbers are compared with the truth; then, with `earlier`, with what follows from the student's own
/// earlier values; then with the named wrong answers; then with the unit left aside. The nearest of several named wrong
/// answers counts. Throws InputError only for a fault of the lesson itself.
[[nodiscard]] Verdict judge(const Part& part, const Step& step, const RawAnswer* answer, Truths& truths, const Answers* earlier = nullptr);

struct PartScore {
    std::string part;
    double points = 0.0, most = 0.0;
    Verdict verdict;
};
struct Score {
    std::vector<PartScore> parts;  ///< in the order of the lesson
    double points = 0.0, most = 0.0;  ///< points never below 0
};
/// Marks all parts of one student's answers.
[[nodiscard]] Score score(const Answers& answers, Truths& truths);

/// Whether a truth, with its tolerance, says the same as another value.
[[nodiscard]] bool within(double value, double truth, double tolerance);

}  // namespace linefall
