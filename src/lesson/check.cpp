// All that is wrong with a lesson: every variant flown, filled, compared and played.

#include <algorithm>
#include <map>

#include "lesson/difficulty.h"
#include "scene/toml_reader.h"

namespace linefall {

namespace {

/// "in all 24 variants", "in 3 of 24 variants: 2, 5, 9"; nothing for a single one, which a message names itself.
std::string among(const std::vector<int>& variants, int flown) {
    constexpr std::size_t most_listed = 12;
    if (variants.size() < 2) return "";
    if (static_cast<int>(variants.size()) == flown) return "in all " + std::to_string(flown) + " variants";
    std::string out = "in " + std::to_string(variants.size()) + " of " + std::to_string(flown) + " variants";
    for (std::size_t i = 0; i < variants.size() && variants.size() <= most_listed; ++i) out += (i == 0 ? ": " : ", ") + std::to_string(variants[i]);
    return out;
}

/// Problems and remarks, each told once, as the first variant has it, with the variants that share it.
class Collected {
public:
    void begin(int variant) { variant_ = variant, ++flown_; }
    [[nodiscard]] int flown() const { return flown_; }
    [[nodiscard]] bool full() const { return enough(problems_); }

    /// `same`: what two problems have in common where their numbers differ.
    void add(const Problem& problem, const std::string& same = "") {
        std::vector<int>* variants = slot(problem.place.text() + '\n' + problem.key + '\n' + (same.empty() ? problem.expected : same), problems_.size(), !enough(problems_));
        if (variants != nullptr && variants->empty()) problems_.push_back(problem);
        if (variants != nullptr) count(*variants);
    }
    void remark(const std::string& text, const std::string& same) {
        std::vector<int>* variants = slot("remark " + same, remarks_.size(), true);
        if (variants->empty()) remarks_.push_back(text);
        count(*variants);
    }
    void tell(LessonCheck& check) {
        for (const auto& [key, told] : told_) {
            const std::string where = among(told.variants, flown_);
            if (where.empty()) continue;
            if (key.rfind("remark ", 0) == 0) remarks_[told.index] += " (" + where + ")";
            else problems_[told.index].expected += " (" + where + ")";
        }
        check.problems = std::move(problems_);
        check.remarks = std::move(remarks_);
    }

    template <class Work>
    void run(Work work) {
        try {
            work();
        } catch (const InputError& error) {
            for (const Problem& problem : error.problems()) add(problem);
        } catch (const std::runtime_error& error) {
            add({{"", 0, 0}, "", error.what(), "a lesson that can be flown", ""}, error.what());
        }
    }

private:
    struct Told {
        std::size_t index = 0;
        std::vector<int> variants;
    };
    std::vector<int>* slot(const std::string& key, std::size_t next, bool room) {
        const auto found = told_.find(key);
        if (found != told_.end()) return &found->second.variants;
        return room ? &told_.emplace(key, Told{next, {}}).first->second.variants : nullptr;
    }
    void count(std::vector<int>& variants) const {
        if (variants.empty() || variants.back() != variant_) variants.push_back(variant_);
    }

    Problems problems_;
    std::vector<std::string> remarks_;
    std::map<std::string, Told> told_;
    int variant_ = 0, flown_ = 0;
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

void compareFormula(const VariantTruth& one, Truths& truths, Collected& collected) {
    const Part& part = *truths.lesson().findPart(one.part);
    const UnitOfText& unit = *findUnit(part.unit);
    const std::string variant = "variant " + std::to_string(truths.variant() + 1) + ": ";
    if (!(one.tolerance.value > 0.0)) collected.add({part.tolerance.place, one.part, variant + "a tolerance of " + textOf(one.tolerance), "a tolerance above 0", ""});
    if (!one.formula || within(one.formula->value, one.truth.value, 0.5 * one.tolerance.value)) return;
    const auto fine = [&](const Amount& amount) { return amount.dimension == unit.dimension ? textWithin(unit, amount.value, one.tolerance.value) : textOf(amount); };
    collected.add({part.formula.place, one.part, variant + "the formula gives " + fine(*one.formula) + ", the simulation " + fine(one.truth),
                   "the same within half the tolerance, " + textOf({0.5 * one.tolerance.value, one.tolerance.dimension}, 2), ""},
                  "formula");
}

/// Compares and plays question by question, so that one that cannot be asked hides nothing of the others. Gives the numbers'
/// truths; fewer than there are numbers where one cannot be read.
std::vector<VariantTruth> playAll(Truths& truths, Collected& collected, int& count) {
    std::vector<VariantTruth> known;
    const auto take = [&](const std::vector<Played>& all) {
        for (const Played& played : all) {
            ++count;
            if (played.problem.empty()) continue;
            collected.add({played.place, played.part, "variant " + std::to_string(played.variant) + ": " + played.played + " " + played.problem, "right answers that earn all, named wrong ones that are told apart, nonsense that earns nothing", ""},
                          "played " + played.played);
        }
    };
    for (const Step& step : truths.lesson().steps) {
        for (const Part& part : step.parts) {
            collected.run([&] {
                if (part.kind == Part::Kind::number) {
                    known.push_back(truthOf(part, step, truths));
                    compareFormula(known.back(), truths, collected);
                }
                take(playPart(part, step, truths));
            });
        }
    }
    for (const LessonTest& test : truths.lesson().tests) collected.run([&] { take(playTest(test, truths)); });
    return known;
}

/// A measure on the ground reads whatever the look meets: a point that something hides is not what is read.
void findHidden(Truths& truths, Collected& collected) {
    for (const LessonMeasure& measure : truths.lesson().measures) {
        if (measure.of != "ground distance" && measure.of != "straight distance" && measure.of != "height difference") continue;
        for (const std::string& point : measure.points) {
            const std::string by = truths.hiddenBy(point, measure.scene, measure.instrument);
            if (!by.empty()) collected.remark("measure " + measure.name + ", variant " + std::to_string(truths.variant() + 1) + ": point " + point + " is hidden by " + by + ", so another place is read", measure.name + "\n" + point);
        }
    }
}

void remark(const Lesson& lesson, std::vector<std::string>& remarks) {
    const std::vector<const Part*> parts = lesson.parts();
    const auto any = [&](Part::Kind kind) { return std::any_of(parts.begin(), parts.end(), [&](const Part* p) { return p->kind == kind; }); };
    const auto step = [&](StepKind kind) { return std::any_of(lesson.steps.begin(), lesson.steps.end(), [&](const Step& s) { return s.kind == kind; }); };
    const int kept = lesson.variants.count() - static_cast<int>(lesson.variants.drop.size());
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

void standOut(const Lesson& lesson, const std::vector<VariantDifficulty>& all, std::vector<std::string>& remarks) {
    // A reason that several variants share is told once; of a mistake that lies near in several, the nearest.
    struct Reason {
        std::string key, text;
        double nearest = 0.0;
        std::vector<int> variants;
    };
    std::vector<Reason> reasons;
    for (const VariantDifficulty& one : all) {
        for (const std::string& why : one.remarks) {
            const bool mistake = why.rfind("the mistake ", 0) == 0;
            const std::string key = mistake ? one.nearest_name : why;
            auto reason = std::find_if(reasons.begin(), reasons.end(), [&](const Reason& r) { return r.key == key; });
            if (reason == reasons.end()) reason = reasons.insert(reasons.end(), Reason{key, why, one.nearest, {}});
            else if (mistake && one.nearest < reason->nearest) reason->text = why, reason->nearest = one.nearest;
            reason->variants.push_back(one.variant);
        }
    }
    constexpr std::size_t most_told = 8;
    for (std::size_t i = 0; i < std::min(reasons.size(), most_told); ++i) {
        std::string numbers;
        for (const int variant : reasons[i].variants) numbers += (numbers.empty() ? " " : ", ") + std::to_string(variant);
        remarks.push_back((reasons[i].variants.size() > 1 ? "variants" + numbers + " stand out: " : "variant" + numbers + " stands out: ") + reasons[i].text);
    }
    if (reasons.size() > most_told) remarks.push_back(std::to_string(reasons.size() - most_told) + " more of that kind: linefall lesson variants " + lesson.id + " tells all");
    std::map<std::vector<std::string>, int> seen;
    for (const VariantDifficulty& one : all) {
        const auto [first, fresh] = seen.emplace(lesson.variants.rows.empty() ? std::vector<std::string>{} : lesson.variants.rows[static_cast<std::size_t>(one.variant - 1)], one.variant);
        if (!fresh) remarks.push_back("variants " + std::to_string(first->second) + " and " + std::to_string(one.variant) + " have the same row: two students get the same numbers");
    }
}

}  // namespace

LessonCheck checkLesson(const Lesson& lesson, int threads, const std::function<void(int)>& progress) {
    LessonCheck check;
    Collected collected;
    std::vector<std::vector<VariantTruth>> truths_of;
    std::vector<int> numbers;
    for (int variant = 0; variant < std::max(lesson.variants.count(), 1); ++variant) {
        if (collected.full()) break;
        if (lesson.variants.dropped(variant)) continue;
        collected.begin(variant + 1);
        collected.run([&] {
            Truths truths(lesson, variant, threads);
            for (const LessonScene& scene : lesson.scenes) (void)truths.scene(scene.name);
            fillTexts(truths, collected);
            collected.run([&] { findHidden(truths, collected); });
            truths_of.push_back(playAll(truths, collected, check.played));
            numbers.push_back(variant + 1);
        });
        if (progress) progress(variant + 1);
    }
    const int flown = collected.flown();
    collected.tell(check);
    if (check.problems.empty() && flown > 1) standOut(lesson, difficultiesOf(truths_of, numbers), check.remarks);
    remark(lesson, check.remarks);
    inReadingOrder(check.problems);
    return check;
}

}  // namespace linefall
