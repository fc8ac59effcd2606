#pragma once
// Reading TOML tables against what is declared: every key is asked for once, every problem is collected with its place.

#define TOML_HEADER_ONLY 0
#include <toml++/toml.h>

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/parameter.h"
#include "base/problem.h"

namespace linefall {

/// So many problems are collected; then reading goes on without telling more.
constexpr std::size_t most_problems = 200;
[[nodiscard]] inline bool enough(const Problems& problems) {
    return problems.size() >= most_problems;
}

/// Parses a file of at most 4 MiB; adds problems and returns nothing when it cannot.
[[nodiscard]] std::optional<toml::table> parseTomlFile(const std::string& path, Problems& problems);
/// The same for a text that is said to come from `path`.
[[nodiscard]] std::optional<toml::table> parseToml(const std::string& text, const std::string& path, Problems& problems);

[[nodiscard]] Place placeOf(const toml::node& node, const std::string& file);
/// What stands in the file, for messages: strings as they are, other values as TOML writes them.
[[nodiscard]] std::string writtenAs(const toml::node& node);
/// The same for people: strings in quotes.
[[nodiscard]] std::string shown(const toml::node& node);
/// A text as a TOML string: in quotes, with quotes, backslashes and control characters escaped.
[[nodiscard]] std::string quotedToml(const std::string& text);
/// Sorts by line within each file; files stay in the order of their first problems.
void inReadingOrder(Problems& problems);

/// Reads the keys of one table, each at most once; `finish` reports the ones that nobody asked for.
class TableReader {
public:
    TableReader(const toml::table& table, std::string file, std::string name, Problems& problems)
        : table_(table), file_(std::move(file)), name_(std::move(name)), problems_(problems) {}

    [[nodiscard]] bool has(const std::string& key) const { return table_.contains(key); }
    std::string text(const std::string& key, const std::string& fallback, bool required = false);
    double quantity(const std::string& key, Kind kind, double fallback, double least, double most, bool required = false);
    int whole(const std::string& key, int fallback, int least, int most, bool required = false);
    bool flag(const std::string& key, bool fallback);
    /// Index into `words`.
    int choice(const std::string& key, const std::vector<std::string>& words, int fallback, bool required = false);
    const toml::table* table(const std::string& key);
    /// Tables of an array of tables; a problem when the key is something else.
    std::vector<const toml::table*> tables(const std::string& key);
    const toml::node* node(const std::string& key);
    /// Marks a key as known without reading it.
    void know(const std::string& key) { known_.insert(key); }
    /// A text that names something: not empty, no control characters, at most 80 bytes.
    std::string name(const std::string& key, bool required = true);
    /// The place of a key's value, or of the whole table when it is not there.
    [[nodiscard]] Place place(const std::string& key) const;
    void refuse(const std::string& key, const std::string& read, const std::string& expected, const std::string& nearest = "");
    void finish();

    [[nodiscard]] const std::string& file() const { return file_; }
    [[nodiscard]] const toml::table& raw() const { return table_; }
    [[nodiscard]] Problems& problems() { return problems_; }

private:
    [[nodiscard]] std::string fullKey(const std::string& key) const { return name_.empty() ? key : name_ + "." + key; }
    const toml::node* find(const std::string& key, bool required);

    const toml::table& table_;
    std::string file_, name_;
    Problems& problems_;
    std::set<std::string> known_;
};

/// Gives every key of `table` that `rows` declares under `prefix` to the settings; unknown keys are problems unless in
/// `others`.
void readSettings(const toml::table& table, const std::string& file, const std::string& prefix,
                  const std::vector<Parameter>& rows, Layer layer, const std::set<std::string>& others, Settings& settings,
                  Problems& problems);

}  // namespace linefall
