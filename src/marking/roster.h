#pragma once
// Who is expected to hand in: a lecturer's table, read by the names of its columns.

#include <map>
#include <string>
#include <vector>

namespace linefall {

/// Which column of the lecturer's tables is what: "id=matriculation,name=student". The gradebook's columns get the same
/// names, so that a learning platform takes them back.
struct ColumnMap {
    std::string id, name;           ///< empty: found, see readRoster
    std::string score = "score", most = "max", feedback = "feedback";  ///< of the gradebook
    char separator = 0;             ///< of the roster; 0: found
};
/// Keys: id, name, score, max, feedback, separator (comma, semicolon, tab). Throws InputError with all that is wrong.
[[nodiscard]] ColumnMap readColumns(const std::string& text);

struct RosterEntry {
    std::string id, name;
    int line = 0;
};

struct Roster {
    std::vector<RosterEntry> students;         ///< in the order of the file
    std::map<std::string, std::size_t> by_key; ///< keyOf(id) -> index
    std::vector<std::string> problems;         ///< rows without an id, ids twice: told, and left out
    std::string id_column = "id", name_column; ///< as the file spells them; no name: empty
    [[nodiscard]] bool given() const { return !students.empty(); }
    [[nodiscard]] const RosterEntry* find(const std::string& key) const;
};
/// Without a map: the column "id", "student", "student id", "matriculation" or "username", in this order; the column "name" or "full name".
/// Throws InputError: no such column, or what readCsvFile throws.
[[nodiscard]] Roster readRoster(const std::string& path, const ColumnMap& columns);

}  // namespace linefall
