#include <fmt/format.h>

#include <algorithm>

#include "lesson/prose.h"
#include "marking/feedback_page.h"
#include "marking/marking_files.h"

namespace linefall {

namespace {

std::string percent(double share) {
    return fmt::format("{:.0f} %", 100.0 * share);
}

/// A bar beside its number, for eyes; the number is in the cell before.
std::string bar(double share) {
    return fmt::format("<span class=\"track\" aria-hidden=\"true\"><span class=\"bar\" style=\"width:{:.1f}%\"></span></span>", 100.0 * std::max(0.0, std::min(1.0, share)));
}

std::string optionalText(const std::optional<double>& value) {
    return value ? fmt::format("{:.2f}", *value) : std::string("\xE2\x80\x93");
}

void itemTable(std::string& out, const Statistics& s) {
    out += "<h2>Parts</h2>\n<p class=\"quiet\">Discrimination: correlation of being right with the score of all other parts. Near 0 or below, look at the question. Mean: of the share of the points.</p>\n"
           "<table><thead><tr><th>Part</th><th>Kind</th><th class=\"n\">Answered</th><th class=\"n\">Right</th><th></th><th class=\"n\">Mean</th><th class=\"n\">Discrimination</th></tr></thead>\n<tbody>\n";
    for (const Item& item : s.items) {
        out += fmt::format("<tr><td>{}</td><td>{}</td><td class=\"n\">{} of {}</td><td class=\"n\">{}</td><td>{}</td><td class=\"n\">{:.2f}</td><td class=\"n\">{}</td></tr>\n", escapedHtml(item.part),
                           escapedHtml(item.kind), item.given, item.n, percent(item.share_right), bar(item.share_right), item.mean_share, optionalText(item.discrimination));
    }
    out += "</tbody></table>\n";
}

void clusterTable(std::string& out, const Statistics& s) {
    out += "<h2>Answers that several share and that are not right</h2>\n<p class=\"quiet\">Suggested causes, to be looked at: chance leads to round factors too.</p>\n"
           "<table><thead><tr><th>Part</th><th>Suggested cause</th><th class=\"n\">Answers</th><th>Values</th></tr></thead>\n<tbody>\n";
    bool any = false;
    for (const Item& item : s.items) {
        for (const Cluster& cluster : item.clusters) {
            std::string examples;
            for (const double value : cluster.examples) examples += fmt::format("{}{:.4g}", examples.empty() ? "" : ", ", value);
            out += fmt::format("<tr><td>{}</td><td>{}</td><td class=\"n\">{}</td><td>{}</td></tr>\n", escapedHtml(item.part), escapedHtml(cluster.cause), cluster.count, examples);
            any = true;
        }
    }
    out += any ? "</tbody></table>\n" : "<tr><td colspan=\"4\">none</td></tr></tbody></table>\n";
}

void variantTable(std::string& out, const Statistics& s) {
    out += "<h2>Variants</h2>\n<p>Fairness: " + escapedHtml(s.fairness_says) +
           ". <span class=\"quiet\">One-way analysis of variance; it takes marks as normally spread, so that p is a guide.</span></p>\n"
           "<table><thead><tr><th class=\"n\">Variant</th><th class=\"n\">Students</th><th class=\"n\">Mean</th><th class=\"n\">Standard error</th><th></th></tr></thead>\n<tbody>\n";
    for (const VariantMean& mean : s.variants) {
        out += fmt::format("<tr><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{:.2f}</td><td class=\"n\">{}</td><td>{}</td></tr>\n", mean.variant + 1, mean.points.n, mean.points.mean,
                           mean.points.n < 2 ? std::string("\xE2\x80\x93") : fmt::format("{:.2f}", mean.points.error()), bar(s.most > 0.0 ? mean.points.mean / s.most : 0.0));
    }
    out += "</tbody></table>\n";
}

void toleranceTable(std::string& out, const Statistics& s) {
    out += "<h2>What if the tolerance were</h2>\n<p class=\"quiet\">Share of students who would be right with so many times the tolerance of the lesson.</p>\n<table><thead><tr><th>Part</th>";
    for (const double factor : tolerance_factors) out += fmt::format("<th class=\"n\">\xC3\x97 {:g}</th>", factor);
    out += "</tr></thead>\n<tbody>\n";
    for (const Item& item : s.items) {
        if (!item.tolerant) continue;
        out += "<tr><td>" + escapedHtml(item.part) + "</td>";
        for (const double share : item.share_right_at) out += "<td class=\"n\">" + percent(share) + "</td>";
        out += "</tr>\n";
    }
    out += "</tbody></table>\n";
}

}  // namespace

std::string statisticsPage(const Marking& m) {
    const Statistics& s = m.statistics;
    std::string out = pageOpening(m.lesson.title + ": statistics");
    out += "<h1>" + escapedHtml(m.lesson.title) + "</h1>\n";
    out += fmt::format("<p class=\"score\">{} students marked, mean {:.2f} of {} points</p>\n", s.points.n, s.points.mean, pointsText(s.most));
    if (s.points.n > 1) out += fmt::format("<p>Standard deviation {:.2f}, standard error of the mean {:.2f}.</p>\n", s.points.deviation, s.points.error());
    out += fmt::format("<p class=\"quiet\">Lesson {}, version {}, state {}. {} files met, {} notes in problems.csv.</p>\n", escapedHtml(m.lesson.id), m.lesson.version, escapedHtml(m.lesson.fingerprint),
                       m.marks.files, m.marks.notices.size());
    itemTable(out, s);
    clusterTable(out, s);
    variantTable(out, s);
    toleranceTable(out, s);
    return out + pageClosing();
}

}  // namespace linefall
