#pragma once
// Keys of TOML may be nested by dots without end (a.a.a.a ...), and the parser's tables are then taken down by a
// recursion as deep. Such a text is found before it is parsed.

#include <optional>
#include <string_view>

namespace linefall {

/// Parts that one dotted key or table header may have. No scene key has more than three.
constexpr int most_key_parts = 32;

struct TextPosition {
    int line = 1, column = 1;
};

/// Where the first key of more than most_key_parts parts goes too far, or nothing. Strings and comments are stepped over
/// as TOML 1.0 defines them; a text that is broken before that place is left to the parser.
[[nodiscard]] std::optional<TextPosition> tooDeepKey(std::string_view text);

}  // namespace linefall
