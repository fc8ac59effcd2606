// Words and lines of the page: measured, broken, shortened, cased; and a watch over words that are cut off or covered.

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "app/ui.h"

namespace linefall {

ImVec2 Ui::size(ImFont* font, const std::string& words) const {
    return font->CalcTextSizeA(font->FontSize, 1e6f, 0.0f, words.c_str());
}

void Ui::text(float x, float y, ImFont* font, ImU32 colour, const std::string& words, Align align) {
    if (align != Align::left) {
        const float width = size(font, words).x;
        x -= align == Align::centre ? 0.5f * width : width;
    }
    draw()->AddText(font, font->FontSize, {std::round(x), std::round(y)}, colour, words.c_str());
    if (!casing_) watch({x, y, size(font, words).x, font->FontSize}, words, colour, font);
}

std::string Ui::fitted(ImFont* font, const std::string& words, float width) const {
    if (size(font, words).x <= width) return words;
    if (watching_) spoilt_.push_back("shortened: " + words);
    std::string cut = words;
    while (!cut.empty() && size(font, cut + "…").x > width) {
        do cut.pop_back();
        while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0) == 0x80);
        if (!cut.empty() && static_cast<unsigned char>(cut.back()) >= 0xC0) cut.pop_back();
    }
    return cut + "…";
}

std::string Ui::fitting(ImFont* font, const std::vector<std::string>& ways, float width) const {
    for (const std::string& way : ways) {
        if (size(font, way).x <= width) return way;
    }
    return ways.empty() ? "" : fitted(font, ways.back(), width);
}

std::string Ui::broken(const std::string& words, float width) const {
    std::string out, row;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find_first_of(" \n", at), words.size());
        const std::string word = words.substr(at, end - at);
        if (!row.empty() && size(fonts.small, row + " " + word).x > width) {
            out += row + "\n";
            row = word;
        } else {
            row += (row.empty() ? "" : " ") + word;
        }
        if (end < words.size() && words[end] == '\n') {
            out += row + "\n";
            row.clear();
        }
        at = end + 1;
    }
    return out + row;
}

float Ui::paragraph(float x, float y, float width, ImFont* font, ImU32 colour, const std::string& words, bool measure) {
    const float leading = 1.35f * font->FontSize;
    float used = 0;
    std::string row;
    const auto flush = [&] {
        if (!measure) text(x, y + used, font, colour, row);
        used += leading;
        row.clear();
    };
    std::size_t at = 0;
    while (at < words.size()) {
        const std::size_t space = std::min(words.find(' ', at), words.size());
        const std::string word = words.substr(at, space - at);
        const std::string longer = row.empty() ? word : row + " " + word;
        if (!row.empty() && size(font, longer).x > width) {
            flush();
            row = word;
        } else {
            row = longer;
        }
        at = space + 1;
    }
    if (!row.empty()) flush();
    return used;
}

void Ui::cased(const std::vector<ImVec2>& points, ImU32 colour, ImU32 casing, float width, float dash) const {
    const int count = static_cast<int>(points.size());
    if (count < 2) return;
    if (dash <= 0.0f) {
        draw()->AddPolyline(points.data(), count, casing, 0, (width + 2.0f) * s);
        draw()->AddPolyline(points.data(), count, colour, 0, width * s);
        return;
    }
    std::vector<std::pair<ImVec2, ImVec2>> pieces;
    float left = dash * s;
    bool on = true;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        ImVec2 a = points[i];
        const ImVec2 b = points[i + 1];
        float length = std::hypot(b.x - a.x, b.y - a.y);
        if (length > 8000.0f) continue;  // far outside the view
        while (length > 0.0f) {
            const float piece = std::min(left, length);
            const ImVec2 next{a.x + (b.x - a.x) * piece / length, a.y + (b.y - a.y) * piece / length};
            if (on) pieces.emplace_back(a, next);
            a = next;
            length -= piece;
            left -= piece;
            if (left <= 0.01f) {
                on = !on;
                left = (on ? dash : 0.7f * dash) * s;
            }
        }
    }
    for (const auto& piece : pieces) draw()->AddLine(piece.first, piece.second, casing, (width + 2.0f) * s);
    for (const auto& piece : pieces) draw()->AddLine(piece.first, piece.second, colour, width * s);
}

void Ui::casedText(float x, float y, ImFont* font, ImU32 colour, ImU32 casing, const std::string& words, Align align) {
    casing_ = true;
    for (const ImVec2& by : {ImVec2{-1, 0}, ImVec2{1, 0}, ImVec2{0, -1}, ImVec2{0, 1}, ImVec2{-1, -1}, ImVec2{1, 1}, ImVec2{-1, 1}, ImVec2{1, -1}}) {
        text(x + by.x * s, y + by.y * s, font, casing, words, align);
    }
    casing_ = false;
    text(x, y, font, colour, words, align);
    if (watching_ && !words_.empty()) words_.back().over_picture = true;
}

float Ui::wheel() const {
    const ImGuiIO& io = ImGui::GetIO();
    return !page_rolls || io.KeyCtrl ? io.MouseWheel : 0.0f;
}

namespace {

/// True when the font has every letter; what it lacks would be drawn as a "?".
bool hasLetters(const ImFont* font, const std::string& words) {
    for (const char *c = words.c_str(), *end = c + words.size(); c < end;) {
        unsigned int letter = 0;
        c += ImTextCharFromUtf8(&letter, c, end);
        if (letter >= 32 && font->FindGlyphNoFallback(static_cast<ImWchar>(letter)) == nullptr) return false;
    }
    return true;
}

}  // namespace

void Ui::watch(const Rect& place, const std::string& words, ImU32 ink, const ImFont* font) {
    if (!watching_ || words.empty()) return;
    if (font != nullptr && !hasLetters(font, words)) spoilt_.push_back("a letter that the font lacks: " + words);
    const ImVec2 low = draw()->GetClipRectMin(), high = draw()->GetClipRectMax();
    if (place.bottom() <= low.y || place.y >= high.y) return;  // rolled out of sight
    if (place.x < low.x - 1.0f || place.right() > high.x + 1.0f) spoilt_.push_back("cut off: " + words);
    const float leading = 0.12f * place.h;  // the ink of a line of words is lower than its row
    const float from = std::max(place.y + leading, low.y), to = std::min(place.bottom() - leading, high.y);  // as far as it is in sight
    if (to > from) words_.push_back({{place.x, from, place.w, to - from}, words, false, layer, ink, place.y >= low.y && place.bottom() <= high.y});
}

/// Words over words can be read by nobody. Marks over imagery move with the land and keep out of each other's way by
/// themselves, so they are not asked about here.
void Ui::findOverlaps() {
    if (!watching_) return;
    for (std::size_t i = 0; i < words_.size(); ++i) {
        for (std::size_t k = i + 1; k < words_.size(); ++k) {
            const Words &a = words_[i], &b = words_[k];
            if (a.over_picture || b.over_picture || a.layer != b.layer) continue;
            const float across = std::min(a.place.right(), b.place.right()) - std::max(a.place.x, b.place.x);
            const float along = std::min(a.place.bottom(), b.place.bottom()) - std::max(a.place.y, b.place.y);
            if (across > 1.5f && along > 1.5f) spoilt_.push_back("one over the other: " + a.words + " | " + b.words);
        }
    }
}

}  // namespace linefall
