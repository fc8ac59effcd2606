#include "lesson/judge.h"

#include <algorithm>
#include <cmath>

#include "base/constants.h"
#include "lesson/flown.h"

namespace linefall {

bool within(double value, double truth, double tolerance) {
    // A hair of room for the last digit of what was typed and of what was computed.
    return std::abs(value - truth) <= tolerance * (1.0 + 1e-9) + 1e-12 * std::abs(truth);
}

namespace {

class Judge {
public:
    Judge(const Part& part, const Step& step, const RawAnswer& answer, Truths& truths, const Answers* earlier)
        : part_(part), answer_(answer), truths_(truths), earlier_(earlier), scene_(part.scene.empty() ? step.scene : part.scene) {}

    Verdict give() {
        switch (part_.kind) {
            case Part::Kind::choice: return choice();
            case Part::Kind::number: return number();
            case Part::Kind::point:
            case Part::Kind::line: return places();
            case Part::Kind::match: return match();
            case Part::Kind::plan: return plan();
            case Part::Kind::because: return {0.0, answer_.text.empty() ? "none" : "stored", part_.explain, {}, {}, {}};
        }
        return {};
    }

private:
    std::string say(const std::string& text) { return truths_.text(text, scene_); }
    Verdict right(const std::string& rule = "right", double share = 1.0) { return {share, rule, say(part_.right), {}, {}, {}}; }
    Verdict other() { return {-part_.negative, "other", say(part_.otherwise), {}, {}, {}}; }
    Verdict mistake(const NamedWrong& wrong) { return {wrong.share, "wrong " + wrong.name, say(wrong.say), {}, {}, {}}; }
    static Verdict unreadable(const std::string& why) { return {0.0, "unreadable", why, {}, {}, {}}; }

    Verdict choice() {
        const int count = static_cast<int>(part_.options.size());
        std::string letter;
        for (const char c : answer_.text) {
            if (c != ' ' && c != ')' && c != '.' && c != '(') letter += c;
        }
        if (letter.empty()) return {};
        const char c = letter[0] >= 'A' && letter[0] <= 'Z' ? static_cast<char>(letter[0] - 'A' + 'a') : letter[0];
        if (letter.size() != 1 || c < 'a' || c >= 'a' + count)
            return unreadable("'" + answer_.text.substr(0, 40) + "' is none of the letters a to " + std::string(1, static_cast<char>('a' + count - 1)));
        const ChoiceOption& option = part_.options[static_cast<std::size_t>(c - 'a')];
        const bool opinion = std::none_of(part_.options.begin(), part_.options.end(), [](const ChoiceOption& o) { return o.when.given(); });
        if (opinion) return {0.0, "stored", say(option.say), {}, {}, {}};
        if (option.when.given() && truths_.holds(option.when, scene_)) {
            Verdict verdict = right();
            if (!option.say.empty()) verdict.message = say(option.say) + (verdict.message.empty() ? "" : " " + verdict.message);
            return verdict;
        }
        if (!option.name.empty()) return {option.share, "wrong " + option.name, say(option.say), {}, {}, {}};
        Verdict verdict = other();
        if (!option.say.empty()) verdict.message = say(option.say);
        if (option.share != 0.0) verdict.share = option.share;
        return verdict;
    }

    Amount need(const Formula& formula, const Dimension& dimension, const Stand* stand = nullptr) {
        const Amount amount = truths_.evaluate(formula, scene_, stand);
        if (!(amount.dimension == dimension))
            throw InputError(Problem{formula.place, part_.id, "'" + formula.expression.text() + "' gives " + amount.dimension.text(), dimension.text() + ", as the unit '" + part_.unit + "' says", ""});
        return amount;
    }

    /// The student's own earlier values where a truth follows from them; nothing when there are none.
    std::optional<Stand> stand() {
        if (earlier_ == nullptr || part_.follow.empty()) return std::nullopt;
        Stand own;
        for (const auto& [name, id] : part_.follow) {
            const Part* before = truths_.lesson().findPart(id);
            const RawAnswer* given = before == nullptr ? nullptr : earlier_->counted(truths_.lesson(), id);
            if (given == nullptr) return std::nullopt;
            const ReadNumber read = readNumber(given->text);
            const UnitOfText* unit = findUnit(before->unit);
            if (!read.ok() || unit == nullptr) return std::nullopt;
            const Amount amount = read.amount(*unit);
            own[name] = amount.dimension == unit->dimension ? amount : Amount{(read.number + unit->offset) * unit->scale, unit->dimension};
        }
        return own;
    }

    Verdict number() {
        if (answer_.text.find_first_not_of(" \t\r\n") == std::string::npos) return {};
        const UnitOfText& unit = *findUnit(part_.unit);
        const ReadNumber read = readNumber(answer_.text);
        if (!read.ok()) return unreadable(read.problem);
        const Amount truth = need(part_.truth, unit.dimension), tolerance = need(part_.tolerance, unit.dimension);
        const Amount value = read.amount(unit);
        // A bare number has no unit; where things are counted (pixels, lines, counts) there is none to forget.
        const bool counted = unit.dimension.pure() || unit.dimension == Dimension::of(Dimension::count) || unit.dimension == Dimension::of(Dimension::electron);
        const bool fits = value.dimension == unit.dimension && (read.unit != nullptr || counted);
        const auto near = [&](double of, const Amount& to) { return within(of, to.value, tolerance.value); };
        const auto finish = [&](Verdict verdict) {
            verdict.read = value, verdict.truth = truth, verdict.tolerance = tolerance;
            return verdict;
        };
        if (fits && near(value.value, truth)) return finish(right());
        const std::optional<Stand> own = stand();
        if (own && fits) {
            try {
                if (near(value.value, need(part_.truth, unit.dimension, &*own))) {
                    Verdict verdict = right("follow", part_.follow_share);
                    verdict.message = "Right from your own earlier value. " + verdict.message;
                    return finish(verdict);
                }
            } catch (const InputError&) {  // an earlier value that leads nowhere: nothing follows from it
            }
        }
        if (fits) {
            if (const NamedWrong* wrong = nearest(value.value, tolerance.value, unit.dimension, own ? &*own : nullptr)) return finish(mistake(*wrong));
        }
        const double bare = (read.number + unit.offset) * unit.scale;
        if (!fits && near(bare, truth)) {
            Verdict verdict = right("unit", part_.unit_share);
            verdict.message = read.unit == nullptr ? "The number is right; write its unit beside it: " + unit.name + " is asked for."
                                                   : "The number is right, but not with the unit " + read.unit->name + ": " + unit.name + " is asked for.";
            return finish(verdict);
        }
        if (value.dimension == unit.dimension && read.unit != nullptr && read.unit->name != unit.name && near(bare, truth)) {
            Verdict verdict = right("unit", part_.unit_share);
            verdict.message = "The number is right, but not with the unit " + read.unit->name + ": " + unit.name + " is asked for.";
            return finish(verdict);
        }
        if (read.unit == nullptr && !fits) {  // a forgotten unit does not hide which mistake was made
            if (const NamedWrong* wrong = nearest(bare, tolerance.value, unit.dimension, own ? &*own : nullptr)) {
                Verdict verdict = mistake(*wrong);
                if (verdict.share > 0.0) verdict.share *= part_.unit_share;
                verdict.message += " And write the unit beside the number: " + unit.name + ".";
                return finish(verdict);
            }
        }
        Verdict verdict = other();
        if (!(value.dimension == unit.dimension)) verdict.message = (unit.name.empty() ? std::string("A number without a unit is asked for. ") : "An answer in " + unit.name + " is asked for. ") + verdict.message;
        return finish(verdict);
    }

    const NamedWrong* nearest(double value, double tolerance, const Dimension& dimension, const Stand* own) {
        const NamedWrong* best = nullptr;
        double least = 0.0;
        const auto consider = [&](const NamedWrong& wrong, const Stand* stand) {
            double from = 0.0;
            try {
                from = std::abs(value - need(wrong.value, dimension, stand).value);
            } catch (const InputError&) {
                if (stand == nullptr) throw;
                return;
            }
            if (from <= tolerance * (1.0 + 1e-9) && (best == nullptr || from < least)) best = &wrong, least = from;
        };
        for (const NamedWrong& wrong : part_.wrong) {
            consider(wrong, nullptr);
            if (own != nullptr) consider(wrong, own);
        }
        return best;
    }

    Verdict places() {
        if (answer_.points.empty()) return {};
        if (answer_.points.size() != part_.truth_points.size())
            return unreadable(part_.kind == Part::Kind::point ? "one place in the picture is expected" : "two places in the picture are expected");
        const double tolerance = need(part_.tolerance, {}).value;
        const auto off = [&](const std::vector<std::string>& names) {
            double far = 0.0;
            for (std::size_t i = 0; i < names.size(); ++i) {
                const PicturePlace at = truths_.place(names[i], scene_, part_.instrument);
                far = std::max(far, std::hypot(at.sample - answer_.points[i].sample, at.line - answer_.points[i].line));
            }
            return far;
        };
        Verdict verdict;
        const double from_truth = off(part_.truth_points);
        if (within(from_truth, 0.0, tolerance)) {
            verdict = right();
        } else {
            const NamedWrong* best = nullptr;
            double least = 0.0;
            for (const NamedWrong& wrong : part_.wrong) {
                if (wrong.points.size() != answer_.points.size()) continue;
                const double from = off(wrong.points);
                if (within(from, 0.0, tolerance) && (best == nullptr || from < least)) best = &wrong, least = from;
            }
            verdict = best != nullptr ? mistake(*best) : other();
        }
        verdict.read = Amount{from_truth, {}};
        verdict.truth = Amount{0.0, {}};
        verdict.tolerance = Amount{tolerance, {}};
        return verdict;
    }

    Verdict match() {
        if (answer_.settings.empty()) return {};
        const Scene& scene = truths_.scene(scene_);
        double sum = 0.0;
        std::string said;
        for (const WantedSetting& wanted : part_.settings) {
            int instrument = 0;
            const Parameter* row = findLessonKey(scene, wanted.key, instrument);
            if (row == nullptr) throw InputError(Problem{part_.place, part_.id, "'" + wanted.key + "'", "a declared key of this scene", ""});
            const auto given = answer_.settings.find(wanted.key);
            if (given == answer_.settings.end()) {
                said += wanted.key + ": no answer. ";
                continue;
            }
            const ParsedQuantity value = parseQuantity(given->second, row->kind);
            if (!value.ok()) {
                said += wanted.key + ": " + value.error + ". ";
                continue;
            }
            const Amount truth = [&] {
                try {
                    return settingAmount(scene, *row, instrument);
                } catch (const std::runtime_error& error) {
                    throw InputError(Problem{part_.place, wanted.key, error.what(), "a setting with a number", ""});
                }
            }();
            double off = std::abs(value.value - truth.value);
            if (wanted.round) off = std::abs(std::remainder(value.value - truth.value, 2.0 * constants::pi));
            const double full = need(wanted.within, truth.dimension).value, none = need(wanted.reach, truth.dimension).value;
            const double close = off <= full ? 1.0 : off >= none ? 0.0 : (none - off) / (none - full);
            sum += close;
            said += wanted.key + ": " + (close >= 1.0 ? "met" : close > 0.0 ? "near" : "far") + ". ";
        }
        const double share = sum / static_cast<double>(part_.settings.size());
        if (share >= 1.0 - 1e-12) return right();
        return {share, share > 0.0 ? "partly" : "other", said + say(part_.otherwise), {}, {}, {}};
    }

    Verdict plan() {
        if (answer_.settings.empty()) return {};
        std::vector<std::pair<std::string, std::string>> set;
        for (const auto& [key, value] : answer_.settings) {
            const bool asked = std::any_of(part_.settings.begin(), part_.settings.end(), [k = &key](const WantedSetting& s) { return s.key == *k; });
            if (!asked) return unreadable("'" + key.substr(0, 60) + "' may not be changed here");
            set.emplace_back(key, value);
        }
        std::unique_ptr<Truths> flown;
        try {
            flown = truths_.planned(scene_, set);
            (void)flown->scene(scene_);
        } catch (const InputError& error) {
            Problem problem = error.problems().front();
            problem.place = {};  // the student wrote no file
            return unreadable(problem.text());
        }
        double sum = 0.0;
        std::string said;
        for (const Constraint& constraint : part_.constraints) {
            if (flown->holds(constraint.holds, scene_)) sum += constraint.share;
            else said += (said.empty() ? "" : " ") + flown->text(constraint.say, scene_);
        }
        if (said.empty()) return right();
        for (const NamedWrong& wrong : part_.wrong) {
            if (flown->holds(wrong.when, scene_)) return {std::max(wrong.share, sum), "wrong " + wrong.name, flown->text(wrong.say, scene_) + " " + said, {}, {}, {}};
        }
        if (sum > 0.0) return {sum, "partly", said, {}, {}, {}};
        Verdict verdict = other();
        verdict.message = said + (verdict.message.empty() ? "" : " " + verdict.message);
        return verdict;
    }

    const Part& part_;
    const RawAnswer& answer_;
    Truths& truths_;
    const Answers* earlier_;
    std::string scene_;
};

}  // namespace

Verdict judge(const Part& part, const Step& step, const RawAnswer* answer, Truths& truths, const Answers* earlier) {
    if (answer == nullptr) return {};
    return Judge(part, step, *answer, truths, earlier).give();
}

Score score(const Answers& answers, Truths& truths) {
    Score score;
    for (const Step& step : truths.lesson().steps) {
        for (const Part& part : step.parts) {
            PartScore one{part.id, 0.0, part.points, judge(part, step, answers.counted(truths.lesson(), part.id), truths, &answers)};
            one.points = one.verdict.share * part.points;
            score.points += one.points;
            score.most += part.points;
            score.parts.push_back(std::move(one));
        }
    }
    score.points = std::max(score.points, 0.0);
    return score;
}

}  // namespace linefall
