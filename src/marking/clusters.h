#pragma once
// Answers that many students share and that are not right: what may have led there. A suggestion to look at, no verdict:
// chance leads to round factors too.

#include <string>
#include <utility>
#include <vector>

namespace linefall {

/// A number that is not right, in the unit of the part, beside the truth of its variant.
struct WrongValue {
    double value = 0.0, truth = 0.0, tolerance = 0.0;
    int variant = 0;
    std::string unit;         ///< of the part, as shown
    std::string rule;         ///< of its verdict: "wrong NAME" and "unit" are causes already
    std::vector<std::pair<std::string, double>> named;  ///< mistakes that the lesson names, with the value each leads to
};

struct Cluster {
    std::string cause;        ///< "zenith for elevation", "twice the truth", "no known cause: ..."
    bool known = true;        ///< the lesson names it, or a factor explains it
    int count = 0;
    double low = 0.0, high = 0.0;  ///< of value / truth
    std::vector<double> examples;  ///< at most three values
};

/// So many values make a cluster of their own where no cause is known, and no less than this share of all values: among many
/// wrong values some lie together by chance.
constexpr int least_cluster = 3;
constexpr double least_cluster_share = 0.05;

/// Clusters, the largest first; values that nothing joins are left out, and so are factors that explain fewer than one value in
/// a hundred. In this order a value belongs to: the rule that judged
/// it; a named mistake within three tolerances; a factor of the truth (sign, 2, 4, 10, 100, 1000, 180/pi, 3.6, 3.281 and their
/// inverses, pi, the reciprocal) within the tolerance, at least 1 % and at most 5 %; a group whose ratios to the truth lie within
/// 2 % of each other; a group of one variant within a tolerance of each other.
[[nodiscard]] std::vector<Cluster> clustersOf(const std::vector<WrongValue>& values);

/// The factor that explains a value; empty when none does.
[[nodiscard]] std::string factorOf(double value, double truth, double tolerance);

}  // namespace linefall
