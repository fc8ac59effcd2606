#include "marking/clusters.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/constants.h"

namespace linefall {

namespace {

struct Factor {
    double size;
    const char* cause;
};

constexpr double degrees = 180.0 / constants::pi;

const Factor factors[] = {
    {-1.0, "the sign is turned"},
    {2.0, "twice the truth (a factor of two too many)"},
    {0.5, "half the truth (a factor of two forgotten)"},
    {4.0, "four times the truth (a factor of two squared)"},
    {0.25, "a quarter of the truth (a factor of two squared)"},
    {10.0, "ten times the truth (a power of ten)"},
    {0.1, "a tenth of the truth (a power of ten)"},
    {100.0, "a hundred times the truth (per cent, or centimetres)"},
    {0.01, "a hundredth of the truth (per cent, or centimetres)"},
    {1000.0, "a thousand times the truth (kilo or milli)"},
    {0.001, "a thousandth of the truth (kilo or milli)"},
    {degrees, "57.3 times the truth (degrees for radians)"},
    {1.0 / degrees, "1/57.3 of the truth (radians for degrees)"},
    {3.6, "3.6 times the truth (km/h for m/s)"},
    {1.0 / 3.6, "1/3.6 of the truth (m/s for km/h)"},
    {1.0 / 0.3048, "3.28 times the truth (feet for metres)"},
    {0.3048, "0.305 of the truth (metres for feet)"},
    {constants::pi, "3.14 times the truth (pi too many)"},
    {1.0 / constants::pi, "1/3.14 of the truth (pi forgotten)"},
};

double ratioOf(const WrongValue& v) {
    return v.truth != 0.0 ? v.value / v.truth : 0.0;
}

void join(Cluster& cluster, const WrongValue& v) {
    const double ratio = ratioOf(v);
    cluster.low = cluster.count == 0 ? ratio : std::min(cluster.low, ratio);
    cluster.high = cluster.count == 0 ? ratio : std::max(cluster.high, ratio);
    if (cluster.examples.size() < 3 && std::find(cluster.examples.begin(), cluster.examples.end(), v.value) == cluster.examples.end()) {
        cluster.examples.push_back(v.value);
    }
    ++cluster.count;
}

std::string causeOf(const WrongValue& v) {
    if (v.rule.compare(0, 6, "wrong ") == 0) return v.rule.substr(6);
    if (v.rule == "unit") return "right number, another unit";
    const std::pair<std::string, double>* nearest = nullptr;
    for (const auto& named : v.named) {
        if (std::abs(v.value - named.second) > 3.0 * v.tolerance) continue;
        if (nearest == nullptr || std::abs(v.value - named.second) < std::abs(v.value - nearest->second)) nearest = &named;
    }
    return nearest != nullptr ? "near the named mistake: " + nearest->first : factorOf(v.value, v.truth, v.tolerance);
}

/// Runs of neighbours in a sorted list, `near` deciding of two that follow each other.
template <class Near>
std::vector<std::vector<const WrongValue*>> runsOf(const std::vector<const WrongValue*>& sorted, const Near& near) {
    std::vector<std::vector<const WrongValue*>> runs;
    for (const WrongValue* v : sorted) {
        if (runs.empty() || !near(*runs.back().front(), *v)) runs.emplace_back();
        runs.back().push_back(v);
    }
    return runs;
}

/// Takes the runs that are long enough out of `rest` as clusters.
template <class Say>
void takeRuns(const std::vector<std::vector<const WrongValue*>>& runs, std::size_t all, std::vector<const WrongValue*>& rest, std::vector<Cluster>& clusters, const Say& say) {
    for (const auto& run : runs) {
        if (static_cast<int>(run.size()) < least_cluster || static_cast<double>(run.size()) < least_cluster_share * static_cast<double>(all)) {
            rest.insert(rest.end(), run.begin(), run.end());
            continue;
        }
        Cluster cluster;
        cluster.known = false;
        for (const WrongValue* v : run) join(cluster, *v);
        cluster.cause = say(run, cluster);
        clusters.push_back(cluster);
    }
}

}  // namespace

std::string factorOf(double value, double truth, double tolerance) {
    if (!std::isfinite(value) || !std::isfinite(truth) || truth == 0.0 || value == 0.0) return "";
    const double slack = std::clamp(std::abs(tolerance / truth), 0.01, 0.05);
    double best = slack;
    std::string cause;
    for (const Factor& factor : factors) {
        const double off = std::abs(value / (truth * factor.size) - 1.0);
        if (off <= best) {
            best = off;
            cause = factor.cause;
        }
    }
    // Of a truth near 1 the reciprocal says nothing.
    if (std::abs(std::log(std::abs(truth))) > 0.2 && std::abs(value * truth - 1.0) < best) cause = "one over the truth (the reciprocal)";
    return cause;
}

std::vector<Cluster> clustersOf(const std::vector<WrongValue>& values) {
    std::map<std::string, Cluster> known;
    std::vector<const WrongValue*> rest;
    for (const WrongValue& v : values) {
        if (!std::isfinite(v.value)) continue;
        const std::string cause = causeOf(v);
        if (cause.empty()) rest.push_back(&v);
        else join(known[cause], v);
    }
    std::vector<Cluster> clusters;
    for (auto& [cause, cluster] : known) {
        cluster.cause = cause;
        if (cluster.count * 100 >= static_cast<int>(values.size())) clusters.push_back(cluster);
    }

    std::vector<const WrongValue*> with_ratio, left;
    for (const WrongValue* v : rest) (v->truth != 0.0 && v->value != 0.0 ? with_ratio : left).push_back(v);
    std::stable_sort(with_ratio.begin(), with_ratio.end(), [](const WrongValue* a, const WrongValue* b) { return ratioOf(*a) < ratioOf(*b); });
    const auto near_ratio = [](const WrongValue& a, const WrongValue& b) { return std::abs(ratioOf(b) - ratioOf(a)) <= 0.02 * std::abs(ratioOf(a)); };
    takeRuns(runsOf(with_ratio, near_ratio), values.size(), left, clusters, [](const auto& run, const Cluster&) {
        return fmt::format("no known cause: about {:.3g} times the truth", ratioOf(*run[run.size() / 2]));
    });
    std::stable_sort(left.begin(), left.end(), [](const WrongValue* a, const WrongValue* b) {
        return a->variant != b->variant ? a->variant < b->variant : a->value < b->value;
    });
    std::vector<const WrongValue*> alone;
    const auto near_value = [](const WrongValue& a, const WrongValue& b) {
        return a.variant == b.variant && b.value - a.value <= std::max(a.tolerance, 1e-9 * std::abs(a.value));
    };
    takeRuns(runsOf(left, near_value), values.size(), alone, clusters, [](const auto& run, const Cluster&) {
        const WrongValue& middle = *run[run.size() / 2];
        return fmt::format("no known cause: about {:.3g}{}{} in variant {}", middle.value, middle.unit.empty() ? "" : " ", middle.unit, middle.variant);
    });
    std::stable_sort(clusters.begin(), clusters.end(), [](const Cluster& a, const Cluster& b) { return a.count > b.count; });
    return clusters;
}

}  // namespace linefall
