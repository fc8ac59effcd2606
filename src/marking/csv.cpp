#include "marking/csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>

#include "base/problem.h"

namespace linefall {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, const std::string& key, const std::string& read, const std::string& expected) {
    throw InputError(Problem{{file, line, line > 0 ? 1 : 0}, key, read, expected, ""});
}

char foundSeparator(std::string_view text) {
    std::size_t commas = 0, semicolons = 0, tabs = 0;
    bool quoted = false;
    for (const char c : text) {
        if (c == '"') quoted = !quoted;
        if (quoted) continue;
        if (c == '\n' || c == '\r') break;
        commas += c == ',' ? 1 : 0;
        semicolons += c == ';' ? 1 : 0;
        tabs += c == '\t' ? 1 : 0;
    }
    if (semicolons > commas && semicolons >= tabs) return ';';
    return tabs > commas ? '\t' : ',';
}

/// Cuts a text into rows of cells.
class Cutter {
public:
    Cutter(std::string_view text, const std::string& file, char separator) : text_(text), file_(file), separator_(separator) {}

    /// False at the end. `line` is where the row begins.
    bool next(std::vector<std::string>& row, int& line) {
        row.clear();
        if (at_ >= text_.size()) return false;
        line = line_;
        std::string cell;
        while (true) {
            if (at_ < text_.size() && text_[at_] == '"') quoted(cell);
            while (at_ < text_.size() && text_[at_] != separator_ && text_[at_] != '\n' && text_[at_] != '\r') cell += text_[at_++];
            row.push_back(cell);
            cell.clear();
            if (row.size() > most_csv_columns) refuse(file_, line_, "", "a row of more", fmt::format("at most {} columns", most_csv_columns));
            if (at_ >= text_.size() || text_[at_] != separator_) break;
            ++at_;
        }
        if (at_ < text_.size() && text_[at_] == '\r') ++at_;
        if (at_ < text_.size() && text_[at_] == '\n') ++at_;
        ++line_;
        return true;
    }

private:
    void quoted(std::string& cell) {
        const int began = line_;
        for (++at_; at_ < text_.size(); ++at_) {
            if (text_[at_] == '"') {
                if (at_ + 1 >= text_.size() || text_[at_ + 1] != '"') {
                    ++at_;
                    return;
                }
                ++at_;
            }
            if (text_[at_] == '\n') ++line_;
            cell += text_[at_];
        }
        refuse(file_, began, "", "a quote that is never closed", "a second \" at the end of the cell");
    }

    std::string_view text_;
    const std::string& file_;
    char separator_;
    std::size_t at_ = 0;
    int line_ = 1;
};

bool empty(const std::vector<std::string>& row) {
    return std::all_of(row.begin(), row.end(), [](const std::string& cell) { return keyOf(cell).empty(); });
}

void checkUtf8(std::string_view text, const std::string& file) {
    int line = 1;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = utf8Length(text, at);
        if (length == 0 || text[at] == '\0') {
            refuse(file, line, "", fmt::format("the byte {:02X}", static_cast<unsigned char>(text[at])), "text in UTF-8: save the table as CSV UTF-8");
        }
        if (text[at] == '\n') ++line;
        at += length;
    }
}

}  // namespace

std::size_t utf8Length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u; };
    const unsigned first = byte(at);
    if (first < 0x80u) return at < text.size() ? 1 : 0;
    const std::size_t length = first >= 0xC2u && first < 0xE0u ? 2 : first >= 0xE0u && first < 0xF0u ? 3 : first >= 0xF0u && first < 0xF5u ? 4 : 0;
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0u) != 0x80u) return 0;
    }
    const unsigned second = byte(at + 1);
    const bool overlong = (first == 0xE0u && second < 0xA0u) || (first == 0xF0u && second < 0x90u);
    const bool outside = (first == 0xEDu && second >= 0xA0u) || (first == 0xF4u && second >= 0x90u);
    return overlong || outside ? 0 : length;
}

std::string keyOf(std::string_view text) {
    const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && blank(text.back())) text.remove_suffix(1);
    std::string out(text);
    for (char& c : out) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return out;
}

std::string neutralised(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = utf8Length(text, at);
        const auto byte = static_cast<unsigned char>(text[at]);
        if (length == 0) out += "\xEF\xBF\xBD";
        else if (length > 1 || (byte >= 0x20u && byte != 0x7Fu) || byte == '\t' || byte == '\n' || byte == '\r') out.append(text.substr(at, length));
        at += std::max<std::size_t>(length, 1);
    }
    if (!out.empty() && std::string_view("=+-@\t\r\n").find(out.front()) != std::string_view::npos) out.insert(out.begin(), '\'');
    return out;
}

CsvWriter::CsvWriter(const std::vector<std::string>& head) {
    for (const std::string& name : head) text(name);
    end();
}

void CsvWriter::cell(const std::string& text) {
    if (!first_) out_ += ',';
    first_ = false;
    const bool blanks = !text.empty() && (text.front() == ' ' || text.back() == ' ');
    if (!blanks && text.find_first_of(",;\"\t\r\n") == std::string::npos) {
        out_ += text;
        return;
    }
    out_ += '"';
    for (const char c : text) out_ += c == '"' ? std::string("\"\"") : std::string(1, c);
    out_ += '"';
}

CsvWriter& CsvWriter::text(std::string_view text) {
    cell(neutralised(text));
    return *this;
}

CsvWriter& CsvWriter::number(double value) {
    std::string text = std::isfinite(value) ? fmt::format("{:.10g}", value) : "";
    cell(text == "-0" ? "0" : text);
    return *this;
}

CsvWriter& CsvWriter::figures(double value) {
    return number(std::isfinite(value) ? std::strtod(fmt::format("{:.4g}", value).c_str(), nullptr) : value);
}

CsvWriter& CsvWriter::whole(long long value) {
    cell(std::to_string(value));
    return *this;
}

CsvWriter& CsvWriter::blank() {
    cell("");
    return *this;
}

void CsvWriter::end() {
    out_ += "\r\n";
    first_ = true;
}

int CsvTable::column(std::string_view name) const {
    const std::string wanted = keyOf(name);
    for (std::size_t i = 0; i < head.size(); ++i) {
        if (keyOf(head[i]) == wanted) return static_cast<int>(i);
    }
    return -1;
}

CsvTable readCsv(const std::string& whole, const std::string& file, char separator) {
    if (whole.size() > most_csv_bytes) refuse(file, 0, "", fmt::format("{} bytes", whole.size()), fmt::format("at most {} MiB", most_csv_bytes >> 20));
    std::string_view text = whole;
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    checkUtf8(text, file);
    CsvTable table;
    table.separator = separator != 0 ? separator : foundSeparator(text);
    Cutter cutter(text, file, table.separator);
    std::vector<std::string> row;
    int line = 0;
    while (cutter.next(row, line)) {
        if (empty(row)) continue;
        if (table.head.empty()) {
            std::set<std::string> names;
            for (const std::string& name : row) {
                if (!keyOf(name).empty() && !names.insert(keyOf(name)).second) refuse(file, line, "", "the column '" + name + "' twice", "one column of each name");
            }
            table.head = row;
            continue;
        }
        while (row.size() > table.head.size() && row.back().empty()) row.pop_back();
        if (row.size() > table.head.size()) {
            refuse(file, line, "", fmt::format("{} cells", row.size()), fmt::format("at most {}, as many as the first row names", table.head.size()));
        }
        if (table.rows.size() >= most_csv_rows) refuse(file, line, "", "one row more", fmt::format("at most {} rows", most_csv_rows));
        row.resize(table.head.size());
        table.rows.push_back(row);
        table.lines.push_back(line);
    }
    if (table.head.empty()) refuse(file, 0, "", "nothing", "a first row that names the columns");
    return table;
}

CsvTable readCsvFile(const std::string& path, char separator) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) refuse(path, 0, "", "no file", "a table as CSV");
    std::ifstream in(path, std::ios::binary);
    std::string text(most_csv_bytes + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (in.bad() || (in.fail() && !in.eof())) refuse(path, 0, "", "a file that cannot be read", "a table as CSV");
    text.resize(static_cast<std::size_t>(in.gcount()));
    return readCsv(text, path, separator);
}

}  // namespace linefall
