#include "marking/items.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace linefall {

namespace {

/// Letters, points and settings that are not right, counted by what was given.
std::vector<Cluster> countedAnswers(const std::vector<const MarkedPart*>& wrong) {
    std::map<std::string, int> counts;
    for (const MarkedPart* part : wrong) {
        const Verdict& verdict = part->score.verdict;
        if (verdict.rule.compare(0, 6, "wrong ") == 0) ++counts[verdict.rule.substr(6)];
        else if (!part->near_point.empty()) ++counts["near the point: " + part->near_point];
        else if (verdict.rule == "other" && part->answer.size() == 1) ++counts["no known cause: answer " + part->answer];
        else if (verdict.rule == "unreadable") ++counts["could not be read"];
        else if (verdict.rule == "partly") ++counts["partly right"];
    }
    std::vector<Cluster> out;
    for (const auto& [cause, count] : counts) {
        const bool known = cause.compare(0, 8, "no known") != 0;
        if (known || count >= least_cluster) out.push_back({cause, known, count, 0.0, 0.0, {}});
    }
    std::stable_sort(out.begin(), out.end(), [](const Cluster& a, const Cluster& b) { return a.count > b.count; });
    return out;
}

std::vector<Cluster> clustersIn(const Part& part, const std::vector<const MarkedPart*>& wrong, const std::vector<int>& variants) {
    std::vector<WrongValue> values;
    std::vector<const MarkedPart*> others;
    for (std::size_t i = 0; i < wrong.size(); ++i) {
        const MarkedPart& m = *wrong[i];
        if (m.number) values.push_back({m.value, m.truth_value, m.tolerance_value, variants[i] + 1, part.unit, m.score.verdict.rule, m.named});
        else others.push_back(&m);
    }
    std::vector<Cluster> out = clustersOf(values);
    for (Cluster& cluster : countedAnswers(others)) out.push_back(std::move(cluster));
    return out;
}

Item itemOf(const Part& part, std::size_t index, const Marks& marks) {
    Item item;
    item.part = part.id;
    item.kind = nameOf(part.kind);
    item.most = part.points;
    std::vector<double> right, rest;
    std::vector<const MarkedPart*> wrong;
    std::vector<int> variants;
    std::array<int, tolerance_factors.size()> right_at{};
    for (const MarkedStudent& student : marks.students) {
        const MarkedPart& m = student.parts[index];
        ++item.n;
        item.given += m.given ? 1 : 0;
        item.right += m.score.verdict.right() ? 1 : 0;
        item.mean_share += m.score.verdict.share;
        item.tolerant = item.tolerant || m.tolerant;
        for (std::size_t k = 0; k < right_at.size(); ++k) right_at[k] += m.right_at[k] ? 1 : 0;
        right.push_back(m.score.verdict.right() ? 1.0 : 0.0);
        double others = 0.0;
        for (std::size_t i = 0; i < student.parts.size(); ++i) others += i == index ? 0.0 : student.parts[i].score.points;
        rest.push_back(others);
        if (m.given && !m.score.verdict.right()) {
            wrong.push_back(&m);
            variants.push_back(student.variant);
        }
    }
    if (item.n > 0) {
        item.share_right = static_cast<double>(item.right) / item.n;
        item.mean_share /= item.n;
        for (std::size_t k = 0; k < right_at.size(); ++k) item.share_right_at[k] = static_cast<double>(right_at[k]) / item.n;
    }
    item.discrimination = correlationOf(right, rest);
    item.clusters = clustersIn(part, wrong, variants);
    return item;
}

std::string fairnessWords(const std::optional<Variance>& v) {
    if (!v) return "not tested: too few answers, or no spread within the variants";
    const std::string numbers = fmt::format("F({}, {}) = {:.2f}, p {}", v->between, v->within, v->f, v->p < 0.001 ? "< 0.001" : fmt::format("= {:.2g}", v->p));
    if (v->p >= significance) return fmt::format("no difference beyond chance at {:g} %: {}", 100.0 * significance, numbers);
    return fmt::format("the variants differ beyond chance at {:g} %: {}; look at those with the highest and lowest mean", 100.0 * significance, numbers);
}

}  // namespace

Statistics statisticsOf(const Lesson& lesson, const Marks& marks) {
    Statistics out;
    out.most = lesson.mostPoints();
    std::map<int, std::vector<double>> by_variant;
    std::vector<double> points;
    for (const MarkedStudent& student : marks.students) {
        points.push_back(student.points);
        by_variant[student.variant].push_back(student.points);
    }
    out.points = summaryOf(points);
    const auto parts = partsOf(lesson);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (judged(*parts[i].second)) out.items.push_back(itemOf(*parts[i].second, i, marks));
    }
    std::vector<std::vector<double>> groups;
    for (const auto& [variant, values] : by_variant) {
        out.variants.push_back({variant, summaryOf(values)});
        groups.push_back(values);
    }
    out.fairness = varianceOf(groups);
    out.fairness_says = fairnessWords(out.fairness);
    return out;
}

}  // namespace linefall
