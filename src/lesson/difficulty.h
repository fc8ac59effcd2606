#pragma once
// How hard a variant is beside the others: whoever gets it should not be the unlucky one.

#include <string>
#include <vector>

#include "lesson/play.h"

namespace linefall {

struct VariantDifficulty {
    int variant = 0;           ///< from 1
    double fineness = 0.0;     ///< geometric mean over its numbers of |truth| / tolerance (of an angle: a full turn / tolerance), at least 1; 1 without numbers
    double difficulty = 1.0;   ///< fineness over the median fineness of all variants: 2 asks for twice as careful a reading
    double nearest = 0.0;      ///< the least distance of a named mistake from its truth, in tolerances; 0: no mistake
    std::string nearest_name;  ///< "zenith for elevation (height)"
    std::vector<std::string> remarks;  ///< why it stands out; empty: it does not
};

constexpr double most_difficulty = 1.5;   ///< a variant stands out beyond this, or below 1 over it
constexpr double most_truth = 4.0;        ///< times the median of all variants, or the same part of it: a truth stands out beyond this
constexpr double least_nearest = 2.0;     ///< tolerances: mistake and truth then nearly touch

/// `truths`: of each variant, as variantTruths gives them; `numbers`: which variants those are, from 1.
[[nodiscard]] std::vector<VariantDifficulty> difficultiesOf(const std::vector<std::vector<VariantTruth>>& truths, const std::vector<int>& numbers);

/// How it is worked out, a sentence for the foot of a table.
[[nodiscard]] std::string difficultyWords();

}  // namespace linefall
