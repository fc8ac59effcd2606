// All that is wrong with a lesson: every variant flown, filled, compared and played.

#include <algorithm>
#include <cmath>
#include <set>

#include "lesson/play.h"
#include "scene/toml_reader.h"

namespace linefall {

namespace {

/// Problems, each told once although many variants share it.
class Collected {
public:
    explicit Collected(Problems& problems) : problems_(problems) {}
    void add(const Problem& problem) {
        if (!enough(problems_) && seen_.insert(problem.place.text() + problem.key + problem.expected).second) problems_.push_back(problem);
    }
    template <class Work>
    void run(Work work) {
        try {
            work();
        } catch (const InputError& error) {
            for (const Problem& problem : error.problems()) add(problem);
        } catch (const std::runtime_error& error) {
            add({{"", 0, 0}, "", error.what(), "a lesson that can be flown", ""});
        }
    }

private:
    Problems& problems_;
    std::set<std::string> seen_;
};

void fillTexts(Truths& truths, Collected& collected) {
    for (const Step& step : truths.lesson().steps) {
        const auto fill = [&](const std::string& text, const std::string& scene, const Place& place) {
            try {
                (void)truths.text(text, scene);
            } catch (const InputError& error) {
                for (Problem problem : error.problems()) {
                    if (problem.place.line == 0) problem.place = place;
                    collected.add(problem);
                }
            }
        };
        fill(step.title, step.scene, step.place);
        for (const StepItem& item : step.items) {
            for (const Prose& block : item.prose) {
                try {
                    (void)truths.text(std::vector<Prose>{block}, step.scene);
                } catch (const InputError& error) {
                    for (Problem problem : error.problems()) {
                        if (problem.place.line == 0) problem.place = {truths.lesson().file, block.line, 1};
                        collected.add(problem);
                    }
                }
            }
        }
        for (const LessonFigure& figure : step.figures) fill(figure.caption, figure.scene.empty() ? step.scene : figure.scene, figure.place);
        for (const Part& part : step.parts) {
            const std::string scene = part.scene.empty() ? step.scene : part.scene;
            for (const std::string* text : {&part.ask, &part.right, &part.otherwise, &part.explain, &part.tolerance_says}) fill(*text, scene, part.place);
            for (const std::string& hint : part.hints) fill(hint, scene, part.place);
            for (const ChoiceOption& option : part.options) fill(option.text, scene, part.place), fill(option.say, scene, part.place);
            for (const NamedWrong& wrong : part.wrong) fill(wrong.say, scene, wrong.place);
        }
    }
}

void compareFormulas(Truths& truths, Collected& collected) {
    for (const VariantTruth& one : variantTruths(truths)) {
        const Part& part = *truths.lesson().findPart(one.part);
        const std::string variant = "variant " + std::to_string(truths.variant() + 1) + ": ";
        if (!(one.tolerance.value > 0.0)) collected.add({part.tolerance.place, one.part, variant + "a tolerance of " + textOf(one.tolerance), "a tolerance above 0", ""});
        if (one.formula && !within(one.formula->value, one.truth.value, 0.5 * one.tolerance.value))
            collected.add({part.formula.place, one.part, variant + "the formula gives " + textOf(*one.formula, 5) + ", the simulation " + textOf(one.truth, 5),
                           "the same within half the tolerance, " + textOf({0.5 * one.tolerance.value, one.tolerance.dimension}, 3), ""});
    }
}

/// A measure on the ground reads whatever the look meets: a point that something hides is not what is read.
void findHidden(Truths& truths, std::vector<std::string>& remarks, std::set<std::string>& told) {
    for (const LessonMeasure& measure : truths.lesson().measures) {
        if (measure.of != "ground distance" && measure.of != "straight distance" && measure.of != "height difference") continue;
        for (const std::string& point : measure.points) {
            const std::string by = truths.hiddenBy(point, measure.scene, measure.instrument);
            if (!by.empty() && told.insert(measure.name + point).second)
                remarks.push_back("measure " + measure.name + ", variant " + std::to_string(truths.variant() + 1) + ": point " + point + " is hidden by " + by + ", so another place is read");
        }
    }
}

void remark(const Lesson& lesson, std::vector<std::string>& remarks) {
    const std::vector<const Part*> parts = lesson.parts();
    const auto any = [&](Part::Kind kind) { return std::any_of(parts.begin(), parts.end(), [&](const Part* p) { return p->kind == kind; }); };
    const auto step = [&](StepKind kind) { return std::any_of(lesson.steps.begin(), lesson.steps.end(), [&](const Step& s) { return s.kind == kind; }); };
    const int kept = lesson.variants.count() - static_cast<int>(lesson.variants.drop.size());
    for (const Step& one : lesson.steps) {
        const std::size_t colon = one.title.find(':');
        if (one.kind == StepKind::read && colon != std::string::npos && one.title.find(' ') > colon)
            remarks.push_back("step '" + one.title + "': '" + one.title.substr(0, colon) + "' is no kind of step, so it is one to read; the kinds are Read, Try first, Predict, Observe, Measure, Explain");
    }
    if (kept < 20) remarks.push_back(std::to_string(std::max(kept, 0)) + " variants: 20 to 40 make neighbours' answers differ");
    if (!any(Part::Kind::because)) remarks.push_back("no 'because': a reason in the student's own words is where understanding shows");
    if (!step(StepKind::predict)) remarks.push_back("no step 'Predict': a demonstration teaches little to whoever did not expect something of it");
    for (const Part* part : parts) {
        if (part->kind == Part::Kind::number && part->wrong.size() < 2) remarks.push_back(part->id + ": fewer than two named wrong answers");
        if (part->kind == Part::Kind::number && part->hints.empty()) remarks.push_back(part->id + ": no hint");
        if (part->kind == Part::Kind::number && part->tolerance_says.empty()) remarks.push_back(part->id + ": the tolerance is not said in words (tolerance_says)");
        if (part->kind == Part::Kind::number && !part->formula.given()) remarks.push_back(part->id + ": no closed formula to check the truth with");
    }
}

}  // namespace

LessonCheck checkLesson(const Lesson& lesson, int threads, const std::function<void(int)>& progress) {
    LessonCheck check;
    Collected collected(check.problems);
    std::set<std::string> told;
    for (int variant = 0; variant < std::max(lesson.variants.count(), 1); ++variant) {
        if (enough(check.problems)) break;
        if (lesson.variants.dropped(variant)) continue;
        collected.run([&] {
            Truths truths(lesson, variant, threads);
            for (const LessonScene& scene : lesson.scenes) (void)truths.scene(scene.name);
            fillTexts(truths, collected);
            findHidden(truths, check.remarks, told);
            compareFormulas(truths, collected);
            for (const Played& played : playVariant(truths)) {
                ++check.played;
                if (!played.problem.empty())
                    collected.add({played.place, played.part, "variant " + std::to_string(played.variant) + ": " + played.played + " " + played.problem, "right answers that earn all, named wrong ones that are told apart, nonsense that earns nothing", ""});
            }
        });
        if (progress) progress(variant + 1);
    }
    remark(lesson, check.remarks);
    inReadingOrder(check.problems);
    return check;
}

}  // namespace linefall
