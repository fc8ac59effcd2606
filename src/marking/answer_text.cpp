#include <fmt/format.h>

#include <algorithm>

#include "lesson/play.h"
#include "marking/marks.h"

namespace linefall {

namespace {

std::string placeText(const PicturePlace& place) {
    return fmt::format("sample {:.1f}, line {:.1f}", place.sample, place.line);
}

/// At most so many bytes, whole characters, in one line.
std::string oneLine(const std::string& text, std::size_t most) {
    std::string out = text.substr(0, most);
    if (text.size() > most) {
        while (!out.empty() && (static_cast<unsigned char>(text[out.size()]) & 0xC0u) == 0x80u) out.pop_back();
        out += " ...";
    }
    for (char& c : out) {
        if (c == '\n' || c == '\r' || c == '\t') c = ' ';
    }
    return out;
}

}  // namespace

const std::string& sceneOf(const Part& part, const Step& step) {
    return part.scene.empty() ? step.scene : part.scene;
}

std::vector<std::pair<const Step*, const Part*>> partsOf(const Lesson& lesson) {
    std::vector<std::pair<const Step*, const Part*>> out;
    for (const Step& step : lesson.steps) {
        for (const Part& part : step.parts) out.emplace_back(&step, &part);
    }
    return out;
}

std::string answerText(const Part& part, const RawAnswer* answer) {
    if (answer == nullptr) return "";
    std::string out;
    if (part.kind == Part::Kind::point || part.kind == Part::Kind::line) {
        for (const PicturePlace& place : answer->points) out += (out.empty() ? "" : " to ") + placeText(place);
        return oneLine(out, 400);
    }
    if (part.kind == Part::Kind::match || part.kind == Part::Kind::plan) {
        for (const auto& [key, value] : answer->settings) out += (out.empty() ? "" : ", ") + key + " = " + value;
        return oneLine(out, 1000);
    }
    return oneLine(answer->text, part.kind == Part::Kind::because ? 4000 : 400);
}

bool judged(const Part& part) {
    if (part.kind == Part::Kind::because) return false;
    return part.kind != Part::Kind::choice || std::any_of(part.options.begin(), part.options.end(), [](const ChoiceOption& option) { return option.when.given(); });
}

std::string truthText(const Part& part, const Step& step, Truths& truths) {
    if (!judged(part) || part.kind == Part::Kind::plan) return "";  // a plan may be right in many ways
    if (part.kind == Part::Kind::number) {
        const Amount truth = truths.evaluate(part.truth, sceneOf(part, step));
        const UnitOfText* unit = findUnit(part.unit);
        return unit != nullptr ? textIn(*unit, truth.value) : textOf(truth);
    }
    const RawAnswer right = rightAnswer(part, step, truths);
    return answerText(part, &right);
}

Part withTolerance(const Part& part, double factor) {
    Part out = part;
    if (part.tolerance.given()) out.tolerance.expression = Expression(fmt::format("({}) * {}", part.tolerance.expression.text(), factor));
    return out;
}

}  // namespace linefall
