#include "scene/toml_depth.h"

namespace linefall {

namespace {

/// The index after a string that begins at `at`, or npos when it does not end.
std::size_t afterString(std::string_view text, std::size_t at) {
    const char quote = text[at];
    const bool many_lines = text.substr(at, 3) == std::string_view(quote == '"' ? "\"\"\"" : "'''");
    std::size_t i = at + (many_lines ? 3 : 1);
    while (i < text.size()) {
        if (quote == '"' && text[i] == '\\') {
            i += 2;
        } else if (text[i] == quote) {
            if (!many_lines) return i + 1;
            std::size_t quotes = 0;
            while (i + quotes < text.size() && text[i + quotes] == quote) ++quotes;
            i += quotes;
            if (quotes >= 3) return i;  // up to two more quotes belong to the text itself
        } else if (text[i] == '\n' && !many_lines) {
            return std::string_view::npos;
        } else {
            ++i;
        }
    }
    return std::string_view::npos;
}

}  // namespace

std::optional<TextPosition> tooDeepKey(std::string_view text) {
    TextPosition place;
    std::size_t line_begin = 0;
    int parts = 1;
    for (std::size_t i = 0; i < text.size();) {
        switch (text[i]) {
            case '"':
            case '\'': {
                const std::size_t after = afterString(text, i);
                if (after == std::string_view::npos) return std::nullopt;
                for (std::size_t k = i; k < after; ++k) {
                    if (text[k] != '\n') continue;
                    ++place.line;
                    line_begin = k + 1;
                }
                i = after;
                continue;
            }
            case '#':
                while (i < text.size() && text[i] != '\n') ++i;
                continue;
            case '\n':
                ++place.line;
                line_begin = i + 1;
                parts = 1;
                break;
            case '=':
            case ',':
            case '{':
            case '[':
            case ']':
            case '}':
                parts = 1;
                break;
            case '.':
                if (++parts > most_key_parts) {
                    place.column = static_cast<int>(i - line_begin) + 1;
                    return place;
                }
                break;
            default:
                break;
        }
        ++i;
    }
    return std::nullopt;
}

}  // namespace linefall
