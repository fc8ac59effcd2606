#include "paper/paper.h"

#include <algorithm>

#include "lesson/describe.h"
#include "paper/pictures.h"
#include "paper/questions.h"
#include "paper/readings.h"
#include "paper/sheet.h"

namespace linefall {

namespace {

std::string kindWord(const Step& step) { return nameOf(step.kind); }

class Printer {
public:
    Printer(Truths& truths, const std::string& student, int threads) : truths_(truths), lesson_(truths.lesson()), student_(student), pictures_(truths, threads), readings_(truths) {}

    [[nodiscard]] Papers print() {
        Papers papers;
        papers.worksheet = sheetDocument(lesson_.title + (student_.empty() ? "" : ", " + student_), running(""), worksheet());
        papers.key = sheetDocument("Key: " + lesson_.title + (student_.empty() ? "" : ", " + student_), running("Key: "), key());
        papers.missing_fonts = pictures_.missingFonts();
        return papers;
    }

private:
    [[nodiscard]] std::string variant() const { return std::to_string(truths_.variant() + 1); }

    [[nodiscard]] std::string running(const std::string& first) const { return first + lesson_.title + (student_.empty() ? "" : ", " + student_) + ", variant " + variant(); }

    [[nodiscard]] std::string versions() const {
        return "Lesson " + lesson_.id + ", version " + std::to_string(lesson_.version) + ", " + lesson_.fingerprint + "; Linefall " LINEFALL_VERSION;
    }

    [[nodiscard]] std::string head(const std::string& title) const {
        const std::string name = student_.empty() ? "<span class=\"gap\"></span>" : "<b>" + escapedHtml(student_) + "</b>";
        return "<h1>" + escapedHtml(title) + "</h1>\n<div class=\"head\">\n<p>Name: " + name + "<br/>Variant " + variant() + "</p>\n<p class=\"small\">" + escapedHtml(lesson_.level) + ", " + escapedHtml(lesson_.topic) + "<br/>about " +
               std::to_string(lesson_.minutes) + " minutes, " + pointsWords(lesson_.mostPoints()) + "<br/>" + escapedHtml(versions()) + "</p>\n</div>\n" + cautionHtml();
    }

    [[nodiscard]] std::string heading(const Step& step, std::size_t index, bool new_page) {
        return std::string("<h2") + (new_page ? " class=\"new-page\"" : "") + "><span class=\"kind\">" + std::to_string(index + 1) + " &#183; " + kindWord(step) + "</span><br/>" + escapedHtml(truths_.text(step.title, step.scene)) + "</h2>\n";
    }

    [[nodiscard]] std::string worksheet() {
        std::string out = head(lesson_.title) + "<p>Afterwards you can: " + escapedHtml(lesson_.outcome) + "</p>\n";
        out += "<p class=\"small\">Write in the order of the sheet, predictions first. Pictures to measure in stand between rulers that count pixels: hold a straightedge across, and read to half a pixel where you can.</p>\n";
        int number = 0;
        bool predicted = false;
        for (std::size_t i = 0; i < lesson_.steps.size(); ++i) {
            const Step& step = lesson_.steps[i];
            const bool prediction = step.kind == StepKind::predict;
            if (predicted && !prediction) out += "<p class=\"stop\"><b>Stop.</b> Turn the page only when your prediction is written.</p>\n";
            out += heading(step, i, predicted && !prediction);
            predicted = prediction;
            for (const NeededPicture& picture : shownFirst(step)) out += pictures_.ruled(picture, besideOf(lesson_, step));
            if (!step.unlock.empty()) out += "<p class=\"small\">At the computer this step lets you change " + list(step.unlock) + ".</p>\n";
            bool read = false;
            const auto readings = [&] {
                if (!read) {
                    for (const NeededPicture& picture : picturesOf(lesson_, step)) {
                        if (!shownPlain(lesson_, step, picture.scene, picture.instrument)) out += pictures_.details(picture, step);
                    }
                }
                if (!read) out += readings_.html(step, [&](const NeededPicture& picture) { return pictures_.whereabouts(picture); });
                read = true;
            };
            const auto is_figure = [](const StepItem& item) { return item.what == StepItem::What::figure; };
            const auto after_figures = std::find_if(step.items.rbegin(), step.items.rend(), is_figure).base();
            for (auto at = step.items.begin(); at != step.items.end(); ++at) {
                const StepItem& item = *at;
                if (item.what == StepItem::What::part && at >= after_figures) readings();
                switch (item.what) {
                    case StepItem::What::prose:
                        out += htmlText(truths_.text(item.prose, step.scene), [&](const std::string& target, const std::string& alt) { return pictures_.own(target, alt); });
                        break;
                    case StepItem::What::figure: out += pictures_.figure(step.figures[item.index], step); break;
                    case StepItem::What::part: out += questionHtml(step.parts[item.index], step, truths_, ++number); break;
                }
            }
            readings();
        }
        return out;
    }

    /// Pictures that the step measures in and none of its own figures shows.
    [[nodiscard]] std::vector<NeededPicture> shownFirst(const Step& step) const {
        std::vector<NeededPicture> out;
        for (const NeededPicture& picture : picturesOf(lesson_, step)) {
            const bool own = std::any_of(step.figures.begin(), step.figures.end(), [&](const LessonFigure& figure) {
                const LessonScene* scene = lesson_.findScene(figure.scene.empty() ? step.scene : figure.scene);
                return showsPicture(figure) && scene != nullptr && NeededPicture{scene->name, figure.instrument} == picture;
            });
            if (!own && !shownPlain(lesson_, step, picture.scene, picture.instrument)) out.push_back(picture);  // a plain figure has rulers
        }
        return out;
    }

    [[nodiscard]] static std::string list(const std::vector<std::string>& keys) {
        std::string out;
        for (const std::string& key : keys) out += (out.empty() ? "<code>" : ", <code>") + escapedHtml(key) + "</code>";
        return out;
    }

    [[nodiscard]] std::string key() {
        std::string out = head("Key: " + lesson_.title) + "<p class=\"stop\"><b>For whoever marks.</b> Every value is that of this variant, as the simulation reads it.</p>\n";
        if (lesson_.variants.count() > 0) {
            out += "<table>\n<tr><th>given</th><th>in this variant</th></tr>\n";
            for (const std::string& name : lesson_.variants.given) out += "<tr><td><code>" + escapedHtml(name) + "</code></td><td>" + escapedHtml(truths_.shown(name)) + "</td></tr>\n";
            out += "</table>\n";
        }
        int number = 0;
        std::string glance;
        for (const Step& step : lesson_.steps) {
            for (const Part& part : step.parts) glance += glanceHtml(part, step, truths_, ++number);
        }
        out += "<h2>Right answers at a glance</h2>\n<table>\n<thead><tr><th></th><th>right</th><th class=\"figure\">points</th></tr></thead>\n<tbody>\n" + glance + "</tbody>\n</table>\n";
        number = 0;
        for (std::size_t i = 0; i < lesson_.steps.size(); ++i) {
            const Step& step = lesson_.steps[i];
            if (step.parts.empty()) continue;
            out += heading(step, i, false);
            for (const Part& part : step.parts) out += answerHtml(part, step, truths_, ++number);
        }
        return out;
    }

    Truths& truths_;
    const Lesson& lesson_;
    std::string student_;
    Illustrator pictures_;
    Readings readings_;
};

}  // namespace

Papers printLesson(Truths& truths, const std::string& student, int threads) { return Printer(truths, student, threads).print(); }

}  // namespace linefall
