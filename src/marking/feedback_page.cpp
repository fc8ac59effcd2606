#include "marking/feedback_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <set>

#include "lesson/prose.h"
#include "lesson/variant.h"
#include "marking/csv.h"

namespace linefall {

namespace {

// Dark words on white, one column; a printer gets the same without margins of its own.
const char* const style = R"(
@page { margin: 18mm; }
body { font-family: Inter, "Liberation Sans", Arial, sans-serif; font-size: 11pt; line-height: 1.45; color: #1a1d21; background: #fff; max-width: 44em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.5em; margin: 0 0 .2em; } h2 { font-size: 1.1em; margin: 1.6em 0 .3em; border-top: 1px solid #c9ced4; padding-top: .8em; }
p { margin: .4em 0; } .score { font-size: 1.15em; font-weight: 600; } .quiet { color: #555d66; }
section { break-inside: avoid; } dl { display: grid; grid-template-columns: 9em 1fr; gap: .15em 1em; margin: .5em 0; } dt { color: #555d66; } dd { margin: 0; overflow-wrap: anywhere; white-space: pre-wrap; }
table { border-collapse: collapse; margin: .6em 0; } th, td { text-align: left; padding: .2em .8em .2em 0; border-bottom: 1px solid #dfe3e7; vertical-align: top; } td.n, th.n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.bar { display: inline-block; height: .7em; background: #3a6ea5; vertical-align: middle; print-color-adjust: exact; -webkit-print-color-adjust: exact; } .track { display: inline-block; width: 8em; background: #e6e9ed; line-height: .7em; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
@media print { body { margin: 0; padding: 0; max-width: none; } }
)";

std::string row(const std::string& name, const std::string& value) {
    return value.empty() ? "" : "<dt>" + escapedHtml(name) + "</dt><dd>" + escapedHtml(value) + "</dd>\n";
}

/// A letter with the words of its option.
std::string withWords(const Part& part, const std::string& letter, Truths& truths, const std::string& scene) {
    if (part.kind != Part::Kind::choice) return letter;
    for (std::size_t i = 0; i < part.options.size(); ++i) {
        const auto lower = static_cast<char>('a' + i);
        if (keyOf(letter) == std::string(1, lower)) return std::string(1, lower) + ") " + truths.text(part.options[i].text, scene);
    }
    return letter;
}

/// The truth of a number with as many figures as its tolerance leaves a sense to, and one more, and the tolerance to the same
/// place: "4.07 ± 0.08 km"; of other parts as it is.
std::string compared(const Part& part, const std::string& truth, Truths& truths, const std::string& scene) {
    const UnitOfText* unit = part.kind == Part::Kind::number ? findUnit(part.unit) : nullptr;
    if (unit == nullptr) return withWords(part, truth, truths, scene);
    const double tolerance = truths.evaluate(part.tolerance, scene).value;
    const std::string value = textWithin(*unit, truths.evaluate(part.truth, scene).value, tolerance), number = value.substr(0, value.find(' '));
    const double room = tolerance / unit->scale;
    const std::size_t point = number.find('.');
    const int decimals = number.find('e') != std::string::npos || point == std::string::npos ? 0 : static_cast<int>(number.size() - point - 1);
    const std::string fine = fmt::format("{:.{}f}", room, decimals);
    const bool told = std::strtod(fine.c_str(), nullptr) > 0.0 && number.find('e') == std::string::npos;
    return number + " \xC2\xB1 " + (told ? fine : figuresText(room, 1)) + value.substr(number.size());
}

/// What is said when the judge had nothing to say.
std::string said(const MarkedPart& part) {
    if (!part.score.verdict.message.empty()) return part.score.verdict.message;
    if (!part.given) return "There is no answer to this part.";
    if (part.score.verdict.rule == "stored") return "Kept for your teacher, not marked.";
    return part.score.verdict.right() ? "As the picture shows it." : "";
}

}  // namespace

std::string pointsText(double points) {
    std::string text = fmt::format("{:.2f}", points);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string pageOpening(const std::string& title) {
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<title>" + escapedHtml(title) +
           "</title>\n<style>" + style + "</style>\n</head>\n<body>\n";
}

std::string pageClosing() {
    return "<p class=\"quiet\">Linefall is a teaching model: not for survey, navigation, engineering or safety decisions.</p>\n</body>\n</html>\n";
}

std::string feedbackPage(const MarkedStudent& student, const Answers& answers, Truths& truths) {
    const Lesson& lesson = truths.lesson();
    std::string out = pageOpening(lesson.title + ": " + student.id);
    out += "<h1>" + escapedHtml(lesson.title) + "</h1>\n<p>" + escapedHtml(student.name.empty() ? student.id : student.name + " (" + student.id + ")") + "</p>\n";
    out += "<p class=\"score\">" + pointsText(student.points) + " of " + pointsText(student.most) + " points</p>\n";
    out += fmt::format("<p class=\"quiet\">Variant {}. Values to compare with are worked out by the simulation from the picture of this variant.</p>\n", student.variant + 1);
    const auto parts = partsOf(lesson);
    for (std::size_t i = 0; i < parts.size() && i < student.parts.size(); ++i) {
        const auto& [step, part] = parts[i];
        const MarkedPart& marked = student.parts[i];
        const std::string& scene = sceneOf(*part, *step);
        out += fmt::format("<section>\n<h2>{}. {}</h2>\n<p>{}</p>\n<dl>\n", i + 1, escapedHtml(truths.text(step->title, scene)), escapedHtml(truths.text(part->ask, scene)));
        out += row("Your answer", marked.given ? withWords(*part, marked.answer, truths, scene) : "none");
        const RawAnswer* answer = answers.counted(lesson, part->id);
        if (answer != nullptr && !answer->evidence.empty() && answer->evidence.size() <= 2000) out += row("Measured for it", answer->evidence);
        std::string compare = compared(*part, marked.truth, truths, scene);
        if (!compare.empty() && !marked.tolerance.empty() && part->kind != Part::Kind::number) compare += " \xC2\xB1 " + marked.tolerance;
        if (!compare.empty() && !part->tolerance_says.empty()) compare += " (" + truths.text(part->tolerance_says, scene) + ")";
        out += row("To compare", compare);
        if (marked.score.most > 0.0) out += row("Points", pointsText(marked.score.points) + " of " + pointsText(marked.score.most));
        out += "</dl>\n";
        if (const std::string words = said(marked); !words.empty()) out += "<p>" + escapedHtml(words) + "</p>\n";
        if (!part->explain.empty()) {
            const std::string explain = truths.text(part->explain, scene);
            if (marked.score.verdict.message.find(explain) == std::string::npos) out += "<p>" + escapedHtml(explain) + "</p>\n";
        }
        out += "</section>\n";
    }
    return out + pageClosing();
}

std::string feedbackText(const MarkedStudent& student) {
    std::string out;
    for (const MarkedPart& part : student.parts) {
        if (part.score.most <= 0.0) continue;
        out += (out.empty() ? "" : "\n") + part.score.part + ": " + pointsText(part.score.points) + " of " + pointsText(part.score.most);
        const std::string words = said(part);
        if (!words.empty()) out += ". " + words;
    }
    return out;
}

std::string safeName(const std::string& id) {
    static const std::set<std::string> devices{"con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9",
                                               "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9", "index"};
    std::string out;
    for (const char c : id.substr(0, 60)) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || c == '-' || c == '_' || (c == '.' && !out.empty());
        out += plain ? c : '_';
    }
    // Ids that differ in case alone are one student, so that a file system that does not tell A from a does no harm.
    const bool sound = out == id && !out.empty() && out.back() != '.' && devices.count(keyOf(out.substr(0, out.find('.')))) == 0;
    return sound ? out : out + fmt::format("-{:016x}", hashOf(keyOf(id)));
}

}  // namespace linefall
