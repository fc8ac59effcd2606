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
    std::cout << fmt::format("{} lessons, {} minutes. linefall lesson run ID --student YOU\n", all.size(), minutes);
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

std::string answerText(const RawAnswer& answer) {
    std::string out = answer.text;
    for (const PicturePlace& place : answer.points) out += fmt::format("{}{:.1f},{:.1f}", out.empty() ? "" : " ", place.sample, place.line);
    for (const auto& [key, value] : answer.settings) out += (out.empty() ? "" : "; ") + key + " = " + value;
    return out;
}

}  // namespace

int runLessonTry(const LessonOptions& options) {
    const Lesson lesson = readLesson(resolveLesson(options.lesson));
    int wrong = 0;
    for (int variant = 0; variant < std::max(lesson.variants.count(), 1); ++variant) {
        if (options.variant > 0 ? variant + 1 != options.variant : lesson.variants.dropped(variant)) continue;
        Truths truths(lesson, variant, options.threads);
        std::cout << "variant " << variant + 1 << "\n";
        for (const Played& played : playVariant(truths)) {
            std::cout << fmt::format("  {:<14}{:<34}{:<28}{:>6}  {}\n", played.part, played.played, answerText(played.answer), figuresText(played.verdict.share, 3), played.verdict.rule);
            if (!played.verdict.message.empty()) std::cout << "      " << played.verdict.message << "\n";
            if (!played.problem.empty()) std::cout << "      PROBLEM: " << played.problem << "\n", ++wrong;
        }
    }
    std::cout << fmt::format("{} problem{}\n", wrong, wrong == 1 ? "" : "s");
    return wrong == 0 ? 0 : 2;
}

}  // namespace linefall
