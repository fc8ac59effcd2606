#include "paper/questions.h"

#include <fmt/format.h>

#include <cctype>

#include "lesson/names.h"

namespace linefall {

namespace {

std::string gap(bool is_short = false) { return std::string("<span class=\"gap") + (is_short ? " short" : "") + "\"></span>"; }

std::string fill(const std::vector<std::string>& pieces) {
    std::string out = "<div class=\"fill\">";
    for (const std::string& piece : pieces) out += "<span>" + piece + "</span>";
    return out + "</div>\n";
}

std::string choice(const Part& part, const std::string& scene, Truths& truths) {
    std::string out = "<ul class=\"options\">\n";
    for (std::size_t i = 0; i < part.options.size(); ++i) {
        out += "<li><span class=\"box\"></span><span class=\"letter\">" + std::string(1, static_cast<char>('a' + i)) + ")</span> " + escapedHtml(truths.text(part.options[i].text, scene)) + "</li>\n";
    }
    return out + "</ul>\n";
}

std::string number(const Part& part, const std::string& scene, Truths& truths) {
    const UnitOfText& unit = *findUnit(part.unit);
    return "<div class=\"work\"></div>\n" + fill({"Answer: " + gap() + (unit.name.empty() ? "" : " with its unit, such as " + escapedHtml(unit.name))}) + "<p class=\"small\">What counts as right: within " +
           escapedHtml(roomText(part, scene, truths)) + ".</p>\n";
}

std::string settings(const Part& part) {
    std::string out = "<div class=\"work\"></div>\n";
    for (const WantedSetting& setting : part.settings) {
        const Parameter* row = findDeclaredKey(setting.key);
        std::string words = row == nullptr ? "" : row->help;
        if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
        out += fill({(words.empty() ? "<code>" + escapedHtml(setting.key) + "</code>" : escapedHtml(words) + " (<code>" + escapedHtml(setting.key) + "</code>)") + ": " + gap()});
    }
    return out + "<p class=\"small\">Each with its unit. On paper nothing can be flown: write what you have worked out.</p>\n";
}

}  // namespace

std::string pointsWords(double points) { return points == 0.0 ? "not marked" : fmt::format("{} point{}", points, points == 1.0 ? "" : "s"); }

std::string toleranceText(const Part& part, const std::string& scene, Truths& truths) {
    const double within = truths.evaluate(part.tolerance, scene).value;
    const UnitOfText unit = part.kind == Part::Kind::number ? *findUnit(part.unit) : UnitOfText{"pixels", {}, 1.0, 0.0};
    const std::string words = truths.text(part.tolerance_says, scene);
    return textIn({unit.name, unit.dimension, unit.scale, 0.0}, within, 2) + (words.empty() ? "" : " (" + words + ")");
}

std::string roomText(const Part& part, const std::string& scene, Truths& truths) {
    return part.tolerance_says.empty() ? toleranceText(part, scene, truths) : truths.text(part.tolerance_says, scene);
}

std::string questionHtml(const Part& part, const Step& step, Truths& truths, int n) {
    const std::string scene = part.scene.empty() ? step.scene : part.scene;
    std::string out = "<div class=\"question\" id=\"" + escapedHtml(part.id) + "\">\n<span class=\"number\">" + std::to_string(n) + "</span><span class=\"points\">" + pointsWords(part.points) + "</span>\n<p class=\"ask\">" +
                      escapedHtml(truths.text(part.ask, scene)) + "</p>\n";
    switch (part.kind) {
        case Part::Kind::choice: out += choice(part, scene, truths); break;
        case Part::Kind::number: out += number(part, scene, truths); break;
        case Part::Kind::point:
            out += fill({"Mark it in the picture, and write: sample " + gap(true), "line " + gap(true)}) + "<p class=\"small\">What counts as right: within " + escapedHtml(roomText(part, scene, truths)) + ".</p>\n";
            break;
        case Part::Kind::line:
            out += fill({"Draw it in the picture, and write: from sample " + gap(true), "line " + gap(true), "to sample " + gap(true), "line " + gap(true)}) + "<p class=\"small\">What counts as right: both ends within " +
                   escapedHtml(roomText(part, scene, truths)) + ".</p>\n";
            break;
        case Part::Kind::match:
        case Part::Kind::plan: out += settings(part); break;
        case Part::Kind::because:
            for (int i = 0; i < 4; ++i) out += "<div class=\"line\"></div>";
            out += "\n";
            break;
    }
    return out + "</div>\n";
}

}  // namespace linefall
