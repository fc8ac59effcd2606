// Any text as a lesson, an answer file, a number as a student writes it, or an expression: something sound or an InputError
// (an ExpressionError for an expression). What is sound is also used: texts are filled, answers written and read back.

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "lesson/answer.h"
#include "lesson/lesson.h"
#include "lesson/variant.h"

using namespace linefall;

namespace {

constexpr std::size_t most_bytes = 16384;

void demand(bool holds) {
    if (!holds) std::abort();
}

void tellsWhy(const InputError& error) {
    demand(!error.problems().empty());
    for (const Problem& problem : error.problems()) demand(!problem.text().empty());
}

void asLesson(const std::string& text) {
    try {
        const Lesson lesson = readLessonText(text, "/nowhere/fuzz");
        demand(!lesson.steps.empty());
        demand(lesson.mostPoints() >= 0.0);
        const int variant = variantOf(lesson, text.substr(0, 40));
        demand(variant >= 0 && variant < std::max(1, lesson.variants.count()));
        (void)givensOf(lesson, variant);
        for (const Step& step : lesson.steps) {
            for (const StepItem& item : step.items) {
                (void)plainText(item.prose);
                (void)htmlText(item.prose, [](const std::string&, const std::string& alt) { return escapedHtml(alt); });
                (void)filled(item.prose, [](const std::string& name) { return "[" + name + "]"; });
            }
        }
    } catch (const InputError& error) {
        tellsWhy(error);
    }
}

void asAnswers(const std::string& text) {
    try {
        const Answers answers = readAnswers(text, "fuzz.toml");
        const std::string once = answersText(answers);
        demand(answersText(readAnswers(once, "again.toml")) == once);
    } catch (const InputError& error) {
        tellsWhy(error);
    }
}

void asNumber(const std::string& text) {
    const ReadNumber number = readNumber(text);
    if (!number.ok()) return;
    demand(std::isfinite(number.number));
    demand(std::isfinite(number.amount(*findUnit("")).value));
}

void asExpression(const std::string& text) {
    try {
        const Expression expression(text);
        (void)expression.names();
        const Amount value = expression.evaluate([](const std::string& name) {
            return name.size() % 2 == 0 ? Amount{2.5, Dimension::of(Kind::length)} : Amount{0.3, Dimension::of(Kind::angle)};
        });
        demand(std::isfinite(value.value));
    } catch (const ExpressionError& error) {
        demand(std::string(error.what()) != "" && error.offset <= text.size());
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size > most_bytes) return -1;
    const std::string text(reinterpret_cast<const char*>(data), size);
    asNumber(text);
    asExpression(text);
    asAnswers(text);
    asLesson(text);
    return 0;
}
