#include "marking/roster.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/problem.h"
#include "marking/csv.h"

namespace linefall {

namespace {

std::string trimmed(const std::string& text) {
    const std::size_t begin = text.find_first_not_of(" \t\r\n");
    return begin == std::string::npos ? "" : text.substr(begin, text.find_last_not_of(" \t\r\n") - begin + 1);
}

std::string listed(const std::vector<std::string>& names) {
    std::string out;
    for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
    return out;
}

/// The column that the map names, else the first of the usual names that is there; -1 when none is.
int columnOf(const CsvTable& table, const std::string& named, const std::vector<std::string>& usual, const std::string& what,
             const std::string& path, Problems& problems) {
    if (!named.empty()) {
        const int column = table.column(named);
        if (column < 0) {
            problems.push_back({{path, 1, 1}, what, "no column '" + named + "'", "one of " + listed(table.head), nearestName(named, table.head)});
        }
        return column;
    }
    for (const std::string& name : usual) {
        if (const int column = table.column(name); column >= 0) return column;
    }
    return -1;
}

}  // namespace

ColumnMap readColumns(const std::string& text) {
    ColumnMap map;
    Problems problems;
    const std::vector<std::string> keys{"id", "name", "score", "max", "feedback", "separator"};
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(',', at), text.size());
        const std::string pair = text.substr(at, end - at);
        at = end + 1;
        const std::size_t equals = pair.find('=');
        const std::string key = keyOf(pair.substr(0, equals));
        const std::string value = equals == std::string::npos ? "" : trimmed(pair.substr(equals + 1));
        if (value.empty()) {
            problems.push_back({{"--columns", 0, 0}, "", "'" + pair + "'", "KEY=COLUMN, for example id=matriculation,name=student", ""});
        } else if (key == "id") map.id = value;
        else if (key == "name") map.name = value;
        else if (key == "score") map.score = value;
        else if (key == "max") map.most = value;
        else if (key == "feedback") map.feedback = value;
        else if (key != "separator") problems.push_back({{"--columns", 0, 0}, "", "'" + key + "'", "one of " + listed(keys), nearestName(key, keys)});
        else if (value == "comma") map.separator = ',';
        else if (value == "semicolon" || value == ";") map.separator = ';';
        else if (value == "tab") map.separator = '\t';
        else problems.push_back({{"--columns", 0, 0}, "separator", "'" + value + "'", "comma, semicolon or tab", ""});
    }
    if (!problems.empty()) throw InputError(problems);
    return map;
}

const RosterEntry* Roster::find(const std::string& key) const {
    const auto at = by_key.find(key);
    return at == by_key.end() ? nullptr : &students[at->second];
}

Roster readRoster(const std::string& path, const ColumnMap& columns) {
    const CsvTable table = readCsvFile(path, columns.separator);
    Problems problems;
    const int id = columnOf(table, columns.id, {"id", "student", "student id", "matriculation", "username"}, "id", path, problems);
    const int name = columnOf(table, columns.name, {"name", "full name"}, "name", path, problems);
    if (id < 0 && columns.id.empty()) {
        problems.push_back({{path, 1, 1}, "id", "the columns " + listed(table.head), "a column \"id\", or --columns id=NAME", ""});
    }
    if (!problems.empty()) throw InputError(problems);
    Roster roster;
    roster.id_column = trimmed(table.head[static_cast<std::size_t>(id)]);
    if (name >= 0) roster.name_column = trimmed(table.head[static_cast<std::size_t>(name)]);
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        const std::vector<std::string>& row = table.rows[i];
        RosterEntry entry{trimmed(row[static_cast<std::size_t>(id)]), name < 0 ? "" : trimmed(row[static_cast<std::size_t>(name)]), table.lines[i]};
        if (entry.id.empty()) {
            roster.problems.push_back(fmt::format("line {}: no id", entry.line));
        } else if (!roster.by_key.emplace(keyOf(entry.id), roster.students.size()).second) {
            roster.problems.push_back(fmt::format("line {}: {} stands there twice", entry.line, entry.id));
        } else {
            roster.students.push_back(entry);
        }
    }
    return roster;
}

}  // namespace linefall
