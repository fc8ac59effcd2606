#include <fmt/format.h>

#include <iostream>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/json_text.h"

namespace linefall {

using nlohmann::ordered_json;

namespace {

struct Row {
    Parameter parameter;
    std::vector<std::string> kinds;  ///< instrument kinds that know it; empty: every scene
};

/// Scene keys, then instrument keys, each once; a key that several kinds declare alike stands once.
std::vector<Row> allRows() {
    std::vector<Row> rows;
    for (const Parameter& p : sceneRows()) rows.push_back({p, {}});
    for (const InstrumentKind& kind : instrumentKinds()) {
        for (const Parameter& p : kind.rows) {
            Row* same = nullptr;
            for (Row& row : rows) {
                if (row.parameter.key == p.key && row.parameter.help == p.help && rangeText(row.parameter) == rangeText(p))
                    same = &row;
            }
            if (same == nullptr) rows.push_back({p, {kind.name}});
            else same->kinds.push_back(kind.name);
        }
    }
    return rows;
}

std::string joined(const std::vector<std::string>& words, const char* between) {
    std::string out;
    for (const std::string& word : words) {
        if (!word.empty()) out += (out.empty() ? "" : between) + word;
    }
    return out;
}

bool isNumber(const Parameter& p) {
    return p.kind != Kind::flag && p.kind != Kind::choice && p.kind != Kind::text;
}

std::string defaultText(const Parameter& p) {
    if (const double* number = std::get_if<double>(&p.default_value)) return shortText(*number, p.kind, 7);
    const std::string text = exactText(p, p.default_value);
    return text.empty() ? "none" : text;
}

ordered_json rowJson(const Row& row) {
    const Parameter& p = row.parameter;
    ordered_json entry{{"key", p.key},          {"kind", std::string(nameOf(p.kind))},      {"units", unitsOf(p.kind)},
                       {"range", rangeText(p)}, {"default", exactText(p, p.default_value)}, {"help", p.help}};
    if (isNumber(p)) {  // the numbers of the range, in the core's unit
        entry["unit"] = std::string(coreUnit(p.kind));
        entry["least"] = p.least;
        entry["most"] = p.most;
    }
    if (!p.choices.empty()) entry["choices"] = p.choices;
    if (!p.partners.empty()) entry["instead_of"] = p.partners;
    if (!row.kinds.empty()) entry["instruments"] = row.kinds;
    return entry;
}

void printRow(const Row& row) {
    const Parameter& p = row.parameter;
    fmt::print("{}\n    {}\n    {}; default {}", p.key, p.help, rangeText(p), defaultText(p));
    if (const std::string units = joined(unitsOf(p.kind), " "); !units.empty()) fmt::print("; units {}", units);
    if (!p.partners.empty()) fmt::print("; in place of {}", joined(p.partners, ", "));
    if (!row.kinds.empty()) fmt::print("; {}", joined(row.kinds, ", "));
    fmt::print("\n");
}

}  // namespace

int runKeys(bool json) {
    ordered_json out = ordered_json::array();
    for (const Row& row : allRows()) {
        if (json) out.push_back(rowJson(row));
        else printRow(row);
    }
    if (json) std::cout << jsonText(out);
    return 0;
}

int runInspect(const std::vector<std::string>& files, bool json) {
    bool sound = true;
    ordered_json out = ordered_json::array();
    for (const std::string& file : files) {
        const Problems problems = inspectFile(file);
        sound = sound && problems.empty();
        ordered_json list = ordered_json::array();
        for (const Problem& p : problems) {
            list.push_back({{"file", p.place.file},
                            {"line", p.place.line},
                            {"column", p.place.column},
                            {"key", p.key},
                            {"read", p.read},
                            {"expected", p.expected},
                            {"nearest", p.nearest},
                            {"text", p.text()}});
        }
        out.push_back({{"file", file}, {"sound", problems.empty()}, {"problems", list}});
        if (!problems.empty()) std::cerr << textOf(problems) << '\n';
        else if (!json) std::cout << file << ": sound\n";
    }
    if (json) std::cout << jsonText(out);
    return sound ? 0 : 2;
}

int runList(bool json) {
    ordered_json out;
    for (const char* folder : {"places", "instruments", "flights"}) {
        if (!json) fmt::print("{}\n", folder);
        out[folder] = ordered_json::array();
        for (const Listed& listed : listScenes(folder)) {
            out[folder].push_back({{"name", listed.name}, {"title", listed.title}, {"description", listed.description}});
            if (!json) fmt::print("  {:<18}{}\n  {:<18}{}\n", listed.name, listed.title, "", listed.description);
        }
    }
    if (json) std::cout << jsonText(out);
    return 0;
}

}  // namespace linefall
