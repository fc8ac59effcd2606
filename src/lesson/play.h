#pragma once
// A lesson played by itself: right, named wrong and senseless answers, and whether each is judged as it must be.

#include <functional>
#include <string>
#include <vector>

#include "lesson/judge.h"

namespace linefall {

/// The right answer of a part in a variant, as a student would write it with all its figures. Throws InputError where a choice
/// has no right option, or two.
[[nodiscard]] RawAnswer rightAnswer(const Part& part, const Step& step, Truths& truths);
/// What a named mistake leads to; nothing for a plan whose mistake has no settings to try.
[[nodiscard]] std::optional<RawAnswer> wrongAnswer(const Part& part, const Step& step, Truths& truths, const std::string& name);
/// Names of the mistakes of a part.
[[nodiscard]] std::vector<std::string> mistakesOf(const Part& part);
/// Answers without sense; each must earn nothing.
[[nodiscard]] std::vector<RawAnswer> nonsense(const Part& part);
/// Right answers to everything.
[[nodiscard]] Answers rightAnswers(Truths& truths, const std::string& student);

struct Played {
    int variant = 0;         ///< from 1
    std::string part;
    std::string played;      ///< "right", "wrong NAME", "nonsense", or a test's name
    RawAnswer answer;
    Verdict verdict;
    std::string problem;     ///< what is not as it must be; empty: all is well
    Place place;
};
/// Plays one question of a variant. Throws InputError where it cannot be asked.
[[nodiscard]] std::vector<Played> playPart(const Part& part, const Step& step, Truths& truths);
/// Plays one of the lesson's own tests in a variant.
[[nodiscard]] std::vector<Played> playTest(const LessonTest& test, Truths& truths);
/// Plays one variant: the right answer must get everything, each named wrong answer its own message and share, nonsense
/// nothing; and the lesson's own tests of that variant.
[[nodiscard]] std::vector<Played> playVariant(Truths& truths);

/// One truth of a variant.
struct VariantTruth {
    std::string part;
    Amount truth, tolerance;
    std::string unit;
    std::optional<Amount> formula;
    std::string nearest_wrong;     ///< the named mistake that comes closest
    double nearest_off = 0.0;      ///< its distance, in tolerances; 0 when there is no mistake
};
/// Of one number. Throws InputError.
[[nodiscard]] VariantTruth truthOf(const Part& part, const Step& step, Truths& truths);
/// Every number of a variant. Throws InputError.
[[nodiscard]] std::vector<VariantTruth> variantTruths(Truths& truths);

/// All that is wrong with a lesson that could be read: each variant is flown, each text filled, each truth compared with its
/// closed formula (half the tolerance), each answer played. `progress`: variants done. No problems: it is sound.
struct LessonCheck {
    Problems problems;                 ///< each once, with the number of variants that it touches
    std::vector<std::string> remarks;  ///< what an author should look at: variants that stand out, no "because" ...
    int played = 0;
};
[[nodiscard]] LessonCheck checkLesson(const Lesson& lesson, int threads = 0, const std::function<void(int)>& progress = {});

}  // namespace linefall
