#pragma once
// Inside the QTI export: one part as one item.

#include <functional>
#include <string>
#include <vector>

#include "lesson/truth.h"
#include "marking/qti.h"

namespace linefall {

/// A formed picture as a file of the package.
struct QtiPicture {
    std::string path;        ///< within the package
    std::string alt;         ///< what it is
    std::string words;       ///< and where things stand in it; not for questions that ask for a place
    int columns = 0, rows = 0;
    int times = 1;           ///< so many pixels of the file, to a side, are one of the picture
};

/// What stands before a question in its step: XHTML of QTI's subset. `pictures` are the lesson's own files that it shows.
struct QtiContext {
    std::string body;
    std::vector<std::string> pictures;  ///< paths within the package
};

/// The XML of one item, or "" where the part has no counterpart. `picture`: null when the scene has none to show.
[[nodiscard]] std::string qtiItem(const Part& part, const Step& step, Truths& truths, const QtiContext& context, const QtiPicture* picture);
/// "linefall-LESSON-3-PART": unique among lessons and variants; an NCName.
[[nodiscard]] std::string qtiName(const Lesson& lesson, int variant, const std::string& part);
/// Blocks as the XHTML that QTI knows; `image` is given the target and the words of an image.
[[nodiscard]] std::string qtiProse(const std::vector<Prose>& blocks, const std::function<std::string(const std::string&, const std::string&)>& image);

}  // namespace linefall
