#include "lesson/difficulty.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

double median(std::vector<double> values) {
    if (values.empty()) return 1.0;
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
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
            sum += tolerance > 0.0 ? std::log(std::max(1.0, std::abs(truth.truth.value) / tolerance)) : 0.0;
            if (truth.nearest_wrong.empty() || (!one.nearest_name.empty() && truth.nearest_off >= one.nearest)) continue;
            one.nearest = truth.nearest_off;
            one.nearest_name = truth.nearest_wrong + " (" + truth.part + ")";
        }
        one.fineness = truths[i].empty() ? 1.0 : std::exp(sum / static_cast<double>(truths[i].size()));
        fine.push_back(one.fineness);
        all.push_back(std::move(one));
    }
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
    return fmt::format("Difficulty: |truth| / tolerance, as the geometric mean over a variant's numbers, divided by the median of all variants. A variant stands out above {0} or below 1/{0}, or where a named mistake lies less than {1} tolerances from the truth.",
                       most_difficulty, least_nearest);
}

}  // namespace linefall
