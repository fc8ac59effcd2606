#pragma once
// Whether the variants were equally hard, and whether a part tells the strong from the weak.

#include <optional>
#include <vector>

namespace linefall {

struct Summary {
    int n = 0;
    double mean = 0.0;
    double deviation = 0.0;  ///< standard deviation, with n - 1; 0 when n < 2
    /// Of the mean.
    [[nodiscard]] double error() const;
};
[[nodiscard]] Summary summaryOf(const std::vector<double>& values);

/// One-way analysis of variance: F = (between / (k - 1)) / (within / (N - k)), with the sums of squares between the means of
/// k groups and within them. It takes marks as normally spread with one width in all groups; marks are whole steps and
/// often skewed, so that p is a guide, not a proof.
struct Variance {
    double f = 0.0;
    int between = 0, within = 0;  ///< degrees of freedom
    double p = 1.0;               ///< chance of such an F or a larger one when all groups are alike
};
/// Groups of fewer than two values are left out. Nothing when fewer than two groups are left, or when no value differs from its
/// group's mean.
[[nodiscard]] std::optional<Variance> varianceOf(const std::vector<std::vector<double>>& groups);

/// Chance that F with so many degrees of freedom is at least f: I_x(within / 2, between / 2), x = within / (within + between f).
[[nodiscard]] double chanceOfF(double f, int between, int within);

/// The regularised incomplete beta function I_x(a, b) for a, b > 0 and 0 <= x <= 1, by its continued fraction, to about 1e-12.
/// Source: DLMF 8.17.22, quoted from memory and tested against closed forms.
[[nodiscard]] double betaShare(double x, double a, double b);

/// Pearson's correlation; nothing when there are fewer than three pairs or one side does not vary. Of a part that is right (1)
/// or not (0) with the rest of the score it is the point-biserial discrimination.
[[nodiscard]] std::optional<double> correlationOf(const std::vector<double>& x, const std::vector<double>& y);

}  // namespace linefall
