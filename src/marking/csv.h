#pragma once
// Tables as text with separators: RFC 4180 (Shafranovich 2005), what spreadsheets and learning platforms exchange.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace linefall {

/// A cell's text made harmless: a spreadsheet takes a cell that begins with = + - @, a tab or a line's end for a formula, so
/// that such a text gets an apostrophe in front. Bytes that are not UTF-8 become U+FFFD, control characters but tab and
/// line ends are left out.
[[nodiscard]] std::string neutralised(std::string_view text);

/// Writes rows that end in CR LF, separated by commas, cells in quotes where they must be. UTF-8 without a mark at the front.
class CsvWriter {
public:
    explicit CsvWriter(const std::vector<std::string>& head);
    /// Words from a person, a file or a lesson: neutralised.
    CsvWriter& text(std::string_view text);
    /// A number of our own, with a point and up to ten significant figures; empty when it is not finite.
    CsvWriter& number(double value);
    CsvWriter& figures(double value);      ///< of a statistic: four significant figures
    CsvWriter& whole(long long value);
    CsvWriter& blank();
    void end();
    [[nodiscard]] const std::string& out() const { return out_; }

private:
    void cell(const std::string& text);
    std::string out_;
    bool first_ = true;
};

/// The rows of a file, each with as many cells as the head.
struct CsvTable {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;
    std::vector<int> lines;  ///< in the file, from 1, of each row
    char separator = ',';
    /// The column of that name (blanks at the ends and upper case aside), or -1.
    [[nodiscard]] int column(std::string_view name) const;
};

constexpr std::size_t most_csv_bytes = 32u << 20;
constexpr std::size_t most_csv_rows = 200000;
constexpr std::size_t most_csv_columns = 500;

/// Reads a table whose first row names the columns. Quotes, doubled quotes, line ends inside quotes, CR LF or LF, a mark at
/// the front (U+FEFF); empty lines are left out, missing cells at a row's end are empty. `separator`: 0 finds it, the one of
/// comma, semicolon and tab that the head holds most often. Throws InputError: not UTF-8, an open quote, no head, a name
/// twice, more cells than the head has, more than the limits.
[[nodiscard]] CsvTable readCsv(const std::string& text, const std::string& file, char separator = 0);
/// The same from a file. Throws InputError.
[[nodiscard]] CsvTable readCsvFile(const std::string& path, char separator = 0);

/// The number of bytes of the UTF-8 character at `at`, 0 when there is none that is sound.
[[nodiscard]] std::size_t utf8Length(std::string_view text, std::size_t at);
/// Blanks at the ends left out, ASCII letters in lower case: how ids and the names of columns are compared.
[[nodiscard]] std::string keyOf(std::string_view text);

}  // namespace linefall
