#pragma once
// In which pictures a step measures, and what its pictures must not tell.

#include <string>
#include <vector>

#include "figure/ruled_picture.h"
#include "lesson/lesson.h"

namespace linefall {

/// One picture of the lesson.
struct NeededPicture {
    std::string scene;  ///< its name, never empty
    int instrument = 0;
    friend bool operator==(const NeededPicture&, const NeededPicture&) = default;
};

/// The pictures that the answers of a step are read in, in the order of its questions: those of its points and lines and, past
/// the prediction, those of the measures behind its numbers and choices, and those of its hidden settings.
[[nodiscard]] std::vector<NeededPicture> picturesOf(const Lesson& lesson, const Step& step);

/// A measure, and the scene in whose picture it is taken.
struct NeededMeasure {
    const LessonMeasure* measure = nullptr;
    std::string scene;
};
/// The measures behind the answers of a step, past the prediction.
[[nodiscard]] std::vector<NeededMeasure> measuresOf(const Lesson& lesson, const Step& step);

/// True when a step measures lengths or places in a picture, which asks for large pixels; readings stand in tables.
[[nodiscard]] bool isMeasuredIn(const Lesson& lesson, const NeededPicture& picture);

/// True for a figure that shows a picture as it fell, whatever bands and stretch it asks for, and not plainly.
[[nodiscard]] bool showsPicture(const LessonFigure& figure);

/// What may stand beside a picture of a step: not the sun where its place is asked for or the step's figures are plain, not
/// the size of a pixel where it, the flight or the optics are asked for.
[[nodiscard]] RuledWith besideOf(const Lesson& lesson, const Step& step);

}  // namespace linefall
