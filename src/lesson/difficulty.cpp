#include "lesson/difficulty.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/constants.h"

namespace linefall {

namespace {

double median(std::vector<double> values) {
    if (values.empty()) return 1.0;
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

/// What a tolerance is compared with: the truth's size. An angle is read as finely wherever it points: a full turn.
double sizeOf(const VariantTruth& truth) { return truth.truth.dimension == Dimension::of(Kind::angle) ? 2.0 * constants::pi : std::abs(truth.truth.value); }

/// A truth far from those of the other variants: by its size, whatever its sign.
void tellOddTruths(const std::vector<std::vector<VariantTruth>>& truths, std::vector<VariantDifficulty>& all) {
    std::map<std::string, std::vector<double>> sizes;
    for (const std::vector<VariantTruth>& of : truths) {
        for (const VariantTruth& truth : of) sizes[truth.part].push_back(sizeOf(truth));
    }
    for (std::size_t i = 0; i < truths.size(); ++i) {
        for (const VariantTruth& truth : truths[i]) {
            const double usual = median(sizes[truth.part]), size = sizeOf(truth);
            if (!(usual > 0.0) || (size <= most_truth * usual && size >= usual / most_truth)) continue;
            const UnitOfText* unit = findUnit(truth.unit);
            const auto text = [&](double value) { return unit != nullptr ? textIn(*unit, value, 3) : figuresText(value, 3); };
            all[i].remarks.push_back(fmt::format("the answer to {} is {}; the median of all variants is {}", truth.part, text(truth.truth.value), text(usual)));
        }
    }
}

}  // namespace

std::vector<VariantDifficulty> difficultiesOf(const std::vector<std::vector<VariantTruth>>& truths, const std::vector<int>& numbers) {
    std::vector<VariantDifficulty> all;
    std::vector<double> fine;
    for (std::size_t i = 0; i < truths.size(); ++i) {
        VariantDifficulty one;
        one.variant = numbers.at(i);
        double sum = 0.0;
        for (const VariantTruth& truth : truths[i]) {
            const double tolerance = std::abs(truth.tolerance.value);
            sum += tolerance > 0.0 ? std::log(std::max(1.0, sizeOf(truth) / tolerance)) : 0.0;
            if (truth.nearest_wrong.empty() || (!one.nearest_name.empty() && truth.nearest_off >= one.nearest)) continue;
            one.nearest = truth.nearest_off;
            one.nearest_name = truth.nearest_wrong + " (" + truth.part + ")";
        }
        one.fineness = truths[i].empty() ? 1.0 : std::exp(sum / static_cast<double>(truths[i].size()));
        fine.push_back(one.fineness);
        all.push_back(std::move(one));
    }
    tellOddTruths(truths, all);
    const double usual = median(fine);
    for (VariantDifficulty& one : all) {
        one.difficulty = one.fineness / usual;
        if (one.difficulty > most_difficulty) one.remarks.push_back(fmt::format("harder than the rest: its readings must be {:.1f} times as fine", one.difficulty));
        if (one.difficulty < 1.0 / most_difficulty) one.remarks.push_back(fmt::format("easier than the rest: its readings may be {:.1f} times as coarse", 1.0 / one.difficulty));
        if (!one.nearest_name.empty() && one.nearest < least_nearest) one.remarks.push_back(fmt::format("the mistake {} lies only {:.1f} tolerances from the truth", one.nearest_name, one.nearest));
    }
    return all;
}

std::string difficultyWords() {
    return fmt::format("Difficulty: |truth| / tolerance (of an angle: a full turn / tolerance), as the geometric mean over a variant's numbers, divided by the median of all variants. A variant stands out above {0} or below 1/{0}, where an answer is more than {1} times the median of all variants or less than 1/{1} of it, or where a named mistake lies less than {2} tolerances from the truth.",
                       most_difficulty, most_truth, least_nearest);
}

}  // namespace linefall
