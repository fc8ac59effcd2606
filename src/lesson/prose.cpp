#include "lesson/prose.h"

#include <algorithm>

namespace linefall {

namespace {

bool holdsBlocks(const Prose& piece) {
    return !piece.parts.empty() && piece.parts.front().kind <= Prose::Kind::rule;
}

void gatherWords(const Prose& piece, std::string& out) {
    if (piece.kind == Prose::Kind::line_break) out += '\n';
    out += piece.text;
    for (const Prose& part : piece.parts) {
        if (part.kind <= Prose::Kind::rule && !out.empty() && out.back() != '\n') out += '\n';
        gatherWords(part, out);
    }
}

/// Characters of a UTF-8 text.
std::size_t lengthOf(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string wrapped(const std::string& words, int width, const std::string& first, const std::string& rest) {
    std::string out, line = first;
    bool empty = true;
    const auto end = [&] {
        out += line + "\n";
        line = rest;
        empty = true;
    };
    std::size_t i = 0;
    while (i < words.size()) {
        if (words[i] == '\n') end();
        if (words[i] == ' ' || words[i] == '\n') {
            ++i;
            continue;
        }
        const std::size_t last = std::min(words.find_first_of(" \n", i), words.size());
        const std::string word = words.substr(i, last - i);
        if (!empty && lengthOf(line) + 1 + lengthOf(word) > static_cast<std::size_t>(width)) end();
        line += (empty ? "" : " ") + word;
        empty = false;
        i = last;
    }
    if (!empty || out.empty()) end();
    return out;
}

void plain(const std::vector<Prose>& blocks, int width, const std::string& first, const std::string& rest, bool tight, std::string& out) {
    std::string lead = first;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        const Prose& block = blocks[i];
        if (i > 0 && !tight) out += "\n";
        switch (block.kind) {
            case Prose::Kind::bullets:
            case Prose::Kind::numbered: {
                int number = block.level;
                for (const Prose& item : block.parts) {
                    const std::string mark = block.kind == Prose::Kind::bullets ? "- " : std::to_string(number++) + ". ";
                    const std::string indent(mark.size(), ' ');
                    if (holdsBlocks(item)) {
                        plain(item.parts, width, lead + mark, rest + indent, true, out);
                    } else {
                        out += wrapped(wordsOf(item), width, lead + mark, rest + indent);
                    }
                    lead = rest;
                }
                break;
            }
            case Prose::Kind::quote: plain(block.parts, width, lead + "  ", rest + "  ", false, out); break;
            case Prose::Kind::code: {
                std::string line;
                for (const char c : block.text) {
                    if (c != '\n') {
                        line += c;
                        continue;
                    }
                    out += rest + "    " + line + "\n";
                    line.clear();
                }
                if (!line.empty()) out += rest + "    " + line + "\n";
                break;
            }
            case Prose::Kind::rule: out += rest + "---\n"; break;
            default: out += wrapped(wordsOf(block), width, lead, rest);
        }
        lead = rest;
    }
}

using ImageText = std::function<std::string(const std::string&, const std::string&)>;

void html(const Prose& piece, const ImageText& image, std::string& out) {
    const auto inside = [&](const std::string& name, const std::string& more = "") {
        out += "<" + name + more + ">";
        out += escapedHtml(piece.text);
        for (const Prose& part : piece.parts) html(part, image, out);
        out += "</" + name + ">";
        if (piece.kind <= Prose::Kind::rule) out += "\n";
    };
    switch (piece.kind) {
        case Prose::Kind::paragraph: inside("p"); break;
        case Prose::Kind::heading: inside("h" + std::to_string(std::clamp(piece.level, 1, 6))); break;
        case Prose::Kind::bullets: inside("ul"); break;
        case Prose::Kind::numbered: inside("ol", piece.level == 1 ? "" : " start=\"" + std::to_string(piece.level) + "\""); break;
        case Prose::Kind::item: inside("li"); break;
        case Prose::Kind::quote: inside("blockquote"); break;
        case Prose::Kind::code: out += "<pre>" + escapedHtml(piece.text) + "</pre>\n"; break;
        case Prose::Kind::rule: out += "<hr/>\n"; break;
        case Prose::Kind::text: out += escapedHtml(piece.text); break;
        case Prose::Kind::emphasis: inside("em"); break;
        case Prose::Kind::strong: inside("strong"); break;
        case Prose::Kind::code_text: inside("code"); break;
        case Prose::Kind::link:
            for (const Prose& part : piece.parts) html(part, image, out);
            if (!piece.target.empty()) out += " (" + escapedHtml(piece.target) + ")";
            break;
        case Prose::Kind::image: out += image(piece.target, wordsOf(piece)); break;
        case Prose::Kind::line_break: out += "<br/>"; break;
    }
}

void fill(Prose& piece, const Fill& with) {
    if (piece.kind == Prose::Kind::text) piece.text = filledText(piece.text, with);
    for (Prose& part : piece.parts) fill(part, with);
}

/// Walks a text with braces: words are given to `words`, the insides of braces to `name`.
template <class Words, class Name>
void walkBraces(const std::string& text, Words words, Name name) {
    for (std::size_t i = 0; i < text.size();) {
        if (text.compare(i, 2, "{{") == 0) {
            words('{');
            i += 2;
            continue;
        }
        const std::size_t end = text[i] == '{' ? text.find('}', i) : std::string::npos;
        if (end == std::string::npos) {
            words(text[i++]);
            continue;
        }
        name(text.substr(i + 1, end - i - 1));
        i = end + 1;
    }
}

}  // namespace

std::string wordsOf(const Prose& piece) {
    std::string out;
    gatherWords(piece, out);
    return out;
}

std::string plainText(const std::vector<Prose>& blocks, int width) {
    std::string out;
    plain(blocks, width, "", "", false, out);
    return out;
}

std::string htmlText(const std::vector<Prose>& blocks, const ImageText& image) {
    std::string out;
    for (const Prose& block : blocks) html(block, image, out);
    return out;
}

std::string escapedHtml(const std::string& text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            case '\'': out += "&#39;"; break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
        }
    }
    return out;
}

std::vector<Prose> filled(std::vector<Prose> blocks, const Fill& with) {
    for (Prose& block : blocks) fill(block, with);
    return blocks;
}

std::string filledText(const std::string& text, const Fill& with) {
    std::string out;
    walkBraces(text, [&](char c) { out += c; }, [&](const std::string& name) { out += with(name); });
    return out;
}

std::vector<std::string> namesIn(const std::string& text) {
    std::vector<std::string> names;
    walkBraces(text, [](char) {}, [&](const std::string& name) {
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    });
    return names;
}

}  // namespace linefall
