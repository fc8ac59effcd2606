#include "app/formula.h"

#include <cctype>
#include <cmath>

namespace linefall {

namespace {

enum class Stand { level, low, raised };
constexpr float small_size = 0.74f, low_by = 0.36f, raised_by = -0.10f;

float sizeOf(Stand stand) { return stand == Stand::level ? 1.0f : small_size; }
float shiftOf(Stand stand) { return stand == Stand::low ? low_by : stand == Stand::raised ? raised_by : 0.0f; }

/// Where a subscript or an exponent that begins at `at` ends: at the next sign, or at its own closing bracket.
std::size_t endOfSmall(const std::string& word, std::size_t at) {
    if (word[at] == '(') return std::min(word.find(')', at), word.size() - 1) + 1;
    while (at < word.size() && (std::isalnum(static_cast<unsigned char>(word[at])) != 0 || (word[at] == '.' && at + 1 < word.size() && std::isdigit(static_cast<unsigned char>(word[at + 1])) != 0))) ++at;
    return at;
}

/// A word cut into runs on the line, below it and above it: "E_b·2^x" is "E", low "b", "·2", raised "x".
template <class Take>
void runsOf(const std::string& word, const Take& take) {
    std::size_t at = 0;
    const bool key = word.find('.') < word.find('_');  // of a file, "air.aerosol_depth": no symbol
    while (at < word.size()) {
        const std::size_t mark = word.find_first_of(key ? "^" : "_^", at);
        if (mark == std::string::npos || mark + 1 >= word.size()) return take(word.substr(at), Stand::level);
        if (mark > at) take(word.substr(at, mark - at), Stand::level);
        const std::size_t end = endOfSmall(word, mark + 1);
        const bool bracket = word[mark + 1] == '(';
        take(word.substr(mark + 1 + (bracket ? 1 : 0), end - mark - 1 - (bracket ? 2 : 0)), word[mark] == '_' ? Stand::low : Stand::raised);
        at = std::max(end, mark + 1);
    }
}

float widthAt(ImFont* font, float size, const std::string& words) { return font->CalcTextSizeA(size, 1e6f, 0.0f, words.c_str()).x; }

float wordWidth(ImFont* font, const std::string& word) {
    float width = 0.0f;
    runsOf(word, [&](const std::string& run, Stand stand) { width += widthAt(font, sizeOf(stand) * font->FontSize, run); });
    return width;
}

}  // namespace

float formulaWidth(const Ui&, ImFont* font, const std::string& words) {
    float width = 0.0f;
    std::size_t at = 0;
    while (at <= words.size()) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        width += wordWidth(font, words.substr(at, end - at)) + (at > 0 ? widthAt(font, font->FontSize, " ") : 0.0f);
        at = end + 1;
    }
    return width;
}

float drawFormula(Ui& ui, float x, float y, float width, ImFont* font, ImU32 colour, const std::string& words, float hang) {
    const float size = font->FontSize, leading = std::round(1.42f * size), space = widthAt(font, size, " ");
    float at_x = x, at_y = y, from_x = x;
    std::string row;
    const auto rowEnds = [&] {
        ui.watch({from_x, at_y, at_x - space - from_x, size}, row, colour);
        row.clear();
    };
    std::size_t at = 0;
    while (at < words.size()) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        const std::string word = words.substr(at, end - at);
        const float wide = wordWidth(font, word);
        if (at_x > from_x && at_x + wide > x + width) {
            rowEnds();
            from_x = at_x = x + hang;
            at_y += leading;
        }
        row += (row.empty() ? "" : " ") + word;
        runsOf(word, [&](const std::string& run, Stand stand) {
            const float run_size = std::round(sizeOf(stand) * size);
            ui.draw()->AddText(font, run_size, {std::round(at_x), std::round(at_y + shiftOf(stand) * size)}, colour, run.c_str());
            at_x += widthAt(font, run_size, run);
        });
        at_x += space;
        at = end + 1;
    }
    rowEnds();
    return at_y - y + leading;
}

}  // namespace linefall
