// The only file that knows md4c.

#include <md4c.h>

#include <algorithm>

#include "lesson/prose.h"

namespace linefall {

namespace {

constexpr int deepest = 30;

/// Builds the tree while md4c reads. Where md4c hands on a part of the text itself, its line can be told.
class Builder {
public:
    Builder(const std::string& text, const std::string& file, int first_line) : text_(text), file_(file), first_line_(first_line) {}

    [[nodiscard]] std::vector<Prose> read() {
        for (std::size_t i = 0; i < text_.size(); ++i) {
            if (text_[i] == '\n') line_starts_.push_back(i + 1);
        }
        root_.kind = Prose::Kind::quote;
        open_.push_back(&root_);
        MD_PARSER parser{};
        parser.flags = MD_FLAG_NOHTML;
        parser.enter_block = [](MD_BLOCKTYPE type, void* detail, void* self) { return static_cast<Builder*>(self)->enterBlock(type, detail); };
        parser.leave_block = [](MD_BLOCKTYPE type, void*, void* self) { return static_cast<Builder*>(self)->leave(type == MD_BLOCK_DOC); };
        parser.enter_span = [](MD_SPANTYPE type, void* detail, void* self) { return static_cast<Builder*>(self)->enterSpan(type, detail); };
        parser.leave_span = [](MD_SPANTYPE, void*, void* self) { return static_cast<Builder*>(self)->leave(false); };
        parser.text = [](MD_TEXTTYPE type, const MD_CHAR* text, MD_SIZE size, void* self) {
            return static_cast<Builder*>(self)->take(type, text, size);
        };
        const int result = md_parse(text_.data(), static_cast<MD_SIZE>(text_.size()), &parser, this);
        if (!problem_.empty()) throw InputError(Problem{{file_, problem_line_, 1}, "", problem_, "plainer text", ""});
        if (result != 0) throw InputError(Problem{{file_, 0, 0}, "", "text that could not be read", "CommonMark", ""});
        return std::move(root_.parts);
    }

private:
    static std::string textOf(const MD_ATTRIBUTE& attribute) {
        return attribute.text == nullptr ? std::string() : std::string(attribute.text, attribute.size);
    }
    int push(Prose piece) {
        if (open_.size() > deepest) {
            problem_ = "lists, quotes or emphasis nested more than " + std::to_string(deepest) + " deep";
            problem_line_ = last_line_;
            return 1;
        }
        open_.back()->parts.push_back(std::move(piece));
        open_.push_back(&open_.back()->parts.back());
        return 0;
    }
    int leave(bool document) {
        if (!document) open_.pop_back();
        return 0;
    }
    int enterBlock(MD_BLOCKTYPE type, void* detail) {
        Prose piece;
        switch (type) {
            case MD_BLOCK_DOC: return 0;
            case MD_BLOCK_QUOTE: piece.kind = Prose::Kind::quote; break;
            case MD_BLOCK_UL: piece.kind = Prose::Kind::bullets; break;
            case MD_BLOCK_OL:
                piece.kind = Prose::Kind::numbered;
                piece.level = static_cast<int>(std::min(static_cast<const MD_BLOCK_OL_DETAIL*>(detail)->start, 999999u));
                break;
            case MD_BLOCK_LI: piece.kind = Prose::Kind::item; break;
            case MD_BLOCK_HR: piece.kind = Prose::Kind::rule; break;
            case MD_BLOCK_H:
                piece.kind = Prose::Kind::heading;
                piece.level = static_cast<int>(static_cast<const MD_BLOCK_H_DETAIL*>(detail)->level);
                break;
            case MD_BLOCK_CODE:
                piece.kind = Prose::Kind::code;
                piece.info = textOf(static_cast<const MD_BLOCK_CODE_DETAIL*>(detail)->info);
                break;
            default: piece.kind = Prose::Kind::paragraph; break;
        }
        return push(std::move(piece));
    }
    int enterSpan(MD_SPANTYPE type, void* detail) {
        Prose piece;
        switch (type) {
            case MD_SPAN_EM: piece.kind = Prose::Kind::emphasis; break;
            case MD_SPAN_STRONG: piece.kind = Prose::Kind::strong; break;
            case MD_SPAN_CODE: piece.kind = Prose::Kind::code_text; break;
            case MD_SPAN_A:
                piece.kind = Prose::Kind::link;
                piece.target = textOf(static_cast<const MD_SPAN_A_DETAIL*>(detail)->href);
                break;
            case MD_SPAN_IMG:
                piece.kind = Prose::Kind::image;
                piece.target = textOf(static_cast<const MD_SPAN_IMG_DETAIL*>(detail)->src);
                break;
            default: piece.kind = Prose::Kind::emphasis; break;
        }
        return push(std::move(piece));
    }
    int lineOf(const char* place) {
        if (place < text_.data() || place >= text_.data() + text_.size()) return 0;
        const auto offset = static_cast<std::size_t>(place - text_.data());
        const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
        return first_line_ + static_cast<int>(after - line_starts_.begin());
    }
    int take(MD_TEXTTYPE type, const MD_CHAR* text, MD_SIZE size) {
        const int line = lineOf(text);
        if (line != 0) last_line_ = line;
        for (auto piece = open_.rbegin(); piece != open_.rend() && (*piece)->line == 0; ++piece) (*piece)->line = line;
        Prose& on = *open_.back();
        std::string words(text, size);
        if (type == MD_TEXT_NULLCHAR) words = "\xEF\xBF\xBD";
        if (type == MD_TEXT_SOFTBR) words = " ";
        if (type == MD_TEXT_ENTITY) words = entity(words);
        if (type == MD_TEXT_BR) {
            on.parts.push_back({});
            on.parts.back().kind = Prose::Kind::line_break;
            return 0;
        }
        if (on.kind == Prose::Kind::code || on.kind == Prose::Kind::code_text) {
            on.text += words;
            return 0;
        }
        if (on.parts.empty() || on.parts.back().kind != Prose::Kind::text) {
            on.parts.push_back({});
            on.parts.back().kind = Prose::Kind::text;
            on.parts.back().line = line;
        }
        on.parts.back().text += words;
        return 0;
    }
    /// The entities that authors write; others stay as they are.
    static std::string entity(const std::string& name) {
        if (name == "&amp;") return "&";
        if (name == "&lt;") return "<";
        if (name == "&gt;") return ">";
        if (name == "&quot;") return "\"";
        if (name == "&nbsp;") return "\xC2\xA0";
        return name;
    }

    const std::string& text_;
    const std::string& file_;
    int first_line_;
    std::vector<std::size_t> line_starts_;
    Prose root_;
    std::vector<Prose*> open_;
    std::string problem_;
    int problem_line_ = 0, last_line_ = 0;
};

}  // namespace

std::vector<Prose> readProse(const std::string& text, const std::string& file, int first_line) {
    return Builder(text, file, first_line).read();
}

}  // namespace linefall
