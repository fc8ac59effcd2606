#pragma once
// A picture in words, for whoever does not see it: what it is, how its greys lie, and where things stand in it. Everything is
// read from the formed picture and its looks; places are whole pixels, as a careful hand would pick them.

#include <optional>
#include <string>
#include <vector>

#include "lesson/truth.h"

namespace linefall {

/// A part of a named thing, or a named point of the lesson, where the picture shows it.
struct SeenThing {
    std::string name;   ///< "mast"; of a point its words, or its name with blanks: "west field"
    std::string part;   ///< "foot", "top", "shadow tip", or "" for a point on the ground
    int sample = 0, line = 0;
};
/// What moves first, then what stands still, in the order of the place; at most 60.
[[nodiscard]] std::vector<SeenThing> seenThings(Truths& truths, const std::string& scene, int instrument);

/// Sentences: instrument, size, where north is, the sun, the greys of nine fields in words with their means, and what stands
/// where. `plain`: not what has to be found out there, which is the size of a pixel, where north is, and the sun.
/// `turned`: as a page shows the picture that is turned by half a turn; samples and lines keep their numbers. Nothing: as the
/// scene says (show.turned).
[[nodiscard]] std::string pictureInWords(Truths& truths, const std::string& scene, int instrument, bool plain = false, std::optional<bool> turned = std::nullopt);
/// The first sentences of it: what the picture is and how it lies, without its greys and what stands where.
[[nodiscard]] std::string pictureInBrief(Truths& truths, const std::string& scene, int instrument, bool plain = false, std::optional<bool> turned = std::nullopt);
/// True when a figure of the step shows that picture plain (figure.plain).
[[nodiscard]] bool shownPlain(const Lesson& lesson, const Step& step, const std::string& scene, int instrument);
/// Whether a figure shows its picture turned by half a turn; nothing where it does not say so (show.turned).
[[nodiscard]] std::optional<bool> shownTurned(const LessonFigure& figure);

}  // namespace linefall
