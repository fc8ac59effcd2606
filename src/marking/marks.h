#pragma once
// All answers of a folder against the truth, each variant's worked out once.

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "base/threads.h"
#include "lesson/judge.h"
#include "marking/handed_in.h"

namespace linefall {

/// "What if the tolerance were": times the one of the lesson.
constexpr std::array<double, 7> tolerance_factors{0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0};

/// One part of one student.
struct MarkedPart {
    PartScore score;
    std::string answer, truth, tolerance;  ///< as people read them; truth is empty where there is none to tell
    bool given = false;                    ///< there was an answer
    int attempts = 0, hints = 0, confidence = -1;
    bool number = false;                   ///< the next three hold: in the unit of the part
    double value = 0.0, truth_value = 0.0, tolerance_value = 0.0;
    std::vector<std::pair<std::string, double>> named;  ///< number that is not right: mistakes that the lesson names, in the unit of the part
    std::string near_point;                ///< point that is not right: the named point of the lesson that it is near
    std::array<bool, tolerance_factors.size()> right_at{};  ///< had the tolerance been so many times as large
    bool tolerant = false;                 ///< right_at means something: a number, a point, a line
};

struct MarkedStudent {
    std::string id, name, file;
    int variant = 0;                 ///< index from 0
    double points = 0.0, most = 0.0;
    std::vector<MarkedPart> parts;   ///< in the order of the lesson
    std::string page;                ///< the feedback page, HTML
};

struct Marks {
    std::vector<MarkedStudent> students;  ///< in the order of the hand-ins
    std::vector<Notice> notices;          ///< of the hand-ins, and of what could not be marked
    int files = 0;
    bool complete = true;                 ///< false: cancelled
};

/// Marks all. Variants are shared out among threads, one a variant; the marks do not depend on their number. A variant that
/// cannot be flown, or an answer that cannot be judged, is told as a notice and leaves its student without marks.
/// `cancel` ends early. Throws nothing that an answer file could cause.
[[nodiscard]] Marks markAll(const Lesson& lesson, HandIns hand_ins, int threads, const Cancel* cancel = nullptr);

/// What the student gave, in one line; nothing: empty.
[[nodiscard]] std::string answerText(const Part& part, const RawAnswer* answer);
/// The truth of a part for people: "52.0 m", "b", "sample 120.5, line 44.0".
[[nodiscard]] std::string truthText(const Part& part, const Step& step, Truths& truths);
/// Where a part is asked: its own scene, or its step's.
[[nodiscard]] const std::string& sceneOf(const Part& part, const Step& step);
/// Parts with the steps that they stand in, in the order of the lesson.
[[nodiscard]] std::vector<std::pair<const Step*, const Part*>> partsOf(const Lesson& lesson);
/// False for what is only stored: words, and a choice that has no right option.
[[nodiscard]] bool judged(const Part& part);
/// A part with a tolerance so many times as large. Throws ExpressionError where that would be too long a formula.
[[nodiscard]] Part withTolerance(const Part& part, double factor);

}  // namespace linefall
