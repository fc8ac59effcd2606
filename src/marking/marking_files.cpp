#include "marking/marking_files.h"

#include <fmt/format.h>

#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "marking/csv.h"
#include "marking/feedback_page.h"

namespace linefall {

namespace {

nlohmann::ordered_json summaryOfNumbers(const Summary& s) {
    nlohmann::ordered_json json{{"n", s.n}, {"mean", s.mean}};
    json["standard_deviation"] = s.n < 2 ? nlohmann::ordered_json() : nlohmann::ordered_json(s.deviation);
    json["standard_error"] = s.n < 2 ? nlohmann::ordered_json() : nlohmann::ordered_json(s.error());
    return json;
}

}  // namespace

std::string summaryJson(const Marking& m) {
    nlohmann::ordered_json json;
    json["lesson"] = m.lesson.id;
    json["version"] = m.lesson.version;
    json["fingerprint"] = m.lesson.fingerprint;
    json["program"] = LINEFALL_VERSION;
    json["files"] = m.marks.files;
    json["marked"] = m.marks.students.size();
    json["max"] = m.statistics.most;
    json["points"] = summaryOfNumbers(m.statistics.points);
    std::map<std::string, int> notices;
    for (const Notice& notice : m.marks.notices) ++notices[notice.what];
    json["notices"] = notices;
    json["items"] = nlohmann::ordered_json::array();
    for (const Item& item : m.statistics.items) {
        nlohmann::ordered_json one{{"part", item.part}, {"answered", item.given}, {"right", item.right}, {"share_right", item.share_right}, {"mean_share", item.mean_share}};
        one["discrimination"] = item.discrimination ? nlohmann::ordered_json(*item.discrimination) : nlohmann::ordered_json();
        json["items"].push_back(one);
    }
    json["fairness"] = {{"says", m.statistics.fairness_says}, {"significance", significance}};
    if (const auto& v = m.statistics.fairness) {
        json["fairness"]["f"] = v->f;
        json["fairness"]["degrees_of_freedom"] = {v->between, v->within};
        json["fairness"]["p"] = v->p;
    }
    if (m.changes != nullptr) json["changes"] = m.changes->size();
    return json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

std::vector<std::string> addMarking(WholeFiles& files, const std::string& folder, const Marking& m) {
    std::vector<std::string> out;
    const auto add = [&](const std::string& name, const std::string& text) {
        files.addText(folder + "/" + name, text);
        out.push_back(folder + "/" + name);
    };
    add("gradebook.csv", gradebookCsv(m));
    add("details.csv", detailsCsv(m));
    add("items.csv", itemsCsv(m.statistics));
    add("clusters.csv", clustersCsv(m.statistics));
    add("variants.csv", variantsCsv(m.statistics));
    add("tolerance.csv", toleranceCsv(m.statistics));
    add("problems.csv", problemsCsv(m.marks));
    if (m.changes != nullptr) add("changes.csv", changesCsv(*m.changes));
    add("statistics.html", statisticsPage(m));
    add("summary.json", summaryJson(m));
    std::set<std::string> used;
    for (const MarkedStudent& student : m.marks.students) {
        const std::string wanted = safeName(student.id);
        std::string name = wanted;
        for (int n = 2; !used.insert(keyOf(name)).second; ++n) name = fmt::format("{}-{}", wanted, n);
        files.addText(folder + "/feedback/" + name + ".html", student.page);
    }
    return out;
}

}  // namespace linefall
