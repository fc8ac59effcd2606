#pragma once
// What another marking changed: lessons are mended, tolerances widened, files replaced, and students ask why.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "marking/marks.h"

namespace linefall {

struct Change {
    std::string id, part;        ///< part "": the whole
    std::optional<double> from, to;  ///< points; nothing: was not, or is no longer, marked
    std::string why;
};

/// A row of details.csv, as it stands there.
struct EarlierPart {
    std::string variant, answer, truth, tolerance, rule;
    double points = 0.0;
};
/// details.csv of an earlier marking: id (neutralised) and part.
using EarlierMarks = std::map<std::pair<std::string, std::string>, EarlierPart>;
/// From a folder that an earlier marking was written to. Throws InputError.
[[nodiscard]] EarlierMarks readEarlierMarks(const std::string& folder);

/// Parts whose points differ, with what else differs as the reason; sorted by id, then in the order of the lesson.
[[nodiscard]] std::vector<Change> changesOf(const EarlierMarks& earlier, const std::vector<MarkedStudent>& now);

}  // namespace linefall
