// The key: one question's answer.

#include <fmt/format.h>

#include <algorithm>

#include "lesson/play.h"
#include "paper/questions.h"

namespace linefall {

namespace {

std::string share(double value) { return fmt::format("{:g} %", 100.0 * value); }

class Answer {
public:
    Answer(const Part& part, const Step& step, Truths& truths) : part_(part), step_(step), truths_(truths), scene_(part.scene.empty() ? step.scene : part.scene) {}

    /// The right answer in a few words; empty where there is none.
    [[nodiscard]] std::string glance() {
        const UnitOfText* unit = part_.kind == Part::Kind::number ? findUnit(part_.unit) : nullptr;
        switch (part_.kind) {
            case Part::Kind::choice: {
                std::string out;
                for (std::size_t i = 0; i < part_.options.size(); ++i) {
                    if (part_.options[i].when.given() && truths_.holds(part_.options[i].when, scene_)) out = std::string(1, static_cast<char>('a' + i)) + ") " + said(part_.options[i].text);
                }
                return out;
            }
            case Part::Kind::number: return textIn(*unit, truths_.evaluate(part_.truth, scene_).value) + ", within " + textIn({unit->name, unit->dimension, unit->scale, 0.0}, truths_.evaluate(part_.tolerance, scene_).value, 2);
            case Part::Kind::point:
            case Part::Kind::line: return placesText(rightAnswer(part_, step_, truths_)) + ", within " + textIn({"pixels", {}, 1.0, 0.0}, truths_.evaluate(part_.tolerance, scene_).value, 2);
            case Part::Kind::match: {
                std::string out;
                for (const auto& [key, value] : rightAnswer(part_, step_, truths_).settings) out += (out.empty() ? "" : "; ") + key + " = " + value;
                return out;
            }
            case Part::Kind::plan: return "any plan that meets what is asked for: see below";
            case Part::Kind::because: break;
        }
        return "";
    }

    [[nodiscard]] std::string html() {
        switch (part_.kind) {
            case Part::Kind::choice: choice(); break;
            case Part::Kind::number: number(); break;
            case Part::Kind::point:
            case Part::Kind::line: places(); break;
            case Part::Kind::match: match(); break;
            case Part::Kind::plan: plan(); break;
            case Part::Kind::because: line("", "In the student's own words; stored and not marked."); break;
        }
        line("Said when right", said(part_.right));
        line("Said to any other answer", said(part_.otherwise));
        line("Said after every answer", said(part_.explain));
        if (part_.negative > 0.0) line("An answer that no rule fits costs", share(part_.negative));
        if (!part_.hints.empty()) {
            out_ += "<p class=\"small lead\"><b>Hints.</b></p>\n<ol class=\"small\">\n";
            for (const std::string& hint : part_.hints) out_ += "<li>" + escapedHtml(said(hint)) + "</li>\n";
            out_ += "</ol>\n";
        }
        return out_;
    }

private:
    [[nodiscard]] std::string said(const std::string& text) { return truths_.text(text, scene_); }

    void line(const std::string& label, const std::string& words) {
        if (!words.empty()) out_ += "<p>" + (label.empty() ? "" : "<b>" + label + ":</b> ") + escapedHtml(words) + "</p>\n";
    }
    void formula(const std::string& label, const Formula& f) {
        if (f.given()) out_ += "<p>" + label + " <code>" + escapedHtml(f.expression.text()) + "</code></p>\n";
    }

    void choice() {
        const bool opinion = std::none_of(part_.options.begin(), part_.options.end(), [](const ChoiceOption& o) { return o.when.given(); });
        out_ += "<table>\n<thead><tr><th></th><th>option</th><th>mistake</th><th class=\"figure\">earns</th><th>is said</th></tr></thead>\n";
        for (std::size_t i = 0; i < part_.options.size(); ++i) {
            const ChoiceOption& option = part_.options[i];
            const bool right = option.when.given() && truths_.holds(option.when, scene_);
            const std::string mark = opinion ? "" : right ? "<b>&#10003; right</b>" : "";
            out_ += fmt::format("<tr><td>{}) {}</td><td>{}</td><td>{}</td><td class=\"figure\">{}</td><td>{}</td></tr>\n", static_cast<char>('a' + i), mark, escapedHtml(said(option.text)), escapedHtml(right ? "" : option.name),
                                opinion ? "" : share(right ? 1.0 : option.share), escapedHtml(said(option.say)));
        }
        out_ += "</table>\n";
        if (opinion) line("", "An opinion: no option is right or wrong.");
    }

    void number() {
        const UnitOfText& unit = *findUnit(part_.unit);
        const auto shown = [&](const Formula& f) { return textIn(unit, truths_.evaluate(f, scene_).value); };
        out_ += "<p><b>Right: " + escapedHtml(shown(part_.truth)) + "</b>, within " + escapedHtml(toleranceText(part_, scene_, truths_)) + "</p>\n";
        formula("Read by the simulation:", part_.truth);
        if (part_.formula.given()) formula("Closed formula, which gives " + escapedHtml(shown(part_.formula)) + ":", part_.formula);
        formula("Tolerance:", part_.tolerance);
        if (!part_.wrong.empty()) {
            out_ += "<table>\n<thead><tr><th>mistake</th><th class=\"figure\">value</th><th class=\"figure\">earns</th><th>is said</th></tr></thead>\n";
            for (const NamedWrong& wrong : part_.wrong) {
                out_ += fmt::format("<tr><td>{}</td><td class=\"figure\">{}</td><td class=\"figure\">{}</td><td>{}</td></tr>\n", escapedHtml(wrong.name), escapedHtml(shown(wrong.value)), share(wrong.share), escapedHtml(said(wrong.say)));
            }
            out_ += "</table>\n";
        }
        if (!unit.name.empty()) line("The right number without its unit, or with another, earns", share(part_.unit_share));
        for (const auto& [name, id] : part_.follow) {
            out_ += "<p><b>Follow-through:</b> an answer that follows from the student's own <code>" + escapedHtml(id) + "</code> (it stands for <code>" + escapedHtml(name) + "</code>) earns " + share(part_.follow_share) + ".</p>\n";
        }
    }

    [[nodiscard]] std::string placesText(const RawAnswer& answer) {
        std::string text;
        for (const PicturePlace& place : answer.points) text += fmt::format("{}sample {:.1f}, line {:.1f}", text.empty() ? "" : " to ", place.sample, place.line);
        return text;
    }
    void places() {
        out_ += "<p><b>Right: " + placesText(rightAnswer(part_, step_, truths_)) + "</b> in picture " + std::string(1, static_cast<char>('A' + part_.instrument)) + ", within " + escapedHtml(toleranceText(part_, scene_, truths_)) + "</p>\n";
        if (part_.wrong.empty()) return;
        out_ += "<table>\n<thead><tr><th>mistake</th><th>place</th><th class=\"figure\">earns</th><th>is said</th></tr></thead>\n";
        for (const NamedWrong& wrong : part_.wrong) {
            const auto answer = wrongAnswer(part_, step_, truths_, wrong.name);
            out_ += fmt::format("<tr><td>{}</td><td>{}</td><td class=\"figure\">{}</td><td>{}</td></tr>\n", escapedHtml(wrong.name), answer ? placesText(*answer) : "", share(wrong.share), escapedHtml(said(wrong.say)));
        }
        out_ += "</table>\n";
    }

    void match() {
        const RawAnswer right = rightAnswer(part_, step_, truths_);
        out_ += "<table>\n<thead><tr><th>setting</th><th class=\"figure\">right</th><th class=\"figure\">full share within</th><th class=\"figure\">none beyond</th></tr></thead>\n";
        for (const WantedSetting& setting : part_.settings) {
            const auto found = right.settings.find(setting.key);
            out_ += fmt::format("<tr><td><code>{}</code></td><td class=\"figure\">{}</td><td class=\"figure\">{}</td><td class=\"figure\">{}</td></tr>\n", escapedHtml(setting.key),
                                found == right.settings.end() ? "" : escapedHtml(found->second), escapedHtml(textOf(truths_.evaluate(setting.within, scene_))), escapedHtml(textOf(truths_.evaluate(setting.reach, scene_))));
        }
        out_ += "</table>\n";
    }

    void plan() {
        const RawAnswer right = rightAnswer(part_, step_, truths_);
        std::string solution;
        for (const auto& [key, value] : right.settings) solution += (solution.empty() ? "" : "; ") + key + " = " + value;
        line("One plan that meets everything", solution);
        const std::unique_ptr<Truths> flown = truths_.planned(scene_, {right.settings.begin(), right.settings.end()});
        out_ += "<table>\n<thead><tr><th>must hold</th><th class=\"figure\">earns</th><th>is said when it does not, as for this plan</th></tr></thead>\n";
        for (const Constraint& constraint : part_.constraints) {
            out_ += fmt::format("<tr><td><code>{}</code></td><td class=\"figure\">{}</td><td>{}</td></tr>\n", escapedHtml(constraint.holds.expression.text()), share(constraint.share), escapedHtml(flown->text(constraint.say, scene_)));
        }
        for (const NamedWrong& wrong : part_.wrong) {
            out_ += fmt::format("<tr><td>{}: <code>{}</code></td><td class=\"figure\">{}</td><td>{}</td></tr>\n", escapedHtml(wrong.name), escapedHtml(wrong.when.expression.text()), share(wrong.share), escapedHtml(flown->text(wrong.say, scene_)));
        }
        out_ += "</table>\n";
    }

    const Part& part_;
    const Step& step_;
    Truths& truths_;
    std::string scene_, out_;
};

}  // namespace

std::string glanceHtml(const Part& part, const Step& step, Truths& truths, int n) {
    const std::string right = Answer(part, step, truths).glance();
    if (right.empty()) return "";
    return fmt::format("<tr><td>{}</td><td>{}</td><td class=\"figure\">{}</td></tr>\n", n, escapedHtml(right), part.points == 0.0 ? "" : fmt::format("{:g}", part.points));
}

std::string answerHtml(const Part& part, const Step& step, Truths& truths, int n) {
    const std::string scene = part.scene.empty() ? step.scene : part.scene;
    return "<div class=\"question answer\">\n<span class=\"number\">" + std::to_string(n) + "</span><span class=\"points\">" + pointsWords(part.points) + "</span>\n<p class=\"ask\">" + escapedHtml(truths.text(part.ask, scene)) + " <code>" +
           escapedHtml(part.id) + "</code></p>\n" + Answer(part, step, truths).html() + "</div>\n";
}

}  // namespace linefall
