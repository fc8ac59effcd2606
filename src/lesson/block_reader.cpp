#include "lesson/block_reader.h"

#include <algorithm>
#include <cctype>

namespace linefall {

Formula readFormula(TableReader& r, const std::string& key, bool required) {
    Formula formula;
    formula.place = r.place(key);
    const toml::node* node = r.node(key);
    if (node == nullptr) {
        if (required) r.refuse(key, "", "this key; it is missing");
        return formula;
    }
    if (!node->is_string() && !node->is_number()) {
        r.refuse(key, shown(*node), "an expression in quotes, or a number");
        return formula;
    }
    const std::string text = writtenAs(*node);
    if (text.empty() && !required) return formula;
    try {
        formula.expression = Expression(text);
    } catch (const ExpressionError& error) {
        Place place = formula.place;
        place.column += static_cast<int>(error.offset) + 1;
        r.problems().push_back({place, key, "'" + text.substr(0, 60) + "'", error.what(), ""});
    }
    return formula;
}

std::vector<std::string> readTexts(TableReader& r, const std::string& key, bool required, std::size_t most) {
    std::vector<std::string> out;
    const toml::node* node = r.node(key);
    if (node == nullptr) {
        if (required) r.refuse(key, "", "this key; it is missing");
        return out;
    }
    if (node->is_string()) return {writtenAs(*node)};
    const toml::array* list = node->as_array();
    if (list == nullptr || list->size() > most) {
        r.refuse(key, list == nullptr ? shown(*node) : std::to_string(list->size()) + " texts", "a list of at most " + std::to_string(most) + " texts");
        return out;
    }
    for (const toml::node& one : *list) {
        if (one.is_string()) out.push_back(writtenAs(one));
        else r.problems().push_back({placeOf(one, r.file()), key, shown(one), "a text", ""});
    }
    return out;
}

std::vector<std::pair<std::string, std::string>> readTextTable(TableReader& r, const std::string& key) {
    std::vector<std::pair<std::string, std::string>> out;
    const toml::node* node = r.node(key);
    if (node == nullptr) return out;
    const toml::table* table = node->as_table();
    if (table == nullptr || table->size() > 100) {
        r.refuse(key, table == nullptr ? shown(*node) : "more than 100 keys", "a table of texts, { \"sun.elevation\" = \"40 deg\" }");
        return out;
    }
    for (const auto& [name, value] : *table) {
        if (value.is_table() || value.is_array()) {
            r.problems().push_back({placeOf(value, r.file()), std::string(name.str()), shown(value), "a text; keys with a point stand in quotes", ""});
        } else {
            out.emplace_back(std::string(name.str()), writtenAs(value));
        }
    }
    return out;
}

double readShare(TableReader& r, const std::string& key, double fallback, double least) {
    const toml::node* node = r.node(key);
    if (node == nullptr) return fallback;
    const auto value = node->value<double>();
    if (!value || !(*value >= least && *value <= 1.0)) {
        r.refuse(key, shown(*node), "a number from " + figuresText(least, 1) + " to 1");
        return fallback;
    }
    return *value;
}

int readInstrumentLetter(TableReader& r) {
    const std::string letter = r.text("instrument", "A");
    if (letter.size() == 1 && letter[0] >= 'A' && letter[0] <= 'Z') return letter[0] - 'A';
    r.refuse("instrument", "'" + letter + "'", "A for the first instrument of the scene, B for the second ...");
    return 0;
}

std::string readIdentifier(TableReader& r, const std::string& key) {
    const std::string id = r.text(key, "", true);
    if (id.empty() && !r.has(key)) return id;
    const auto good = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-'; };
    if (id.empty() || id.size() > 60 || std::isalpha(static_cast<unsigned char>(id[0])) == 0 || !std::all_of(id.begin(), id.end(), good))
        r.refuse(key, "'" + id.substr(0, 60) + "'", "a word of letters, digits, - and _ that begins with a letter");
    return id;
}

void readStepBlock(const toml::table& table, Step& step, const std::string& file, Problems& problems) {
    TableReader r(table, file, "step", problems);
    step.scene = r.text("scene", step.scene);
    step.unlock = readTexts(r, "unlock");
    r.finish();
}

LessonFigure readLessonFigure(const toml::table& table, const std::string& file, Problems& problems) {
    static const std::vector<std::string> kinds{"picture", "flight", "path", "profile", "histogram"};
    TableReader r(table, file, "figure", problems);
    LessonFigure figure;
    figure.place = placeOf(table, file);
    figure.kind = kinds[static_cast<std::size_t>(r.choice("kind", kinds, 0))];
    figure.scene = r.text("scene", "");
    figure.instrument = readInstrumentLetter(r);
    figure.caption = r.text("caption", "");
    figure.set = readTextTable(r, "set");
    r.finish();
    return figure;
}

void readVariants(const toml::table& table, VariantTable& variants, const std::string& file, Problems& problems) {
    TableReader r(table, file, "variants", problems);
    variants.place = placeOf(table, file);
    variants.salt = r.text("salt", "");
    variants.given = readTexts(r, "given", true);
    const toml::node* rows = r.node("rows");
    const toml::array* list = rows == nullptr ? nullptr : rows->as_array();
    if (list == nullptr || list->empty() || list->size() > most_variants) {
        r.refuse("rows", rows == nullptr ? "" : list == nullptr ? shown(*rows) : std::to_string(list->size()) + " rows",
                 "a list of 1 to " + std::to_string(most_variants) + " lists, one for each variant");
        list = nullptr;
    }
    for (std::size_t i = 0; list != nullptr && i < list->size(); ++i) {
        const toml::node& node = *list->get(i);
        const toml::array* row = node.as_array();
        if (row == nullptr || row->size() != variants.given.size()) {
            problems.push_back({placeOf(node, file), "variants.rows", row == nullptr ? shown(node) : std::to_string(row->size()) + " values",
                                std::to_string(variants.given.size()) + " values: one for each of 'given'", ""});
            continue;
        }
        std::vector<std::string> texts;
        for (const toml::node& value : *row) texts.push_back(writtenAs(value));
        variants.rows.push_back(std::move(texts));
        variants.row_places.push_back(placeOf(node, file));
    }
    if (const toml::node* drop = r.node("drop")) {
        const toml::array* numbers = drop->as_array();
        if (numbers == nullptr) r.refuse("drop", shown(*drop), "a list of numbers of variants, from 1");
        for (std::size_t i = 0; numbers != nullptr && i < numbers->size(); ++i) {
            const auto number = numbers->get(i)->value_exact<std::int64_t>();
            if (!number || *number < 1 || *number > variants.count()) {
                problems.push_back({placeOf(*numbers->get(i), file), "variants.drop", shown(*numbers->get(i)),
                                    "a variant's number, 1 to " + std::to_string(variants.count()), ""});
            } else {
                variants.drop.push_back(static_cast<int>(*number));
            }
        }
    }
    r.finish();
    for (int i = 0; i < variants.count(); ++i) {
        if (!variants.dropped(i)) return;
    }
    if (variants.count() > 0) r.refuse("drop", "every variant", "at least one variant that stays");
}

LessonTest readTest(const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, "test", problems);
    LessonTest test;
    test.place = placeOf(table, file);
    test.name = r.text("name", "", true);
    test.variant = r.whole("variant", 0, 0, static_cast<int>(most_variants));
    test.source = r.text("source", "");
    const auto of = [&test](const std::string& part) -> LessonTest::Expected& {
        for (LessonTest::Expected& one : test.expected) {
            if (one.part == part) return one;
        }
        test.expected.push_back({part, "", "", std::nullopt});
        return test.expected.back();
    };
    for (const auto& [part, answer] : readTextTable(r, "answers")) of(part).answer = answer;
    for (const auto& [part, rule] : readTextTable(r, "rules")) of(part).rule = rule;
    for (const auto& [part, share] : readTextTable(r, "shares")) {
        char* end = nullptr;
        const double value = std::strtod(share.c_str(), &end);
        if (share.empty() || *end != '\0') r.refuse("shares", "'" + share + "'", "a number from -1 to 1");
        else of(part).share = value;
    }
    if (test.expected.empty()) r.refuse("answers", "", "answers = { id = \"52 m\" }, with rules or shares beside them");
    r.finish();
    return test;
}

}  // namespace linefall
