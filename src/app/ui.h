#pragma once
// The few controls that the window is made of, drawn in paper and ink. Each works by pointer and by keyboard; the one
// that has the focus shows a ring.

#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

#include "app/theme.h"

namespace linefall {

struct Rect {
    float x = 0, y = 0, w = 0, h = 0;
    [[nodiscard]] float right() const { return x + w; }
    [[nodiscard]] float bottom() const { return y + h; }
    [[nodiscard]] ImVec2 min() const { return {x, y}; }
    [[nodiscard]] ImVec2 max() const { return {x + w, y + h}; }
    [[nodiscard]] ImVec2 centre() const { return {x + 0.5f * w, y + 0.5f * h}; }
    [[nodiscard]] bool holds(ImVec2 p) const { return p.x >= x && p.y >= y && p.x < x + w && p.y < y + h; }
    [[nodiscard]] Rect inset(float by) const { return {x + by, y + by, w - 2 * by, h - 2 * by}; }
};

enum class Align { left, centre, right };

/// What happened to a control in this frame.
struct Touch {
    bool hovered = false, held = false, pressed = false, released = false, focused = false;
    int step_x = 0, step_y = 0;  ///< arrow keys while focused: right and up positive; Shift makes tens
};

class Ui {
public:
    Palette p{};
    Fonts fonts{};
    float s = 1.0f;  ///< pixels of one unit of layout

    /// Call at the start and the end of every frame of drawing.
    void begin();
    void end();

    void text(float x, float y, ImFont* font, ImU32 colour, const std::string& words, Align align = Align::left);
    [[nodiscard]] ImVec2 size(ImFont* font, const std::string& words) const;
    /// Words broken at spaces to a width; returns the height used. Draws nothing when `measure`.
    float paragraph(float x, float y, float width, ImFont* font, ImU32 colour, const std::string& words, bool measure = false);
    /// Words shortened with an ellipsis to a width; the report lists what was shortened, since nothing should be.
    [[nodiscard]] std::string fitted(ImFont* font, const std::string& words, float width) const;
    /// The first of several ways to say it that fits a width, or the last one shortened.
    [[nodiscard]] std::string fitting(ImFont* font, const std::vector<std::string>& ways, float width) const;

    /// Registers a control: pointer and focus.
    Touch touch(const std::string& id, const Rect& r, bool arrows = true);
    bool button(const std::string& id, const Rect& r, const std::string& words, bool on = false, const std::string& hint = "");
    /// A number as a point on a line from 0 to 1; true while it changes.
    bool slider(const std::string& id, const Rect& r, double& share, double step, bool* released = nullptr);
    bool flag(const std::string& id, const Rect& r, const std::string& words, bool& on);
    /// A value shown as text, typed over on click, Enter or a digit. True when a new text was entered.
    bool field(const std::string& id, const Rect& r, const std::string& shown, std::string& entered, bool wrong = false);
    void hint(const std::string& words);  ///< words beside the pointer; they go when it rests for some seconds

    /// What was wrong with the words of the last frame: shortened, cut off at an edge, or one over another.
    [[nodiscard]] const std::vector<std::string>& spoilt() const { return last_spoilt_; }
    /// Words drawn at a place: looked at for cut ends and for others over them, when watch is kept.
    void watch(const Rect& place, const std::string& words, ImU32 ink, const ImFont* font = nullptr);
    /// Keep watch over words from now on.
    void watchWords() { watching_ = true; }
    struct Words {
        Rect place;
        std::string words;
        bool over_picture = false;  ///< cased, over imagery
        int layer = 0;
        ImU32 ink = 0;
        bool whole = true;  ///< not half rolled out of sight
    };
    /// All words of the last frame that were in sight, while they are watched.
    [[nodiscard]] const std::vector<Words>& words() const { return last_words_; }
    /// The wheel for what lies under the pointer; when the page itself rolls, only with Ctrl.
    [[nodiscard]] float wheel() const;
    bool page_rolls = false;  ///< the wheel rolls the page
    int layer = 0;            ///< words of another layer lie over these on purpose
    /// Where the control stands that took the focus by keyboard just now: it should be seen.
    [[nodiscard]] const Rect* newlyFocused() const { return revealing_ > 0 && focus_place_.w > 0.0f ? &focus_place_ : nullptr; }

    /// Where the controls of the last frame stood, in the order in which Tab visits them.
    [[nodiscard]] const std::vector<std::pair<std::string, Rect>>& places() const { return last_places_; }
    /// What of each of them was in sight: less where its part of the page rolls.
    [[nodiscard]] const std::vector<Rect>& placesInSight() const { return last_seen_; }
    void focus(const std::string& id) { focus_ = id; }
    /// Something is about to be drawn over a part of the page: what was registered there can be reached by nobody.
    void cover(const Rect& r);
    /// The control round which this frame drew the ring of the focus, and whether all of it is in sight.
    [[nodiscard]] const std::optional<Rect>& ringed() const { return ring_; }
    [[nodiscard]] bool ringWhole() const { return ring_ && ring_whole_; }
    [[nodiscard]] const std::string& focused() const { return focus_; }
    [[nodiscard]] bool typing() const { return !editing_.empty(); }
    /// The field takes letters just now (one or two frames after it was opened).
    [[nodiscard]] bool takesLetters() const { return typing() && takes_letters_; }
    [[nodiscard]] bool dragging() const { return dragging_; }

    // Ink on paper.
    [[nodiscard]] ImDrawList* draw() const { return ImGui::GetWindowDrawList(); }
    void line(ImVec2 a, ImVec2 b, ImU32 colour, float width = 1.0f) const { draw()->AddLine(a, b, colour, width * s); }
    /// A line with a casing, so that it shows on any picture. `dash` > 0: broken into dashes.
    void cased(const std::vector<ImVec2>& points, ImU32 colour, ImU32 casing, float width, float dash = 0.0f) const;
    void casedText(float x, float y, ImFont* font, ImU32 colour, ImU32 casing, const std::string& words, Align align = Align::left);

private:
    void ring(const Rect& r) const;
    [[nodiscard]] Rect seenOf(const Rect& r) const;
    [[nodiscard]] std::string broken(const std::string& words, float width) const;
    void findOverlaps();
    double pointer_still_s_ = 0.0;
    std::vector<Words> words_, last_words_;
    mutable std::vector<std::string> spoilt_;
    std::vector<std::string> last_spoilt_;
    Rect focus_place_;
    std::optional<Rect> ring_;
    int revealing_ = 0;       ///< frames in which what took the focus is rolled into sight
    bool watching_ = false, casing_ = false;
    std::string focus_ = "flight", editing_, hint_;
    std::vector<std::string> order_, last_order_;
    std::vector<std::pair<std::string, Rect>> places_, last_places_;
    std::vector<Rect> seen_, last_seen_;
    char buffer_[128] = "";
    bool start_edit_ = false, takes_letters_ = false, by_keyboard_ = false, dragging_ = false, any_held_ = false, ring_whole_ = false;
};

}  // namespace linefall
