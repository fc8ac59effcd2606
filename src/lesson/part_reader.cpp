// Blocks that ask.

#include <algorithm>

#include "lesson/block_reader.h"

namespace linefall {

namespace {

std::vector<NamedWrong> readWrong(TableReader& r, Part::Kind kind, Problems& problems) {
    std::vector<NamedWrong> all;
    for (const toml::table* table : r.tables("wrong")) {
        TableReader w(*table, r.file(), "wrong", problems);
        NamedWrong wrong;
        wrong.place = placeOf(*table, r.file());
        wrong.name = w.name("name");
        wrong.share = readShare(w, "share", 0.0);
        wrong.say = w.text("say", "", true);
        if (kind == Part::Kind::number) wrong.value = readFormula(w, "value", true);
        if (kind == Part::Kind::plan) {
            wrong.when = readFormula(w, "when", true);
            wrong.settings = readTextTable(w, "settings");
        }
        if (kind == Part::Kind::point) wrong.points = readTexts(w, "point", true, 1);
        if (kind == Part::Kind::line) wrong.points = readTexts(w, "points", true, 2);
        w.finish();
        all.push_back(std::move(wrong));
    }
    return all;
}

void readChoice(TableReader& r, Part& part, Problems& problems) {
    for (const toml::table* table : r.tables("option")) {
        TableReader o(*table, r.file(), "option", problems);
        ChoiceOption option;
        option.text = o.text("text", "", true);
        option.when = readFormula(o, "when");
        option.say = o.text("say", "");
        option.name = o.has("name") ? o.name("name") : "";
        option.share = readShare(o, "share", 0.0);
        o.finish();
        part.options.push_back(std::move(option));
    }
    if (part.options.size() < 2 || part.options.size() > most_options)
        r.refuse("option", std::to_string(part.options.size()) + " options", "2 to " + std::to_string(most_options) + " options: option = [ { text = ..., when = ... }, ... ]");
    const bool judged = std::any_of(part.options.begin(), part.options.end(), [](const ChoiceOption& o) { return o.when.given(); });
    if (!judged && part.points > 0.0)
        r.refuse("option", "no 'when'", "a condition over truths with the options of a choice that has points; points = 0 for an opinion");
}

void readNumber(TableReader& r, Part& part) {
    part.truth = readFormula(r, "truth", true);
    part.formula = readFormula(r, "formula");
    part.unit = r.text("unit", "", true);
    if (r.has("unit") && findUnit(part.unit) == nullptr) {
        std::vector<std::string> names;
        for (const UnitOfText& unit : lessonUnits()) names.push_back(unit.name);
        r.refuse("unit", "'" + part.unit + "'", "a unit, or \"\" for a pure number", nearestName(part.unit, names));
        part.unit.clear();
    }
    part.tolerance = readFormula(r, "tolerance", true);
    part.tolerance_says = r.text("tolerance_says", "");
    part.unit_share = readShare(r, "unit_share", 0.5, 0.0);
    part.follow = readTextTable(r, "follow");
    part.follow_share = readShare(r, "follow_share", 1.0, 0.0);
}

void readSettingsAsked(TableReader& r, Part& part, Problems& problems) {
    if (part.kind == Part::Kind::plan) {
        for (const std::string& key : readTexts(r, "setting", true)) part.settings.push_back({key, {}, {}, false});
        for (const toml::table* table : r.tables("constraint")) {
            TableReader c(*table, r.file(), "constraint", problems);
            Constraint constraint;
            constraint.place = placeOf(*table, r.file());
            constraint.holds = readFormula(c, "holds", true);
            constraint.share = readShare(c, "share", 0.0, 0.0);
            constraint.say = c.text("say", "", true);
            c.finish();
            part.constraints.push_back(std::move(constraint));
        }
        part.solution = readTextTable(r, "solution");
        if (part.solution.empty()) r.refuse("solution", "", "solution = { key = text }: settings that meet all constraints; they are flown as any answer");
        double sum = 0.0;
        for (const Constraint& constraint : part.constraints) sum += constraint.share;
        if (part.constraints.empty() || sum < 0.999 || sum > 1.001)
            r.refuse("constraint", "shares that make " + figuresText(sum, 3), "constraints whose shares make 1");
    } else {
        for (const toml::table* table : r.tables("setting")) {
            TableReader s(*table, r.file(), "setting", problems);
            WantedSetting setting;
            setting.key = s.text("key", "", true);
            setting.within = readFormula(s, "within", true);
            setting.reach = readFormula(s, "reach", true);
            setting.round = s.flag("round", false);
            s.finish();
            part.settings.push_back(std::move(setting));
        }
        if (part.settings.empty()) r.refuse("setting", "", "setting = [ { key = \"sun.elevation\", within = \"2 deg\", reach = \"20 deg\" } ]");
    }
    if (part.settings.size() > 20) r.refuse("setting", std::to_string(part.settings.size()) + " settings", "at most 20");
}

}  // namespace

Part readPart(Part::Kind kind, const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, nameOf(kind), problems);
    Part part;
    part.kind = kind;
    part.place = placeOf(table, file);
    part.id = readIdentifier(r, "id");
    part.ask = r.text("ask", "", true);
    part.scene = r.text("scene", "");
    part.points = kind == Part::Kind::because ? 0.0 : 1.0;
    if (const toml::node* node = r.node("points")) {
        const auto points = node->value<double>();
        if (kind == Part::Kind::because) r.refuse("points", shown(*node), "no points: words are stored and not marked");
        else if (!points || !(*points >= 0.0 && *points <= 1000.0)) r.refuse("points", shown(*node), "a number from 0 to 1000");
        else part.points = *points;
    }
    part.hints = readTexts(r, "hints");
    part.right = r.text("right", "");
    part.otherwise = r.text("otherwise", "");
    part.explain = r.text("explain", "");
    part.negative = readShare(r, "negative", 0.0, 0.0);
    switch (kind) {
        case Part::Kind::choice: readChoice(r, part, problems); break;
        case Part::Kind::number: readNumber(r, part); break;
        case Part::Kind::point:
        case Part::Kind::line:
            part.truth_points = readTexts(r, "truth", true);
            if (part.truth_points.size() != (kind == Part::Kind::point ? 1u : 2u) && r.has("truth"))
                r.refuse("truth", std::to_string(part.truth_points.size()) + " names", kind == Part::Kind::point ? "the name of a point" : "the names of two points");
            part.tolerance = readFormula(r, "tolerance", true);
            part.tolerance_says = r.text("tolerance_says", "");
            part.instrument = readInstrumentLetter(r);
            break;
        case Part::Kind::match:
        case Part::Kind::plan: readSettingsAsked(r, part, problems); break;
        case Part::Kind::because: break;
    }
    if (kind != Part::Kind::choice && kind != Part::Kind::because && kind != Part::Kind::match) part.wrong = readWrong(r, kind, problems);
    r.finish();
    return part;
}

}  // namespace linefall
