#include "lesson/play.h"

#include <algorithm>
#include <cmath>

#include "lesson/flown.h"
#include "lesson/variant.h"
#include "scene/givens.h"

namespace linefall {

namespace {

std::string letterOf(std::size_t index) { return std::string(1, static_cast<char>('a' + index)); }

std::string sceneOf(const Part& part, const Step& step) { return part.scene.empty() ? step.scene : part.scene; }

std::string written(const UnitOfText& unit, double core_value) { return textIn(unit, core_value, 12); }

/// Settings as a student would write them, {given} names filled in.
std::map<std::string, std::string> tableOf(const std::vector<std::pair<std::string, std::string>>& pairs, const Truths& truths) {
    std::map<std::string, std::string> table;
    for (const auto& [key, value] : pairs) table[key] = withGivens(value, givensOf(truths.lesson(), truths.variant()));
    return table;
}

/// Right places, a hair inside.
RawAnswer placed(const std::vector<std::string>& points, const Part& part, const std::string& scene, Truths& truths) {
    RawAnswer answer;
    for (const std::string& point : points) answer.points.push_back(truths.place(point, scene, part.instrument));
    return answer;
}

void expect(bool holds, Played& played, const std::string& what) {
    if (!holds && played.problem.empty()) played.problem = what;
}

class Player {
public:
    Player(Truths& truths, std::vector<Played>& out) : truths_(truths), out_(out) {}

    void play(const Part& part, const Step& step) {
        if (part.kind == Part::Kind::because) return;
        const bool opinion = part.kind == Part::Kind::choice && std::none_of(part.options.begin(), part.options.end(), [](const ChoiceOption& o) { return o.when.given(); });
        if (opinion) return;
        {
            Played& p = begin(part, "right", rightAnswer(part, step, truths_));
            p.verdict = judge(part, step, &p.answer, truths_);
            expect(p.verdict.rule == "right" && p.verdict.share == 1.0, p, "the right answer earns " + figuresText(p.verdict.share, 3) + " by the rule '" + p.verdict.rule + "'" + (p.verdict.message.empty() ? "" : ": " + p.verdict.message));
        }
        for (const std::string& name : mistakesOf(part)) {
            const auto answer = wrongAnswer(part, step, truths_, name);
            if (!answer) continue;
            Played& p = begin(part, "wrong " + name, *answer);
            p.verdict = judge(part, step, &p.answer, truths_);
            double share = 0.0;
            for (const NamedWrong& wrong : part.wrong) share = wrong.name == name ? wrong.share : share;
            for (const ChoiceOption& option : part.options) share = option.name == name ? option.share : share;
            if (part.kind == Part::Kind::choice && p.verdict.rule == "right") {
                out_.pop_back();  // in this variant that option is the right one
                continue;
            }
            expect(p.verdict.rule == p.played, p, "is taken for '" + p.verdict.rule + "': the two lie within the tolerance of each other");
            expect(part.kind == Part::Kind::plan || p.verdict.share == share, p, "earns " + figuresText(p.verdict.share, 3) + " instead of " + figuresText(share, 3));
            expect(!p.verdict.message.empty(), p, "has no message");
        }
        for (const RawAnswer& answer : nonsense(part)) {
            Played& p = begin(part, "nonsense", answer);
            p.verdict = judge(part, step, &p.answer, truths_);
            expect(p.verdict.share <= 0.0, p, "earns " + figuresText(p.verdict.share, 3));
        }
    }

    void test(const LessonTest& test) {
        Answers answers;
        std::map<std::string, RawAnswer> given;
        for (const LessonTest::Expected& one : test.expected) {
            const Step* step = nullptr;
            const Part* part = find(one.part, step);
            if (part == nullptr || one.answer.empty()) continue;
            RawAnswer answer;
            if (one.answer == "right") answer = rightAnswer(*part, *step, truths_);
            else if (one.answer == "nonsense") answer = nonsense(*part).front();
            else if (one.answer.rfind("wrong ", 0) == 0) answer = wrongAnswer(*part, *step, truths_, one.answer.substr(6)).value_or(RawAnswer{});
            else answer.text = one.answer;
            answers.parts[one.part].attempts.push_back(answer);
        }
        for (const LessonTest::Expected& one : test.expected) {
            const Step* step = nullptr;
            const Part* part = find(one.part, step);
            const auto& attempts = answers.parts[one.part].attempts;
            if (part == nullptr || attempts.empty()) continue;
            Played& p = begin(*part, "test " + test.name, attempts.back());
            p.place = test.place;
            p.verdict = judge(*part, *step, &p.answer, truths_, &answers);
            expect(one.rule.empty() || p.verdict.rule == one.rule, p, "'" + one.answer + "' is judged '" + p.verdict.rule + "' instead of '" + one.rule + "'");
            expect(!one.share || std::abs(p.verdict.share - *one.share) < 1e-9, p, "'" + one.answer + "' earns " + figuresText(p.verdict.share, 3) + " instead of " + figuresText(one.share.value_or(0.0), 3));
        }
    }

private:
    Played& begin(const Part& part, const std::string& what, RawAnswer answer) {
        Played p;
        p.variant = truths_.variant() + 1;
        p.part = part.id;
        p.played = what;
        p.answer = std::move(answer);
        p.place = part.place;
        out_.push_back(std::move(p));
        return out_.back();
    }
    const Part* find(const std::string& id, const Step*& step) {
        for (const Step& one : truths_.lesson().steps) {
            for (const Part& part : one.parts) {
                if (part.id == id) return step = &one, &part;
            }
        }
        return nullptr;
    }

    Truths& truths_;
    std::vector<Played>& out_;
};

}  // namespace

std::vector<std::string> mistakesOf(const Part& part) {
    std::vector<std::string> names;
    for (const NamedWrong& wrong : part.wrong) names.push_back(wrong.name);
    for (const ChoiceOption& option : part.options) {
        if (!option.name.empty()) names.push_back(option.name);
    }
    return names;
}

RawAnswer rightAnswer(const Part& part, const Step& step, Truths& truths) {
    const std::string scene = sceneOf(part, step);
    RawAnswer answer;
    switch (part.kind) {
        case Part::Kind::choice: {
            std::string letters;
            for (std::size_t i = 0; i < part.options.size(); ++i) {
                if (part.options[i].when.given() && truths.holds(part.options[i].when, scene)) letters += letterOf(i);
            }
            const bool opinion = std::none_of(part.options.begin(), part.options.end(), [](const ChoiceOption& o) { return o.when.given(); });
            if (opinion) letters = "a";
            if (letters.size() != 1)
                throw InputError(Problem{part.place, part.id, "variant " + std::to_string(truths.variant() + 1) + ": " + (letters.empty() ? "no option is right" : "options " + letters + " are right"),
                                         "exactly one option whose 'when' holds", ""});
            answer.text = letters;
            break;
        }
        case Part::Kind::number: {
            const UnitOfText& unit = *findUnit(part.unit);
            answer.text = written(unit, truths.evaluate(part.truth, scene).value);
            break;
        }
        case Part::Kind::point:
        case Part::Kind::line: return placed(part.truth_points, part, scene, truths);
        case Part::Kind::match:
            for (const WantedSetting& wanted : part.settings) {
                int instrument = 0;
                const Parameter* row = findLessonKey(truths.scene(scene), wanted.key, instrument);
                if (row == nullptr) throw InputError(Problem{part.place, part.id, "'" + wanted.key + "'", "a declared key of this scene", ""});
                answer.settings[wanted.key] = exactText(settingAmount(truths.scene(scene), *row, instrument).value, row->kind);
            }
            break;
        case Part::Kind::because: answer.text = "because the light says so"; break;
        case Part::Kind::plan: answer.settings = tableOf(part.solution, truths); break;
    }
    return answer;
}

std::optional<RawAnswer> wrongAnswer(const Part& part, const Step& step, Truths& truths, const std::string& name) {
    const std::string scene = sceneOf(part, step);
    RawAnswer answer;
    for (std::size_t i = 0; i < part.options.size(); ++i) {
        if (part.options[i].name == name) return answer.text = letterOf(i), answer;
    }
    for (const NamedWrong& wrong : part.wrong) {
        if (wrong.name != name) continue;
        if (part.kind == Part::Kind::number) answer.text = written(*findUnit(part.unit), truths.evaluate(wrong.value, scene).value);
        else if (part.kind == Part::Kind::plan) answer.settings = tableOf(wrong.settings, truths);
        else return placed(wrong.points, part, scene, truths);
        if (part.kind == Part::Kind::plan && wrong.settings.empty()) return std::nullopt;
        return answer;
    }
    return std::nullopt;
}

std::vector<RawAnswer> nonsense(const Part& part) {
    const auto text = [](const char* words) {
        RawAnswer answer;
        answer.text = words;
        return answer;
    };
    switch (part.kind) {
        case Part::Kind::choice: return {text("z"), text("all of them"), text("42")};
        case Part::Kind::number: return {text("purple"), text("-7.7e33"), text("1e999"), text("12 bananas"), text("= 1 + 1")};
        case Part::Kind::point:
        case Part::Kind::line: {
            RawAnswer away;
            away.points.assign(part.truth_points.size(), PicturePlace{-900.0, 9e5});
            return {away, text("over there")};
        }
        case Part::Kind::match:
        case Part::Kind::plan: {
            RawAnswer odd;
            odd.settings = {{part.settings.front().key, "purple"}};
            return {odd};
        }
        case Part::Kind::because: return {};
    }
    return {};
}

Answers rightAnswers(Truths& truths, const std::string& student) {
    const Lesson& lesson = truths.lesson();
    Answers answers;
    answers.lesson = lesson.id;
    answers.version = lesson.version;
    answers.fingerprint = lesson.fingerprint;
    answers.program = LINEFALL_VERSION;
    answers.student = student;
    answers.variant = truths.variant() + 1;
    answers.salt = lesson.variants.salt;
    answers.step = answers.opened = static_cast<int>(lesson.steps.size()) - 1;
    for (const Step& step : lesson.steps) {
        for (const Part& part : step.parts) answers.parts[part.id].attempts.push_back(rightAnswer(part, step, truths));
    }
    return answers;
}

std::vector<Played> playPart(const Part& part, const Step& step, Truths& truths) {
    std::vector<Played> out;
    Player(truths, out).play(part, step);
    return out;
}

std::vector<Played> playTest(const LessonTest& test, Truths& truths) {
    std::vector<Played> out;
    if (test.variant == 0 || test.variant == truths.variant() + 1) Player(truths, out).test(test);
    return out;
}

std::vector<Played> playVariant(Truths& truths) {
    std::vector<Played> all;
    const auto take = [&](const std::vector<Played>& played) { all.insert(all.end(), played.begin(), played.end()); };
    for (const Step& step : truths.lesson().steps) {
        for (const Part& part : step.parts) take(playPart(part, step, truths));
    }
    for (const LessonTest& test : truths.lesson().tests) take(playTest(test, truths));
    return all;
}

VariantTruth truthOf(const Part& part, const Step& step, Truths& truths) {
    const std::string scene = sceneOf(part, step);
    VariantTruth one;
    one.part = part.id;
    one.unit = part.unit;
    one.truth = truths.evaluate(part.truth, scene);
    one.tolerance = truths.evaluate(part.tolerance, scene);
    if (part.formula.given()) one.formula = truths.evaluate(part.formula, scene);
    for (const NamedWrong& wrong : part.wrong) {
        const double off = std::abs(truths.evaluate(wrong.value, scene).value - one.truth.value) / one.tolerance.value;
        if (one.nearest_wrong.empty() || off < one.nearest_off) one.nearest_wrong = wrong.name, one.nearest_off = off;
    }
    return one;
}

std::vector<VariantTruth> variantTruths(Truths& truths) {
    std::vector<VariantTruth> all;
    for (const Step& step : truths.lesson().steps) {
        for (const Part& part : step.parts) {
            if (part.kind == Part::Kind::number) all.push_back(truthOf(part, step, truths));
        }
    }
    return all;
}

}  // namespace linefall
