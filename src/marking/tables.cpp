#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "marking/csv.h"
#include "marking/feedback_page.h"
#include "marking/marking_files.h"

namespace linefall {

namespace {

constexpr std::size_t most_clusters_told = 6;  ///< in a row of items.csv; clusters.csv has all

/// Why students on the roster have no marks.
std::map<std::string, std::string> whyWithout(const std::vector<Notice>& notices) {
    std::map<std::string, std::string> out;
    for (const Notice& notice : notices) {
        if (!notice.marked && !notice.student.empty() && notice.what != "missing") out.emplace(keyOf(notice.student), "Not marked: " + notice.what + ". " + notice.why);
    }
    return out;
}

void optionalNumber(CsvWriter& csv, const std::optional<double>& value) {
    if (value) csv.number(*value);
    else csv.blank();
}

void optionalFigures(CsvWriter& csv, const std::optional<double>& value) {
    if (value) csv.figures(*value);
    else csv.blank();
}

}  // namespace

std::string gradebookCsv(const Marking& m) {
    const bool named = !m.roster.name_column.empty();
    std::vector<std::string> head{m.roster.id_column};
    if (named) head.push_back(m.roster.name_column);
    for (const std::string& name : {m.columns.score, m.columns.most, m.columns.feedback}) head.push_back(name);
    CsvWriter csv(head);
    std::set<std::string> written;
    const auto student = [&](const MarkedStudent& s) {
        csv.text(s.id);
        if (named) csv.text(s.name);
        csv.number(s.points).number(s.most).text(feedbackText(s));
        csv.end();
        written.insert(keyOf(s.id));
    };
    const std::map<std::string, std::string> reasons = whyWithout(m.marks.notices);
    std::map<std::string, const MarkedStudent*> by_key;
    for (const MarkedStudent& s : m.marks.students) by_key[keyOf(s.id)] = &s;
    for (const RosterEntry& entry : m.roster.students) {
        const std::string key = keyOf(entry.id);
        if (const auto at = by_key.find(key); at != by_key.end()) {
            student(*at->second);
            continue;
        }
        csv.text(entry.id);
        if (named) csv.text(entry.name);
        const auto reason = reasons.find(key);
        csv.blank().number(m.statistics.most).text(reason != reasons.end() ? reason->second : "No answer file.");
        csv.end();
        written.insert(key);
    }
    for (const MarkedStudent& s : m.marks.students) {
        if (written.count(keyOf(s.id)) == 0) student(s);
    }
    return csv.out();
}

std::string detailsCsv(const Marking& m) {
    CsvWriter csv({"id", "variant", "part", "answer", "truth", "tolerance", "rule", "share", "points", "max", "attempts", "hints", "confidence", "file"});
    for (const MarkedStudent& s : m.marks.students) {
        for (const MarkedPart& part : s.parts) {
            csv.text(s.id).whole(s.variant + 1).text(part.score.part).text(part.answer).text(part.truth).text(part.tolerance).text(part.score.verdict.rule);
            csv.number(part.score.verdict.share).number(part.score.points).number(part.score.most).whole(part.attempts).whole(part.hints);
            if (part.confidence >= 0) csv.whole(part.confidence);
            else csv.blank();
            csv.text(s.file);
            csv.end();
        }
    }
    return csv.out();
}

std::string itemsCsv(const Statistics& statistics) {
    CsvWriter csv({"part", "kind", "max", "students", "answered", "right", "share_right", "mean_share", "discrimination", "clusters"});
    for (const Item& item : statistics.items) {
        csv.text(item.part).text(item.kind).number(item.most).whole(item.n).whole(item.given).whole(item.right).figures(item.share_right).figures(item.mean_share);
        optionalFigures(csv, item.discrimination);
        std::string clusters;
        for (std::size_t i = 0; i < std::min(item.clusters.size(), most_clusters_told); ++i) {
            clusters += fmt::format("{}{}: {}", i == 0 ? "" : "; ", item.clusters[i].cause, item.clusters[i].count);
        }
        csv.text(clusters);
        csv.end();
    }
    return csv.out();
}

std::string clustersCsv(const Statistics& statistics) {
    CsvWriter csv({"part", "suggested_cause", "known", "answers", "share_of_students", "least_times_truth", "most_times_truth", "examples"});
    for (const Item& item : statistics.items) {
        for (const Cluster& cluster : item.clusters) {
            csv.text(item.part).text(cluster.cause).text(cluster.known ? "yes" : "no").whole(cluster.count).figures(static_cast<double>(cluster.count) / item.n);
            if (cluster.examples.empty()) csv.blank().blank();
            else csv.figures(cluster.low).figures(cluster.high);
            std::string examples;
            for (const double value : cluster.examples) examples += fmt::format("{}{:.4g}", examples.empty() ? "" : "; ", value);
            csv.text(examples);
            csv.end();
        }
    }
    return csv.out();
}

std::string variantsCsv(const Statistics& statistics) {
    CsvWriter csv({"variant", "students", "mean", "standard_deviation", "standard_error", "note"});
    const auto row = [&](const Summary& s, const std::string& note) {
        csv.whole(s.n).figures(s.mean);
        if (s.n < 2) csv.blank().blank();
        else csv.figures(s.deviation).figures(s.error());
        csv.text(note);
        csv.end();
    };
    for (const VariantMean& mean : statistics.variants) {
        csv.whole(mean.variant + 1);
        row(mean.points, mean.points.n < 2 ? "one student: no spread, not in the test" : "");
    }
    csv.text("all");
    row(statistics.points, statistics.fairness_says);
    return csv.out();
}

std::string toleranceCsv(const Statistics& statistics) {
    CsvWriter csv({"part", "times_tolerance", "share_right"});
    for (const Item& item : statistics.items) {
        for (std::size_t k = 0; item.tolerant && k < tolerance_factors.size(); ++k) {
            csv.text(item.part).number(tolerance_factors[k]).figures(item.share_right_at[k]);
            csv.end();
        }
    }
    return csv.out();
}

std::string problemsCsv(const Marks& marks) {
    CsvWriter csv({"file", "student", "what", "why", "marked"});
    for (const Notice& notice : marks.notices) {
        csv.text(notice.file).text(notice.student).text(notice.what).text(notice.why).text(notice.marked ? "yes" : "no");
        csv.end();
    }
    return csv.out();
}

std::string changesCsv(const std::vector<Change>& changes) {
    CsvWriter csv({"id", "part", "from", "to", "why"});
    for (const Change& change : changes) {
        csv.text(change.id).text(change.part);
        optionalNumber(csv, change.from);
        optionalNumber(csv, change.to);
        csv.text(change.why);
        csv.end();
    }
    return csv.out();
}

}  // namespace linefall
