// Figures of what is shown: which, how large, the button that makes them, and how far it is.

#include <fmt/format.h>

#include <array>

#include "app/desk.h"
#include "app/figure_maker.h"
#include "app/keeper.h"
#include "scene/figure_settings.h"

namespace linefall {

namespace {

constexpr std::array<const char*, 5> kind_words{"Picture", "Flight", "Light path", "Profile", "Histogram"};

/// Places boxes one after the other, and in a further row where there is no room.
class Row {
public:
    Row(const Rect& place, float height, float gap) : place_(place), height_(height), gap_(gap), x_(place.x), y_(place.y) {}
    Rect next(float width) {
        if (x_ > place_.x && x_ + width > place_.right()) newRow();
        const Rect r{x_, y_, width, height_};
        x_ += width + gap_;
        return r;
    }
    void newRow() {
        x_ = place_.x;
        y_ += height_ + 0.6f * gap_;
    }
    [[nodiscard]] float bottom() const { return y_ + height_; }

private:
    Rect place_;
    float height_, gap_, x_, y_;
};

/// What the figures will show that was not chosen by hand.
std::string noteOf(const Desk& desk) {
    const FigureWish& wish = desk.keep.wish;
    const bool profile = wish.kinds[static_cast<std::size_t>(FigureKind::profile)], path = wish.kinds[static_cast<std::size_t>(FigureKind::path)];
    const bool measured = measuredProfile(desk).has_value();
    std::string note;
    if (profile && measured) note = "The profile follows the line set in Measure.";
    if (wish.kinds[static_cast<std::size_t>(FigureKind::picture)] && desk.causes.difference) note += (note.empty() ? "" : " ") + std::string("The picture shows what ") + rowOf(desk.causes.cause).name + " does.";
    if (wish.kinds[static_cast<std::size_t>(FigureKind::picture)] && desk.causes.map) note += (note.empty() ? "" : " ") + std::string("The picture stands as it fell, not as a map.");
    if (!desk.session.picked() && (path || (profile && !measured))) {
        note += (note.empty() ? "" : " ") + std::string("No pixel is picked: ") + (path && profile && !measured ? "light path and profile take" : path ? "the light path takes" : "the profile takes") + " one of picture A.";
    }
    return note;
}

void drawProgress(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const FigureProgressNow now = desk.keep.maker.now();
    const Rect bar{place.x, place.y + 4 * s, place.w, 6 * s};
    ui.draw()->AddRectFilled(bar.min(), bar.max(), ui.p.blank, 3 * s);
    ui.draw()->AddRectFilled(bar.min(), {bar.x + static_cast<float>(now.share) * bar.w, bar.bottom()}, ui.p.ink, 3 * s);
    ui.draw()->AddRect(bar.min(), bar.max(), ui.p.control, 3 * s, 0, 1.0f);
    std::string words = fmt::format("{:.0f} % · {}", 100.0 * now.share, now.doing);
    if (now.left_s) words += fmt::format(" · about {:.0f} s left", std::max(1.0, *now.left_s));
    ui.text(place.x, place.y + 14 * s, ui.fonts.small, ui.p.quiet, ui.fitted(ui.fonts.small, words, place.w));
}

}  // namespace

float drawFigureChoices(Desk& desk, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    FigureWish& wish = desk.keep.wish;
    Row row(place, 26 * s, 12 * s);
    const auto word = [&](const std::string& words, ImFont* font) {
        const Rect r = row.next(ui.size(font, words).x);
        ui.text(r.x, r.y + 0.5f * (r.h - font->FontSize), font, ui.p.ink, words);
    };
    const auto flag = [&](const std::string& id, const std::string& words, bool& on) { ui.flag(id, row.next(ui.size(ui.fonts.small, words).x + 25 * s), words, on); };
    word("Figures", ui.fonts.strong);
    for (std::size_t i = 0; i < kind_words.size(); ++i) flag(std::string("figure ") + kind_words[i], kind_words[i], wish.kinds[i]);
    row.newRow();
    word("PNG at", ui.fonts.small);
    for (std::size_t i = 0; i < wish.scales.size(); ++i) flag(fmt::format("figure {}x", i + 1), fmt::format("{}×", i + 1), wish.scales[i]);
    const bool working = desk.keep.maker.working();
    const Rect button = row.next(124 * s);
    if (ui.button("make figures", button, working ? "Cancel" : "Make figures", false,
                  working ? "nothing is written then" : "as files with caption, alt text and state, beside saved states (Ctrl and P)")) {
        if (working) desk.keep.maker.cancel();
        else actFigures(desk);
    }
    float y = row.bottom() + 6 * s;
    if (working) {
        drawProgress(desk, {place.x, y, place.w, 32 * s});
        y += 36 * s;
    } else if (const std::string note = noteOf(desk); !note.empty()) {
        y += ui.paragraph(place.x, y, place.w, ui.fonts.small, ui.p.quiet, note) + 4 * s;
    }
    return y - place.y;
}

}  // namespace linefall
