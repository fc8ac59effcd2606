#include "marking/marks.h"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <new>
#include <optional>

#include "base/problem.h"
#include "marking/feedback_page.h"

namespace linefall {

namespace {

/// What all students of a lesson share: the parts, and each with other tolerances.
struct Sheet {
    explicit Sheet(const Lesson& read) : lesson(read), parts(partsOf(read)) {
        for (const auto& [step, part] : parts) {
            std::vector<Part> scaled;
            const bool tolerant = part->kind == Part::Kind::number || part->kind == Part::Kind::point || part->kind == Part::Kind::line;
            if (tolerant && part->tolerance.given()) {
                try {
                    for (const double factor : tolerance_factors) scaled.push_back(withTolerance(*part, factor));
                } catch (const ExpressionError&) {
                    scaled.clear();  // a formula at the limit of its length: no table for this part
                }
            }
            with_tolerance.push_back(std::move(scaled));
        }
    }
    const Lesson& lesson;
    std::vector<std::pair<const Step*, const Part*>> parts;
    std::vector<std::vector<Part>> with_tolerance;  ///< one a factor; empty where there is none
};

/// One variant: its truths, and what is worked out from them once for all its students.
class VariantDesk {
public:
    VariantDesk(const Sheet& sheet, int variant) : sheet_(sheet), truths_(sheet.lesson, variant, 1), known_(sheet.parts.size()) {}

    void mark(const HandedIn& handed, MarkedStudent& out) {
        const Score score = linefall::score(handed.answers, truths_);
        if (score.parts.size() != sheet_.parts.size()) throw std::runtime_error("the score has other parts than the lesson");
        out.id = handed.id;
        out.name = handed.name;
        out.file = handed.file;
        out.variant = handed.variant;
        out.points = score.points;
        out.most = score.most;
        for (std::size_t i = 0; i < sheet_.parts.size(); ++i) out.parts.push_back(part(i, handed.answers, score.parts[i]));
        out.page = feedbackPage(out, handed.answers, truths_);
    }

private:
    /// Of a part in this variant.
    struct Known {
        std::string truth, tolerance;
        std::vector<std::pair<std::string, double>> named;
        std::vector<std::pair<std::string, PicturePlace>> points;
    };

    const Known& known(std::size_t i) {
        if (known_[i]) return *known_[i];
        const auto& [step, part] = sheet_.parts[i];
        Known known;
        known.truth = truthText(*part, *step, truths_);
        const std::string& scene = sceneOf(*part, *step);
        const UnitOfText* unit = findUnit(part->unit);
        if (part->kind == Part::Kind::number && unit != nullptr) {
            known.tolerance = textIn(*unit, truths_.evaluate(part->tolerance, scene).value + unit->offset * unit->scale, 2);
            for (const NamedWrong& wrong : part->wrong) {
                if (wrong.value.given()) known.named.emplace_back(wrong.name, inUnit(*unit, truths_.evaluate(wrong.value, scene).value));
            }
        } else if (part->tolerance.given()) {
            known.tolerance = fmt::format("{:.3g} pixels", truths_.evaluate(part->tolerance, scene).value);
        }
        if (part->kind == Part::Kind::point) {
            for (const LessonPoint& point : sheet_.lesson.points) {
                try {
                    known.points.emplace_back(point.name, truths_.place(point.name, scene, part->instrument));
                } catch (const InputError&) {
                    continue;  // not in this picture: nothing can be near it
                }
            }
        }
        known_[i] = std::move(known);
        return *known_[i];
    }

    static double inUnit(const UnitOfText& unit, double core) { return core / unit.scale - unit.offset; }

    MarkedPart part(std::size_t i, const Answers& answers, const PartScore& score) {
        const auto& [step, part] = sheet_.parts[i];
        const Known& of_variant = known(i);
        const RawAnswer* answer = answers.counted(sheet_.lesson, part->id);
        MarkedPart out;
        out.score = score;
        out.answer = answerText(*part, answer);
        out.truth = of_variant.truth;
        out.tolerance = of_variant.tolerance;
        out.given = answer != nullptr;
        if (const auto at = answers.parts.find(part->id); at != answers.parts.end()) {
            out.attempts = static_cast<int>(at->second.attempts.size());
            out.hints = at->second.hints;
            out.confidence = at->second.confidence;
        }
        const Verdict& verdict = score.verdict;
        const UnitOfText* unit = findUnit(part->unit);
        if (part->kind == Part::Kind::number && unit != nullptr && verdict.read && verdict.truth && verdict.tolerance) {
            out.number = true;
            out.value = inUnit(*unit, verdict.read->value);
            out.truth_value = inUnit(*unit, verdict.truth->value);
            out.tolerance_value = verdict.tolerance->value / unit->scale;
            if (!verdict.right()) out.named = of_variant.named;
        }
        if (part->kind == Part::Kind::point && answer != nullptr && verdict.rule == "other" && !answer->points.empty()) out.near_point = nearPoint(of_variant, answer->points.front());
        const std::vector<Part>& scaled = sheet_.with_tolerance[i];
        out.tolerant = !scaled.empty();
        for (std::size_t k = 0; k < scaled.size() && answer != nullptr; ++k) {
            out.right_at[k] = judge(scaled[k], *step, answer, truths_, &answers).right();
        }
        return out;
    }

    /// The lesson's own point within five pixels, if any.
    static std::string nearPoint(const Known& known, const PicturePlace& place) {
        std::string name;
        double nearest = 5.0;
        for (const auto& [point, at] : known.points) {
            const double off = std::hypot(at.sample - place.sample, at.line - place.line);
            if (off > nearest) continue;
            nearest = off;
            name = point;
        }
        return name;
    }

    const Sheet& sheet_;
    Truths truths_;
    std::vector<std::optional<Known>> known_;
};

std::string whyNot(const std::exception& e) {
    const auto* input = dynamic_cast<const InputError*>(&e);
    const std::string why = input != nullptr && !input->problems().empty() ? input->problems().front().text() : e.what();
    return why.empty() ? "a fault without words" : why;
}

}  // namespace

Marks markAll(const Lesson& lesson, HandIns hand_ins, int threads, const Cancel* cancel) {
    const Sheet sheet(lesson);
    std::map<int, std::vector<std::size_t>> by_variant;
    for (std::size_t i = 0; i < hand_ins.marked.size(); ++i) by_variant[hand_ins.marked[i].variant].push_back(i);
    std::vector<const std::vector<std::size_t>*> groups;
    for (const auto& [variant, students] : by_variant) groups.push_back(&students);

    std::vector<MarkedStudent> students(hand_ins.marked.size());
    std::vector<std::string> faults(hand_ins.marked.size());
    const auto work = [&](int g) {
        const std::vector<std::size_t>& group = *groups[static_cast<std::size_t>(g)];
        std::optional<VariantDesk> desk;
        std::string no_desk;
        for (const std::size_t i : group) {
            if (cancel != nullptr && cancel->load()) return;
            try {
                if (!desk && no_desk.empty()) desk.emplace(sheet, hand_ins.marked[i].variant);
                if (desk) desk->mark(hand_ins.marked[i], students[i]);
                else faults[i] = no_desk;
            } catch (const std::bad_alloc&) {
                faults[i] = "not enough memory";
            } catch (const std::exception& e) {
                faults[i] = whyNot(e);
            }
            if (!desk && no_desk.empty()) no_desk = faults[i];
        }
    };
    Marks out;
    out.complete = parallelFor(static_cast<int>(groups.size()), threads, work, cancel);
    out.files = hand_ins.files;
    out.notices = std::move(hand_ins.notices);
    for (std::size_t i = 0; i < students.size(); ++i) {
        const HandedIn& handed = hand_ins.marked[i];
        if (faults[i].empty()) out.students.push_back(std::move(students[i]));
        else out.notices.push_back({handed.file, handed.id, "not marked", fmt::format("variant {}: {}", handed.variant + 1, faults[i]), false});
    }
    return out;
}

}  // namespace linefall
