#pragma once
// A lesson's questions for learning platforms: QTI 2.1 (1EdTech), one item a part, with the pictures of one variant, in a content
// package. A platform has no simulation: truths, tolerances and what mistakes lead to are written into the items as numbers.

#include <string>
#include <vector>

#include "lesson/truth.h"

namespace linefall {

struct PackageFile {
    std::string path;   ///< within the package: "items/height.xml"
    std::string bytes;
};

struct QtiPackage {
    std::vector<PackageFile> files;      ///< the first is imsmanifest.xml
    std::vector<std::string> items;      ///< ids of the parts that became items
    std::vector<std::string> left_out;   ///< "settings: a match has no counterpart in QTI 2.1"
};

/// All parts of one variant. A choice becomes a choiceInteraction; a number a textEntryInteraction in the unit of the part, right
/// within the tolerance; a point and a line a selectPointInteraction on the picture; because an extendedTextInteraction. Named
/// mistakes keep their share and sentence. Left out, and told: match and plan, hints, units, follow-through.
/// Throws InputError where the lesson cannot be flown.
[[nodiscard]] QtiPackage qtiPackage(Truths& truths);

}  // namespace linefall
