#include "marking/changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <set>

#include "base/problem.h"
#include "marking/csv.h"

namespace linefall {

namespace {

std::string whyChanged(const EarlierPart& before, const MarkedStudent& student, const MarkedPart& now) {
    std::string why;
    const auto tell = [&](const std::string& what, const std::string& from, const std::string& to) {
        if (from == to) return;
        const auto shown = [](const std::string& text) { return text.empty() ? std::string("none") : text.substr(0, 80); };
        why += (why.empty() ? "" : "; ") + what + " was " + shown(from) + ", is " + shown(to);
    };
    tell("answer", before.answer, neutralised(now.answer));
    tell("variant", before.variant, std::to_string(student.variant + 1));
    tell("truth", before.truth, neutralised(now.truth));
    tell("tolerance", before.tolerance, neutralised(now.tolerance));
    tell("rule", before.rule, neutralised(now.score.verdict.rule));
    return why.empty() ? "the lesson gives other points for the same rule" : why;
}

}  // namespace

EarlierMarks readEarlierMarks(const std::string& folder) {
    const std::string path = folder + "/details.csv";
    const CsvTable table = readCsvFile(path);
    const auto column = [&](const char* name) {
        const int at = table.column(name);
        if (at < 0) throw InputError(Problem{{path, 1, 1}, "", std::string("no column '") + name + "'", "details.csv as an earlier marking wrote it", ""});
        return static_cast<std::size_t>(at);
    };
    const std::size_t id = column("id"), part = column("part"), variant = column("variant"), answer = column("answer"), truth = column("truth"),
                      tolerance = column("tolerance"), rule = column("rule"), points = column("points");
    EarlierMarks out;
    Problems problems;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        const std::vector<std::string>& row = table.rows[i];
        char* end = nullptr;
        const double value = std::strtod(row[points].c_str(), &end);
        if (row[points].empty() || *end != '\0' || !std::isfinite(value)) {
            problems.push_back({{path, table.lines[i], 1}, "points", "'" + row[points].substr(0, 40) + "'", "a number", ""});
            if (problems.size() >= 20) break;
            continue;
        }
        out[{row[id], row[part]}] = {row[variant], row[answer], row[truth], row[tolerance], row[rule], value};
    }
    if (!problems.empty()) throw InputError(problems);
    return out;
}

std::vector<Change> changesOf(const EarlierMarks& earlier, const std::vector<MarkedStudent>& now) {
    std::vector<Change> out;
    std::set<std::pair<std::string, std::string>> seen;
    std::set<std::string> known;
    for (const auto& [key, before] : earlier) known.insert(key.first);
    for (const MarkedStudent& student : now) {
        const std::string id = neutralised(student.id);
        if (known.count(id) == 0) {
            out.push_back({student.id, "", std::nullopt, student.points, "was not marked before"});
            continue;
        }
        for (const MarkedPart& part : student.parts) {
            const auto at = earlier.find({id, part.score.part});
            seen.insert({id, part.score.part});
            if (at == earlier.end()) {
                out.push_back({student.id, part.score.part, std::nullopt, part.score.points, "the part is new"});
            } else if (std::abs(at->second.points - part.score.points) > 1e-9) {
                out.push_back({student.id, part.score.part, at->second.points, part.score.points, whyChanged(at->second, student, part)});
            }
        }
    }
    std::set<std::string> marked;
    for (const MarkedStudent& student : now) marked.insert(neutralised(student.id));
    std::map<std::string, double> gone;
    for (const auto& [key, before] : earlier) {
        if (marked.count(key.first) == 0) gone[key.first] += before.points;
        else if (seen.count(key) == 0) out.push_back({key.first, key.second, before.points, std::nullopt, "the part is gone"});
    }
    for (const auto& [id, points] : gone) out.push_back({id, "", points, std::nullopt, "is no longer marked: see problems.csv"});
    std::stable_sort(out.begin(), out.end(), [](const Change& a, const Change& b) { return a.id < b.id; });
    return out;
}

}  // namespace linefall
