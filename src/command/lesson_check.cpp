// For authors: is a lesson sound, how does it judge, what are its variants?

#include <fmt/format.h>

#include <iostream>

#include "command/json_text.h"
#include "command/lesson.h"
#include "lesson/play.h"

namespace linefall {

using nlohmann::ordered_json;

int runLessonList(const LessonOptions& options) {
    const std::vector<Catalogued> all = listLessons(options.lesson.empty() ? lessonsFolder() : options.lesson);
    if (options.json) {
        ordered_json list = ordered_json::array();
        for (const Catalogued& one : all)
            list.push_back({{"id", one.id}, {"number", one.number}, {"title", one.title}, {"outcome", one.outcome}, {"level", one.level}, {"topic", one.topic}, {"minutes", one.minutes}, {"builds_on", one.builds_on}, {"problem", one.problem}});
        std::cout << jsonText(list);
        return 0;
    }
    int minutes = 0;
    for (const Catalogued& one : all) {
        if (!one.problem.empty()) {
            std::cout << fmt::format("{:>3} {}\n      cannot be read: {}\n", one.number, one.id, one.problem);
            continue;
        }
        std::cout << fmt::format("{:>3} {} ({})\n      {}\n      {}, {}, {} minutes", one.number, one.title, one.id, one.outcome, one.level, one.topic, one.minutes);
        for (std::size_t i = 0; i < one.builds_on.size(); ++i) std::cout << (i == 0 ? "; builds on " : ", ") << one.builds_on[i];
        std::cout << "\n";
        minutes += one.minutes;
    }
    std::cout << fmt::format("{} lessons, {} minutes. To take one: linefall lesson run ID --student NAME\n", all.size(), minutes);
    return 0;
}

int runLessonCheck(const LessonOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    const LessonCheck check = checkLesson(lesson, options.threads);
    for (const Problem& problem : check.problems) std::cerr << problem.text() << "\n";
    for (const std::string& remark : check.remarks) std::cout << "to look at: " << remark << "\n";
    std::cout << fmt::format("{}: {} variants, {} answers played, {} problem{}\n", lesson.id, lesson.variants.count(), check.played, check.problems.size(), check.problems.size() == 1 ? "" : "s");
    return check.problems.empty() ? 0 : 2;
}

namespace {

/// As a student would write it: places count from the middle of the first pixel, and a number that was worked out has the
/// figures that its tolerance deserves.
std::string answerText(const Part& part, const Played& played) {
    const Verdict& verdict = played.verdict;
    const UnitOfText* unit = findUnit(part.unit);
    const bool worked_out = played.played == "right" || played.played.rfind("wrong ", 0) == 0;
    if (worked_out && part.kind == Part::Kind::number && unit != nullptr && verdict.read && verdict.tolerance) return textWithin(*unit, verdict.read->value, verdict.tolerance->value);
    std::string out = played.answer.text;
    for (const PicturePlace& place : played.answer.points) out += fmt::format("{}{:.1f},{:.1f}", out.empty() ? "" : " ", place.sample - 0.5, place.line - 0.5);
    for (const auto& [key, value] : played.answer.settings) out += (out.empty() ? "" : "; ") + key + " = " + value;
    return out;
}

/// Words as lines of the terminal's width, each `by` blanks from the edge.
std::string indented(const std::string& words, std::size_t by) {
    Prose paragraph, piece;
    piece.kind = Prose::Kind::text;
    piece.text = words;
    paragraph.parts.push_back(piece);
    const std::string blanks(by, ' ');
    std::string out = blanks;
    for (const char c : plainText({paragraph}, 100 - static_cast<int>(by))) out += c == '\n' ? "\n" + blanks : std::string(1, c);
    return out.substr(0, out.find_last_not_of(' ') + 1);
}

/// What a verdict's rule means, where its word, as the tests of a lesson write it, does not say it.
std::string ruleWords(const std::string& rule) {
    if (rule == "follow") return " (it follows from an earlier answer)";
    if (rule == "unit") return " (the right number with another unit, or with none)";
    if (rule == "other") return " (neither right nor a named mistake)";
    if (rule == "unreadable") return " (the student is asked again)";
    return "";
}

}  // namespace

int runLessonTry(const LessonOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    int wrong = 0;
    for (int variant = 0; variant < std::max(lesson.variants.count(), 1); ++variant) {
        if (options.variant > 0 ? variant + 1 != options.variant : lesson.variants.dropped(variant)) continue;
        Truths truths(lesson, variant, options.threads);
        std::cout << "variant " << variant + 1 << "\n";
        std::string part;
        for (const Played& played : playVariant(truths)) {
            if (played.part != part) std::cout << "  " << played.part << "\n";
            part = played.part;
            std::cout << fmt::format("    {}: {}\n", played.played, answerText(*lesson.findPart(part), played));
            std::cout << fmt::format("      judged {}{}, earns {}\n", played.verdict.rule, ruleWords(played.verdict.rule), fmt::format("{:.3g}", played.verdict.share));
            if (!played.verdict.message.empty()) std::cout << indented("\"" + played.verdict.message + "\"", 6);
            if (!played.problem.empty()) std::cout << "      problem: " << played.problem << "\n", ++wrong;
        }
    }
    std::cout << fmt::format("{} problem{}\n", wrong, wrong == 1 ? "" : "s");
    return wrong == 0 ? 0 : 2;
}

}  // namespace linefall
