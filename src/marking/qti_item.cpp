// Element names, their order and their attributes follow the QTI 2.1 information model (IMS Global 2012), quoted from memory.
#include "marking/qti_item.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/problem.h"
#include "marking/marks.h"

namespace linefall {

namespace {

std::string number(double value) {
    const std::string text = fmt::format("{:.9g}", value);
    return text == "-0" ? "0" : text;
}

std::string baseValue(const std::string& type, const std::string& value) {
    return "<baseValue baseType=\"" + type + "\">" + value + "</baseValue>";
}

const char* const response = "<variable identifier=\"RESPONSE\"/>";

/// What an answer meets: a condition, the points that it earns, and what is said.
struct Outcome {
    std::string condition, name, say;
    double points = 0.0;
};

class ItemText {
public:
    ItemText(const Part& part, const Step& step, Truths& truths, const QtiContext& context, const QtiPicture* picture)
        : part_(part), truths_(truths), context_(context), picture_(picture), scene_(sceneOf(part, step)) {}

    std::string text() {
        switch (part_.kind) {
        case Part::Kind::choice: return choice();
        case Part::Kind::number: return number_();
        case Part::Kind::point:
        case Part::Kind::line: return picture_ == nullptr ? "" : places();
        case Part::Kind::because: return words();
        case Part::Kind::match:
        case Part::Kind::plan: break;
        }
        return "";
    }

private:
    std::string say(const std::string& text) { return text.empty() ? "" : truths_.text(text, scene_); }
    std::string ask() { return escapedHtml(say(part_.ask)); }

    std::string choice() {
        std::string correct, options;
        std::vector<Outcome> outcomes;
        for (std::size_t i = 0; i < part_.options.size(); ++i) {
            const ChoiceOption& option = part_.options[i];
            const std::string letter(1, static_cast<char>('a' + i));
            const bool right = option.when.given() && truths_.holds(option.when, scene_);
            if (right) correct += "<value>" + letter + "</value>";
            options += "<simpleChoice identifier=\"" + letter + "\">" + escapedHtml(say(option.text)) + "</simpleChoice>\n";
            const std::string more = right ? say(part_.right) : option.say.empty() && option.name.empty() ? say(part_.otherwise) : "";
            std::string told = say(option.say);
            if (!more.empty()) told += (told.empty() ? "" : " ") + more;
            const double other = option.name.empty() && option.share == 0.0 ? -part_.negative : option.share;
            outcomes.push_back({std::string("<match>") + response + baseValue("identifier", letter) + "</match>", letter, told, (right ? 1.0 : judged(part_) ? other : 0.0) * part_.points});
        }
        const std::string body = pictureBlock() + "<choiceInteraction responseIdentifier=\"RESPONSE\" shuffle=\"false\" maxChoices=\"1\">\n<prompt>" + ask() + "</prompt>\n" + options + "</choiceInteraction>\n";
        return item("identifier", "single", correct, "", body, outcomes, Outcome{});
    }

    std::string number_() {
        const UnitOfText* unit = findUnit(part_.unit);
        if (unit == nullptr) return "";
        const auto inUnit = [&](const Formula& formula) { return truths_.evaluate(formula, scene_).value / unit->scale - unit->offset; };
        const double truth = inUnit(part_.truth), tolerance = truths_.evaluate(part_.tolerance, scene_).value / unit->scale;
        std::vector<Outcome> outcomes{{fmt::format("<equal toleranceMode=\"absolute\" tolerance=\"{} {}\"><correct identifier=\"RESPONSE\"/>{}</equal>", number(tolerance), number(tolerance), response), "right",
                                       say(part_.right), part_.points}};
        std::vector<double> values;
        for (const NamedWrong& wrong : part_.wrong) values.push_back(inUnit(wrong.value));
        for (std::size_t i = 0; i < values.size(); ++i) {
            // Where two mistakes lie close together the nearer one counts: each ends in the middle.
            double low = values[i] - tolerance, high = values[i] + tolerance;
            for (const double other : values) {
                if (other < values[i]) low = std::max(low, 0.5 * (other + values[i]));
                if (other > values[i]) high = std::min(high, 0.5 * (other + values[i]));
            }
            outcomes.push_back({std::string("<and><gte>") + response + baseValue("float", number(low)) + "</gte><lte>" + response + baseValue("float", number(high)) + "</lte></and>",
                                fmt::format("wrong-{}", i + 1), say(part_.wrong[i].say), part_.wrong[i].share * part_.points});
        }
        const std::string unit_words = unit->name.empty() ? "" : " <em>Give the number in " + escapedHtml(unit->name) + ", without the unit.</em>";
        const std::string says = part_.tolerance_says.empty() ? "" : " <em>Expected within " + escapedHtml(say(part_.tolerance_says)) + ".</em>";
        const std::string body = pictureBlock() + "<p>" + ask() + unit_words + says + "</p>\n<p><textEntryInteraction responseIdentifier=\"RESPONSE\" expectedLength=\"12\"/>" +
                                 (unit->name.empty() ? "" : " " + escapedHtml(unit->name)) + "</p>\n";
        return item("float", "single", "<value>" + number(truth) + "</value>", "", body, outcomes, otherwise());
    }

    /// "x,y,r" in pixels of the file.
    std::string circle(const std::string& point, double radius) {
        const PicturePlace at = truths_.place(point, scene_, part_.instrument);
        const auto pixel = [&](double place) { return static_cast<long>(std::lround(place * picture_->times - 0.5)); };
        return fmt::format("{},{},{}", pixel(at.sample), pixel(at.line), std::max(1L, std::lround(radius * picture_->times)));
    }

    std::string inside(const std::vector<std::string>& points, double radius) {
        std::string out;
        for (const std::string& point : points) out += "<inside shape=\"circle\" coords=\"" + circle(point, radius) + "\">" + response + "</inside>";
        return points.size() == 1 ? out : "<and>" + out + "</and>";
    }

    std::string places() {
        const double radius = truths_.evaluate(part_.tolerance, scene_).value;
        std::string correct, areas;
        for (const std::string& point : part_.truth_points) {
            const std::string at = circle(point, radius);
            const std::size_t comma = at.find(',');
            correct += "<value>" + at.substr(0, comma) + " " + at.substr(comma + 1, at.find(',', comma + 1) - comma - 1) + "</value>";
            areas += "<areaMapEntry shape=\"circle\" coords=\"" + at + "\" mappedValue=\"" + number(part_.points / static_cast<double>(part_.truth_points.size())) + "\"/>";
        }
        std::vector<Outcome> outcomes{{inside(part_.truth_points, radius), "right", say(part_.right), part_.points}};
        for (std::size_t i = 0; i < part_.wrong.size(); ++i) {
            if (part_.wrong[i].points.size() != part_.truth_points.size()) continue;
            outcomes.push_back({inside(part_.wrong[i].points, radius), fmt::format("wrong-{}", i + 1), say(part_.wrong[i].say), part_.wrong[i].share * part_.points});
        }
        const bool line = part_.kind == Part::Kind::line;
        const std::string body = fmt::format("<selectPointInteraction responseIdentifier=\"RESPONSE\" maxChoices=\"{}\">\n<prompt>{}</prompt>\n<object type=\"image/png\" data=\"../{}\" width=\"{}\" height=\"{}\">{}</object>\n</selectPointInteraction>\n",
                                             line ? 2 : 1, ask(), picture_->path, picture_->columns, picture_->rows, escapedHtml(picture_->alt));
        return item("point", line ? "multiple" : "single", correct, "<areaMapping defaultValue=\"0\">" + areas + "</areaMapping>", body, outcomes, otherwise());
    }

    std::string words() {
        const std::string body = pictureBlock() + "<extendedTextInteraction responseIdentifier=\"RESPONSE\" expectedLines=\"5\">\n<prompt>" + ask() + "</prompt>\n</extendedTextInteraction>\n";
        return item("string", "single", "", "", body, {}, Outcome{});
    }

    Outcome otherwise() { return {"", "other", say(part_.otherwise), -part_.negative * part_.points}; }

    std::string pictureBlock() {
        if (picture_ == nullptr) return "";
        return fmt::format("<p><img src=\"../{}\" alt=\"{}\" width=\"{}\" height=\"{}\"/></p>\n", picture_->path, escapedHtml(picture_->words), picture_->columns, picture_->rows);
    }

    static std::string set(const std::string& variable, const std::string& type, const std::string& value) {
        return "<setOutcomeValue identifier=\"" + variable + "\">" + baseValue(type, value) + "</setOutcomeValue>\n";
    }

    static std::string effect(const Outcome& outcome) {
        return set("SCORE", "float", number(outcome.points)) + (outcome.say.empty() ? "" : set("FEEDBACK", "identifier", outcome.name));
    }

    static std::string processing(const std::vector<Outcome>& outcomes, const Outcome& otherwise) {
        if (outcomes.empty()) return "";
        std::string out = std::string("<responseProcessing>\n<responseCondition>\n<responseIf>\n<isNull>") + response + "</isNull>\n" + set("SCORE", "float", "0") + "</responseIf>\n";
        for (const Outcome& outcome : outcomes) out += "<responseElseIf>\n" + outcome.condition + "\n" + effect(outcome) + "</responseElseIf>\n";
        if (!otherwise.name.empty()) out += "<responseElse>\n" + effect(otherwise) + "</responseElse>\n";
        return out + "</responseCondition>\n</responseProcessing>\n";
    }

    std::string feedback(std::vector<Outcome> outcomes, const Outcome& otherwise) {
        outcomes.push_back(otherwise);
        const std::string explain = say(part_.explain);
        std::string out;
        for (const Outcome& outcome : outcomes) {
            if (outcome.say.empty()) continue;
            out += "<modalFeedback outcomeIdentifier=\"FEEDBACK\" identifier=\"" + outcome.name + "\" showHide=\"show\">" + escapedHtml(outcome.say + (explain.empty() ? "" : " " + explain)) + "</modalFeedback>\n";
        }
        return out;
    }

    std::string item(const std::string& type, const std::string& cardinality, const std::string& correct, const std::string& mapping, const std::string& body, const std::vector<Outcome>& outcomes,
                     const Outcome& otherwise) {
        const Lesson& lesson = truths_.lesson();
        std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<assessmentItem xmlns=\"http://www.imsglobal.org/xsd/imsqti_v2p1\" identifier=\"" + qtiName(lesson, truths_.variant(), part_.id) + "\" title=\"" +
                          escapedHtml(lesson.title + ": " + part_.id) + "\" adaptive=\"false\" timeDependent=\"false\" toolName=\"Linefall\" toolVersion=\"" LINEFALL_VERSION "\">\n";
        out += "<responseDeclaration identifier=\"RESPONSE\" cardinality=\"" + cardinality + "\" baseType=\"" + type + "\">\n";
        if (!correct.empty()) out += "<correctResponse>" + correct + "</correctResponse>\n";
        out += mapping + "</responseDeclaration>\n";
        out += fmt::format("<outcomeDeclaration identifier=\"SCORE\" cardinality=\"single\" baseType=\"float\" normalMaximum=\"{}\"><defaultValue><value>0</value></defaultValue></outcomeDeclaration>\n", number(part_.points));
        out += "<outcomeDeclaration identifier=\"FEEDBACK\" cardinality=\"single\" baseType=\"identifier\"/>\n";
        out += "<itemBody>\n" + context_.body + body + "</itemBody>\n";
        return out + processing(outcomes, otherwise) + feedback(outcomes, otherwise) + "</assessmentItem>\n";
    }

    const Part& part_;
    Truths& truths_;
    const QtiContext& context_;
    const QtiPicture* picture_;
    const std::string scene_;
};

void prose(const Prose& piece, const std::function<std::string(const std::string&, const std::string&)>& image, std::string& out) {
    const auto inside = [&](const std::string& name, const char* end) {
        out += "<" + name + ">" + escapedHtml(piece.text);
        for (const Prose& part : piece.parts) prose(part, image, out);
        out += "</" + name + ">" + end;
    };
    switch (piece.kind) {
    case Prose::Kind::paragraph: return inside("p", "\n");
    case Prose::Kind::heading: return inside("h" + std::to_string(std::clamp(piece.level, 1, 6)), "\n");
    case Prose::Kind::bullets: return inside("ul", "\n");
    case Prose::Kind::numbered: return inside("ol", "\n");
    case Prose::Kind::item: return inside("li", "\n");
    case Prose::Kind::quote: return inside("blockquote", "\n");
    case Prose::Kind::code: return inside("pre", "\n");
    case Prose::Kind::rule: out += "<hr/>\n"; return;
    case Prose::Kind::text: out += escapedHtml(piece.text); return;
    case Prose::Kind::emphasis: return inside("em", "");
    case Prose::Kind::strong: return inside("strong", "");
    case Prose::Kind::code_text: return inside("code", "");
    case Prose::Kind::link:
        for (const Prose& part : piece.parts) prose(part, image, out);
        if (!piece.target.empty()) out += " (" + escapedHtml(piece.target) + ")";
        return;
    case Prose::Kind::image: out += image(piece.target, wordsOf(piece)); return;
    case Prose::Kind::line_break: out += "<br/>"; return;
    }
}

}  // namespace

std::string qtiItem(const Part& part, const Step& step, Truths& truths, const QtiContext& context, const QtiPicture* picture) {
    return ItemText(part, step, truths, context, picture).text();
}

std::string qtiName(const Lesson& lesson, int variant, const std::string& part) {
    std::string out = "linefall-" + lesson.id + "-" + std::to_string(variant + 1) + (part.empty() ? "" : "-" + part);
    for (char& c : out) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' || c == '.';
        if (!plain) c = '_';
    }
    return out;
}

std::string qtiProse(const std::vector<Prose>& blocks, const std::function<std::string(const std::string&, const std::string&)>& image) {
    std::string out;
    for (const Prose& block : blocks) prose(block, image, out);
    return out;
}

}  // namespace linefall
