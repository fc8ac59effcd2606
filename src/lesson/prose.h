#pragma once
// The text of a lesson: CommonMark as a small tree that a terminal, a page and a window can each show in their own way.
// Raw HTML is text like any other; nothing is fetched and nothing runs.

#include <functional>
#include <string>
#include <vector>

#include "base/problem.h"

namespace linefall {

/// One piece of text. Blocks hold blocks or inlines; inlines hold inlines.
struct Prose {
    enum class Kind {
        // blocks
        paragraph, heading, bullets, numbered, item, quote, code, rule,
        // inlines
        text, emphasis, strong, code_text, link, image, line_break,
    } kind = Kind::paragraph;
    int level = 0;            ///< heading: 1 to 6; numbered: the first number
    std::string text;         ///< text, code, code_text: as written; heading and others: empty
    std::string target;       ///< link, image: where it leads
    std::string info;         ///< code: what stands behind the fence, "toml number"
    int line = 0;             ///< in the file, from 1; 0 when not known
    std::vector<Prose> parts;
};

using Fill = std::function<std::string(const std::string&)>;

/// The blocks of a CommonMark text that stands in `file` from line `first_line` on. Lists, quotes and emphasis may be nested
/// at most 30 deep: more is a problem. Throws InputError.
[[nodiscard]] std::vector<Prose> readProse(const std::string& text, const std::string& file, int first_line = 1);

/// The words of a piece and all its parts, without marks; an image is its alternative text.
[[nodiscard]] std::string wordsOf(const Prose& piece);
/// Lines of at most `width` characters for a terminal; lists with "-" and numbers, quotes and code indented.
[[nodiscard]] std::string plainText(const std::vector<Prose>& blocks, int width = 78);
/// HTML without any element that could run or fetch: links open as text and target; images by `image`, which is given the
/// target and the alternative text and returns an element. Everything from the lesson is escaped.
[[nodiscard]] std::string htmlText(const std::vector<Prose>& blocks, const std::function<std::string(const std::string&, const std::string&)>& image);
/// & < > " ' as entities; control characters left out.
[[nodiscard]] std::string escapedHtml(const std::string& text);

/// A copy in which each {name} of the words (not of code) is what `fill` gives for it.
[[nodiscard]] std::vector<Prose> filled(std::vector<Prose> blocks, const Fill& fill);
/// The same for one text. "{{" stands for a brace. What `fill` throws goes on.
[[nodiscard]] std::string filledText(const std::string& text, const Fill& fill);
/// The names in braces, each once.
[[nodiscard]] std::vector<std::string> namesIn(const std::string& text);

}  // namespace linefall
