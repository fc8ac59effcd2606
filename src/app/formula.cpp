#include "app/formula.h"

#include <cctype>
#include <cmath>

namespace linefall {

namespace {

constexpr float low_size = 0.74f, low_by = 0.36f;

/// A word cut into runs that stand high and low: "E_b·x" is "E", low "b", "·x".
template <class Take>
void runsOf(const std::string& word, const Take& take) {
    std::size_t at = 0;
    const bool key = word.find('.') < word.find('_');  // of a file, "air.aerosol_depth": no symbol
    while (at < word.size()) {
        const std::size_t mark = key ? std::string::npos : word.find('_', at);
        if (mark == std::string::npos || mark + 1 >= word.size()) return take(word.substr(at), false);
        if (mark > at) take(word.substr(at, mark - at), false);
        std::size_t end = mark + 1;
        while (end < word.size() && std::isalnum(static_cast<unsigned char>(word[end])) != 0) ++end;
        take(word.substr(mark + 1, end - mark - 1), true);
        at = end;
    }
}

float widthAt(ImFont* font, float size, const std::string& words) { return font->CalcTextSizeA(size, 1e6f, 0.0f, words.c_str()).x; }

float wordWidth(ImFont* font, const std::string& word) {
    float width = 0.0f;
    runsOf(word, [&](const std::string& run, bool low) { width += widthAt(font, (low ? low_size : 1.0f) * font->FontSize, run); });
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
    float at_x = x, at_y = y;
    std::size_t at = 0;
    while (at < words.size()) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        const std::string word = words.substr(at, end - at);
        const float wide = wordWidth(font, word);
        if (at_x > x && at_x + wide > x + width) {
            at_x = x + hang;
            at_y += leading;
        }
        runsOf(word, [&](const std::string& run, bool low) {
            const float run_size = std::round((low ? low_size : 1.0f) * size);
            ui.draw()->AddText(font, run_size, {std::round(at_x), std::round(at_y + (low ? low_by * size : 0.0f))}, colour, run.c_str());
            at_x += widthAt(font, run_size, run);
        });
        at_x += space;
        at = end + 1;
    }
    return at_y - y + leading;
}

}  // namespace linefall
