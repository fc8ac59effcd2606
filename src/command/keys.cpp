#include <fmt/format.h>

#include <iostream>
#include <map>
#include <nlohmann/json.hpp>

#include "command/command.h"

namespace linefall {

using nlohmann::ordered_json;

namespace {

struct Row {
    Parameter parameter;
    std::string kinds;  ///< instrument kinds that know it; empty: every scene
};

/// Scene keys, then instrument keys, each once; a key that several kinds declare alike stands once.
std::vector<Row> allRows() {
    std::vector<Row> rows;
    for (const Parameter& p : sceneRows()) rows.push_back({p, ""});
    for (const InstrumentKind& kind : instrumentKinds()) {
        for (const Parameter& p : kind.rows) {
            Row* same = nullptr;
            for (Row& row : rows) {
                if (row.parameter.key == p.key && row.parameter.help == p.help && rangeText(row.parameter) == rangeText(p)) same = &row;
            }
            if (same == nullptr) rows.push_back({p, kind.name});
            else same->kinds += ", " + kind.name;
        }
    }
    return rows;
}

std::string unitList(Kind kind) {
    std::string out;
    for (const std::string& unit : unitsOf(kind)) {
        if (!unit.empty()) out += (out.empty() ? "" : " ") + unit;
    }
    return out;
}

}  // namespace

int runKeys(bool json) {
    ordered_json out = ordered_json::array();
    for (const Row& row : allRows()) {
        const Parameter& p = row.parameter;
        std::string instead;
        for (const std::string& partner : p.partners) instead += (instead.empty() ? "" : ", ") + partner;
        if (json) {
            ordered_json entry{{"key", p.key}, {"kind", std::string(nameOf(p.kind))}, {"units", unitsOf(p.kind)},
                               {"range", rangeText(p)}, {"default", exactText(p, p.default_value)}, {"help", p.help}};
            if (!p.choices.empty()) entry["choices"] = p.choices;
            if (!p.partners.empty()) entry["instead_of"] = p.partners;
            if (!row.kinds.empty()) entry["instruments"] = row.kinds;
            out.push_back(entry);
            continue;
        }
        fmt::print("{}\n    {}\n    {}; default {}", p.key, p.help, rangeText(p), p.kind == Kind::text && exactText(p, p.default_value).empty() ? "none" : std::holds_alternative<double>(p.default_value) ? shortText(std::get<double>(p.default_value), p.kind, 7) : exactText(p, p.default_value));
        if (const std::string units = unitList(p.kind); !units.empty()) fmt::print("; units {}", units);
        if (!instead.empty()) fmt::print("; in place of {}", instead);
        if (!row.kinds.empty()) fmt::print("; {}", row.kinds);
        fmt::print("\n");
    }
    if (json) std::cout << out.dump(2) << '\n';
    return 0;
}

int runInspect(const std::vector<std::string>& files) {
    bool sound = true;
    for (const std::string& file : files) {
        const Problems problems = inspectFile(file);
        if (problems.empty()) {
            std::cout << file << ": sound\n";
            continue;
        }
        sound = false;
        std::cerr << textOf(problems) << '\n';
    }
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
    if (json) std::cout << out.dump(2) << '\n';
    return 0;
}

}  // namespace linefall
