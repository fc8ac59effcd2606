#pragma once
// What the answers of all say about the questions.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "marking/clusters.h"
#include "marking/fairness.h"
#include "marking/marks.h"

namespace linefall {

struct Item {
    std::string part, kind;
    double most = 0.0;
    int n = 0, given = 0, right = 0;
    double share_right = 0.0, mean_share = 0.0;  ///< of all n; an answer that is missing is not right
    std::optional<double> discrimination;         ///< right or not against the score of all other parts
    std::vector<Cluster> clusters;
    bool tolerant = false;
    std::array<double, tolerance_factors.size()> share_right_at{};  ///< with other tolerances
};

struct VariantMean {
    int variant = 0;  ///< index from 0
    Summary points;
};

struct Statistics {
    Summary points;
    double most = 0.0;
    std::vector<Item> items;              ///< in the order of the lesson; parts that are only stored are left out
    std::vector<VariantMean> variants;    ///< those that someone had
    std::optional<Variance> fairness;
    /// "No difference beyond chance: F(3, 96) = 1.02, p = 0.39", at five per cent.
    std::string fairness_says;
};

/// A difference between variants is told from this chance on.
constexpr double significance = 0.05;

[[nodiscard]] Statistics statisticsOf(const Lesson& lesson, const Marks& marks);

}  // namespace linefall
