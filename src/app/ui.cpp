#include "app/ui.h"

#include <SDL_scancode.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace linefall {

void Ui::begin() {
    order_.clear();
    places_.clear();
    seen_.clear();
    hint_.clear();
    any_held_ = false;
    if (revealing_ > 0) --revealing_;
    focus_place_ = {};
    ring_.reset();
    words_.clear();
    spoilt_.clear();
    ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsMouseClicked(0)) by_keyboard_ = false;
    pointer_still_s_ = io.MouseDelta.x != 0.0f || io.MouseDelta.y != 0.0f ? 0.0 : pointer_still_s_ + io.DeltaTime;
    if (typing() || last_order_.empty() || !ImGui::IsKeyPressed(SDL_SCANCODE_TAB)) return;
    by_keyboard_ = true;
    const auto at = std::find(last_order_.begin(), last_order_.end(), focus_);
    const int count = static_cast<int>(last_order_.size());
    const int index = at == last_order_.end() ? -1 : static_cast<int>(at - last_order_.begin());
    const int next = io.KeyShift ? (index <= 0 ? count - 1 : index - 1) : (index + 1) % count;
    focus_ = last_order_[static_cast<std::size_t>(next)];
    revealing_ = 3;  // what rolls within what rolls needs a frame each
}

void Ui::end() {
    last_order_ = order_;
    last_places_ = places_;
    last_seen_ = seen_;
    findOverlaps();
    last_spoilt_.swap(spoilt_);
    last_words_.swap(words_);
    dragging_ = any_held_;
    if (hint_.empty() || pointer_still_s_ > 4.0) return;
    hint_ = broken(hint_, 330 * s);
    ImDrawList* above = ImGui::GetForegroundDrawList();
    const ImVec2 extent = size(fonts.small, hint_);
    const ImVec2 display = ImGui::GetIO().DisplaySize;
    const float pad = 7 * s;
    ImVec2 at = ImGui::GetIO().MousePos;
    at.x = std::clamp(at.x + 14 * s, 4.0f, std::max(4.0f, display.x - extent.x - 2 * pad - 4));
    at.y = at.y + 20 * s + extent.y + 2 * pad > display.y ? at.y - extent.y - 2 * pad - 8 * s : at.y + 20 * s;
    above->AddRectFilled(at, {at.x + extent.x + 2 * pad, at.y + extent.y + 2 * pad}, p.ink, 3 * s);
    above->AddText(fonts.small, fonts.small->FontSize, {at.x + pad, at.y + pad}, p.paper, hint_.c_str());
}

void Ui::cover(const Rect& r) {
    for (std::size_t i = order_.size(); i > 0; --i) {
        const Rect& p = places_[i - 1].second;
        if (p.right() <= r.x || p.x >= r.right() || p.bottom() <= r.y || p.y >= r.bottom()) continue;
        const auto at = static_cast<std::ptrdiff_t>(i - 1);
        order_.erase(order_.begin() + at);
        places_.erase(places_.begin() + at);
        seen_.erase(seen_.begin() + at);
    }
}

Rect Ui::seenOf(const Rect& r) const {
    const ImVec2 low = draw()->GetClipRectMin(), high = draw()->GetClipRectMax();
    const float x = std::max(r.x, low.x), y = std::max(r.y, low.y);
    return {x, y, std::max(0.0f, std::min(r.right(), high.x) - x), std::max(0.0f, std::min(r.bottom(), high.y) - y)};
}

void Ui::ring(const Rect& r) const {
    draw()->AddRect({r.x - 3 * s, r.y - 3 * s}, {r.right() + 3 * s, r.bottom() + 3 * s}, p.panel, 5 * s, 0, 4 * s);
    draw()->AddRect({r.x - 3 * s, r.y - 3 * s}, {r.right() + 3 * s, r.bottom() + 3 * s}, p.ink, 5 * s, 0, 2 * s);
}

Touch Ui::touch(const std::string& id, const Rect& r, bool arrows) {
    Touch t;
    // However small a page draws it, a control takes the pointer over 24 by 24 pixels.
    constexpr float least = 24.0f;
    const float w = std::max(least, r.w), h = std::max(least, r.h);
    const Rect target{r.x - 0.5f * (w - r.w), r.y - 0.5f * (h - r.h), w, h};
    order_.push_back(id);
    places_.emplace_back(id, target);
    seen_.push_back(seenOf(target));
    ImGui::SetCursorScreenPos(target.min());
    ImGui::PushID(id.c_str());
    const bool clicked = ImGui::InvisibleButton("##", {w, h});
    t.hovered = ImGui::IsItemHovered();
    t.held = ImGui::IsItemActive();
    t.released = ImGui::IsItemDeactivated();
    ImGui::PopID();
    any_held_ = any_held_ || t.held;
    if (revealing_ > 0 && focus_ == id) {
        focus_place_ = r;
        const ImVec2 low = draw()->GetClipRectMin(), high = draw()->GetClipRectMax();
        if (ImGui::GetScrollMaxY() > 0.0f && (r.y - 3 * s < low.y || r.bottom() + 3 * s > high.y)) ImGui::SetScrollHereY(0.5f);
    }
    if (ImGui::IsItemActivated()) focus_ = id;
    t.pressed = clicked;
    t.focused = focus_ == id && !typing();
    if (t.focused) {
        if (by_keyboard_) {
            ring(r);
            const ImVec2 low = draw()->GetClipRectMin(), high = draw()->GetClipRectMax();
            ring_ = r;
            const float out = 3 * s - 1.0f;
            ring_whole_ = r.x - out >= low.x && r.y - out >= low.y && r.right() + out <= high.x && r.bottom() + out <= high.y;
        }
        const auto down = [](SDL_Scancode key) { return ImGui::IsKeyPressed(key); };
        if (down(SDL_SCANCODE_RETURN) || down(SDL_SCANCODE_KP_ENTER)) t.pressed = true;
        if (arrows) {
            const int stride = ImGui::GetIO().KeyShift ? 10 : 1;
            t.step_x = stride * (static_cast<int>(down(SDL_SCANCODE_RIGHT)) - static_cast<int>(down(SDL_SCANCODE_LEFT)));
            t.step_y = stride * (static_cast<int>(down(SDL_SCANCODE_UP)) - static_cast<int>(down(SDL_SCANCODE_DOWN)));
            if (t.step_x != 0 || t.step_y != 0) by_keyboard_ = true;
        }
    }
    return t;
}

bool Ui::button(const std::string& id, const Rect& r, const std::string& words, bool on, const std::string& help) {
    const Touch t = touch(id, r, false);
    const ImU32 back = on ? p.ink : t.hovered ? p.hairline : p.panel;
    draw()->AddRectFilled(r.min(), r.max(), back, 4 * s);
    if (!on) draw()->AddRect(r.min(), r.max(), p.control, 4 * s, 0, 1.0f * s);
    const ImVec2 extent = size(fonts.small, words);
    if (watching_ && extent.x > r.w - 4 * s) spoilt_.push_back("too wide for its button: " + words);
    text(r.x + 0.5f * (r.w - extent.x), r.y + 0.5f * (r.h - extent.y), fonts.small, on ? p.paper : p.ink, words);
    if (t.hovered && !help.empty()) hint(help);
    return t.pressed;
}

bool Ui::slider(const std::string& id, const Rect& r, double& share, double step, bool* released) {
    const Touch t = touch(id, r);
    bool changed = false;
    if (t.held && r.w > 0) {
        const double next = std::clamp(static_cast<double>((ImGui::GetIO().MousePos.x - r.x) / r.w), 0.0, 1.0);
        changed = next != share;
        share = next;
    }
    if (t.step_x != 0 || t.step_y != 0) {
        share = std::clamp(share + step * (t.step_x + t.step_y), 0.0, 1.0);
        changed = true;
    }
    const float y = r.y + 0.5f * r.h;
    const float x = r.x + static_cast<float>(std::clamp(share, 0.0, 1.0)) * r.w;
    draw()->AddRectFilled({r.x, y - 1.5f * s}, {r.right(), y + 1.5f * s}, p.control, 1.5f * s);
    draw()->AddRectFilled({r.x, y - 1.5f * s}, {x, y + 1.5f * s}, p.ink, 1.5f * s);
    draw()->AddCircleFilled({x, y}, (t.held || t.hovered ? 8.5f : 7.5f) * s, p.panel, 24);
    draw()->AddCircleFilled({x, y}, (t.held || t.hovered ? 7.0f : 6.0f) * s, p.ink, 24);
    if (released != nullptr) *released = t.released || t.step_x != 0 || t.step_y != 0;
    return changed;
}

bool Ui::flag(const std::string& id, const Rect& r, const std::string& words, bool& on) {
    const Touch t = touch(id, r, false);
    const float side = 15 * s;
    const Rect box{r.x, r.y + 0.5f * (r.h - side), side, side};
    draw()->AddRectFilled(box.min(), box.max(), on ? p.ink : p.panel, 3 * s);
    draw()->AddRect(box.min(), box.max(), on ? p.ink : p.control, 3 * s, 0, 1.5f * s);
    if (on) {
        const ImVec2 tick[3] = {{box.x + 3.5f * s, box.y + 8 * s}, {box.x + 6.5f * s, box.y + 11 * s}, {box.x + 11.5f * s, box.y + 4.5f * s}};
        draw()->AddPolyline(tick, 3, p.paper, 0, 2 * s);
    }
    text(box.right() + 8 * s, r.y + 0.5f * (r.h - fonts.small->FontSize), fonts.small, p.ink, words);
    if (t.pressed) on = !on;
    return t.pressed;
}

bool Ui::field(const std::string& id, const Rect& r, const std::string& shown, std::string& entered, bool wrong) {
    bool done = false;
    if (editing_ == id) {
        order_.push_back(id);
        places_.emplace_back(id, r);
        seen_.push_back(seenOf(r));
        ImGui::SetCursorScreenPos(r.min());
        ImGui::PushFont(fonts.figures);
        ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {7 * s, 0.5f * (r.h - fonts.figures->FontSize)});
        ImGui::SetNextItemWidth(r.w);
        if (start_edit_) ImGui::SetKeyboardFocusHere();
        ImGui::PushID(id.c_str());
        const bool enter = ImGui::InputText("##typed", buffer_, sizeof buffer_, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
        takes_letters_ = ImGui::IsItemActive();
        const bool left = ImGui::IsItemDeactivated() && !start_edit_;
        const bool escaped = ImGui::IsKeyPressed(SDL_SCANCODE_ESCAPE);
        ImGui::PopID();
        ImGui::PopStyleVar();
        ImGui::PopFont();
        draw()->AddRect(r.min(), r.max(), p.ink, 3 * s, 0, 2 * s);
        start_edit_ = false;
        if (enter || left || escaped) {
            done = !escaped && (enter || shown != buffer_);
            entered = buffer_;
            editing_.clear();
        }
        return done;
    }
    const Touch t = touch(id, r, false);
    draw()->AddRectFilled(r.min(), r.max(), p.panel, 3 * s);
    draw()->AddRect(r.min(), r.max(), wrong ? p.wrong : t.hovered ? p.ink : p.control, 3 * s, 0, (wrong ? 2.0f : 1.0f) * s);
    text(r.x + 7 * s, r.y + 0.5f * (r.h - fonts.figures->FontSize), fonts.figures, wrong ? p.wrong : p.ink, fitted(fonts.figures, shown, r.w - 12 * s));
    if (t.hovered) ImGui::SetMouseCursor(ImGuiMouseCursor_TextInput);
    if (t.pressed) {
        editing_ = id;
        start_edit_ = true;
        takes_letters_ = false;
        std::strncpy(buffer_, shown.c_str(), sizeof buffer_ - 1);
        buffer_[sizeof buffer_ - 1] = '\0';
    }
    return false;
}

void Ui::hint(const std::string& words) { hint_ = words; }

}  // namespace linefall
