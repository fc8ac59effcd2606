#include "scene/toml_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <tuple>

#include "scene/toml_depth.h"

namespace linefall {

namespace {

constexpr std::uintmax_t most_bytes = 4u << 20;

}  // namespace

std::optional<toml::table> parseTomlFile(const std::string& path, Problems& problems) {
    const auto refuse = [&](const std::string& read, const std::string& expected) -> std::optional<toml::table> {
        problems.push_back({{path, 0, 0}, "", read, expected, ""});
        return std::nullopt;
    };
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::status(path, error);
    if (status.type() == std::filesystem::file_type::not_found) return refuse("no such file", "a TOML file");
    if (error) return refuse(error.message(), "a TOML file");
    if (!std::filesystem::is_regular_file(status)) return refuse("a folder or device", "a TOML file");
    if (std::filesystem::file_size(path, error) > most_bytes) return refuse("more than 4 MiB", "a scene file of at most 4 MiB");
    std::ifstream stream(path, std::ios::binary);
    if (!stream) return refuse(std::strerror(errno), "a file that can be read");
    std::ostringstream text;
    text << stream.rdbuf();
    return parseToml(text.str(), path, problems);
}

std::optional<toml::table> parseToml(const std::string& text, const std::string& path, Problems& problems) {
    if (const auto deep = tooDeepKey(text)) {
        problems.push_back({{path, deep->line, deep->column},
                            "",
                            "a key of more than " + std::to_string(most_key_parts) + " parts",
                            "keys of one or two parts, like flight.height",
                            ""});
        return std::nullopt;
    }
    try {
        return toml::parse(text, path);
    } catch (const toml::parse_error& e) {
        std::string what(e.description());
        if (what.find("maximum nested value depth") != std::string::npos) what = "values nested more than 256 deep";
        problems.push_back({{path, static_cast<int>(e.source().begin.line), static_cast<int>(e.source().begin.column)},
                            "",
                            what,
                            "valid TOML",
                            ""});
        return std::nullopt;
    }
}

Place placeOf(const toml::node& node, const std::string& file) {
    return {file, static_cast<int>(node.source().begin.line), static_cast<int>(node.source().begin.column)};
}

void inReadingOrder(Problems& problems) {
    std::vector<std::string> files;
    const auto rank = [&files](const std::string& file) {
        const auto found = std::find(files.begin(), files.end(), file);
        if (found != files.end()) return found - files.begin();
        files.push_back(file);
        return std::ssize(files) - 1;
    };
    std::vector<std::pair<std::tuple<std::ptrdiff_t, int, int>, Problem>> keyed;
    for (Problem& p : problems) {
        const auto at = std::tuple(rank(p.place.file), p.place.line, p.place.column);
        keyed.emplace_back(at, std::move(p));
    }
    std::stable_sort(keyed.begin(), keyed.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t i = 0; i < keyed.size(); ++i) problems[i] = std::move(keyed[i].second);
}

std::string quotedToml(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') out += '\\';
        if (byte < 0x20 || byte == 0x7f) out += fmt::format("\\u{:04x}", byte);
        else out += c;
    }
    return out + "\"";
}

std::string shown(const toml::node& node) {
    const std::string text = writtenAs(node);
    return node.is_string() ? "'" + text + "'" : text;
}

std::string writtenAs(const toml::node& node) {
    if (const auto text = node.value_exact<std::string>()) return *text;
    if (const auto number = node.value_exact<double>()) return fmt::format("{}", *number);
    if (const auto flag = node.value_exact<bool>()) return *flag ? "true" : "false";
    std::ostringstream out;
    node.visit([&out](const auto& n) {
        using N = std::decay_t<decltype(n)>;
        if constexpr (toml::is_table<N>) out << "a table";
        else if constexpr (toml::is_array<N>) out << "a list";
        else if constexpr (toml::is_value<N>) out << toml::node_view<const toml::node>(&n);
    });
    return out.str();
}

const toml::node* TableReader::find(const std::string& key, bool required) {
    known_.insert(key);
    const toml::node* node = table_.get(key);
    if (node == nullptr && required) {
        problems_.push_back({placeOf(table_, file_), fullKey(key), "", "this key; it is missing", ""});
    }
    return node;
}

Place TableReader::place(const std::string& key) const {
    const toml::node* node = table_.get(key);
    return placeOf(node != nullptr ? *node : static_cast<const toml::node&>(table_), file_);
}

void TableReader::refuse(const std::string& key, const std::string& read, const std::string& expected,
                         const std::string& nearest) {
    problems_.push_back({place(key), fullKey(key), read, expected, nearest});
}

std::string TableReader::name(const std::string& key, bool required) {
    std::string value = text(key, "", required);
    if (!has(key) || !table_.get(key)->is_string()) return value;
    const auto control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; };
    if (value.empty() || value.size() > 80 || std::any_of(value.begin(), value.end(), control)) {
        refuse(key, "'" + value + "'", "a name of 1 to 80 letters, without control characters");
        return "";
    }
    return value;
}

std::string TableReader::text(const std::string& key, const std::string& fallback, bool required) {
    const toml::node* node = find(key, required);
    if (node == nullptr) return fallback;
    if (const auto value = node->value_exact<std::string>()) return *value;
    refuse(key, shown(*node), "text in quotes");
    return fallback;
}

double TableReader::quantity(const std::string& key, Kind kind, double fallback, double least, double most, bool required) {
    const toml::node* node = find(key, required);
    if (node == nullptr) return fallback;
    const Parameter row{fullKey(key), kind, fallback, least, most, false, {}, {}, "", false};
    const auto value = readValue(row, writtenAs(*node), placeOf(*node, file_), problems_);
    return value ? std::get<double>(*value) : fallback;
}

int TableReader::whole(const std::string& key, int fallback, int least, int most, bool required) {
    return static_cast<int>(quantity(key, Kind::count, fallback, least, most, required));
}

bool TableReader::flag(const std::string& key, bool fallback) {
    const toml::node* node = find(key, false);
    if (node == nullptr) return fallback;
    if (const auto value = node->value_exact<bool>()) return *value;
    refuse(key, shown(*node), "true or false");
    return fallback;
}

int TableReader::choice(const std::string& key, const std::vector<std::string>& words, int fallback, bool required) {
    const toml::node* node = find(key, required);
    if (node == nullptr) return fallback;
    const std::string written = writtenAs(*node);
    std::string list;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == written) return static_cast<int>(i);
        list += (list.empty() ? "" : ", ") + words[i];
    }
    refuse(key, "'" + written + "'", "one of " + list, nearestName(written, words));
    return fallback;
}

const toml::table* TableReader::table(const std::string& key) {
    const toml::node* node = find(key, false);
    if (node == nullptr) return nullptr;
    if (const toml::table* t = node->as_table()) return t;
    refuse(key, shown(*node), "a table [" + fullKey(key) + "]");
    return nullptr;
}

std::vector<const toml::table*> TableReader::tables(const std::string& key) {
    std::vector<const toml::table*> out;
    const toml::node* node = find(key, false);
    if (node == nullptr) return out;
    const toml::array* array = node->as_array();
    if (array == nullptr || !array->is_homogeneous<toml::table>()) {
        refuse(key, shown(*node), "tables [[" + fullKey(key) + "]]");
        return out;
    }
    for (const toml::node& element : *array) {
        if (!enough(problems_)) out.push_back(element.as_table());
    }
    return out;
}

const toml::node* TableReader::node(const std::string& key) {
    return find(key, false);
}

void TableReader::finish() {
    for (const auto& entry : table_) {
        const std::string key(entry.first.str());
        if (known_.count(key) != 0 || enough(problems_)) continue;
        const std::vector<std::string> known(known_.begin(), known_.end());
        const Place place{file_, static_cast<int>(entry.first.source().begin.line),
                          static_cast<int>(entry.first.source().begin.column)};
        std::string list;
        for (const std::string& k : known) list += (list.empty() ? "" : ", ") + k;
        problems_.push_back({place, fullKey(key), "an unknown key", "one of " + list, nearestName(key, known)});
    }
}

void readSettings(const toml::table& table, const std::string& file, const std::string& prefix,
                  const std::vector<Parameter>& rows, Layer layer, const std::set<std::string>& others, Settings& settings,
                  Problems& problems) {
    for (const auto& entry : table) {
        const std::string name(entry.first.str());
        if (others.count(name) != 0 || enough(problems)) continue;
        const std::string key = prefix + name;
        const Place key_place{file, static_cast<int>(entry.first.source().begin.line),
                              static_cast<int>(entry.first.source().begin.column)};
        const Parameter* row = nullptr;
        std::vector<std::string> known;
        for (const Parameter& candidate : rows) {
            if (candidate.key == key) row = &candidate;
            if (candidate.key.rfind(prefix, 0) == 0) known.push_back(candidate.key.substr(prefix.size()));
        }
        if (row == nullptr) {
            const std::string nearest = nearestName(name, known);
            problems.push_back({key_place, key, "an unknown key", "a declared key (linefall keys lists them)",
                                nearest.empty() ? "" : prefix + nearest});
            continue;
        }
        if (entry.second.is_table() || entry.second.is_array()) {
            problems.push_back({key_place, key, writtenAs(entry.second), rangeText(*row), ""});
            continue;
        }
        if (const auto value = readValue(*row, writtenAs(entry.second), placeOf(entry.second, file), problems)) {
            settings.give(*row, {*value, key_place, layer}, problems);
        }
    }
}

}  // namespace linefall
