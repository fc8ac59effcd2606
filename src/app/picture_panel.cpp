// A picture, falling line by line: newest line marked, arrows of north, sun and flight, the picked pixel and the cursor.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "base/angle.h"

namespace linefall {

namespace {

constexpr ImU32 dark = IM_COL32(20, 22, 25, 255);
constexpr ImU32 light = IM_COL32(255, 253, 248, 255);

/// Where the image lies on the page.
struct Frame {
    Rect seen;      ///< the part of the page that shows it
    Rect rect;      ///< the whole image; larger than what is seen when it is enlarged
    float cell_x = 1, cell_y = 1;
    [[nodiscard]] ImVec2 at(double sample, double line) const {
        return {rect.x + cell_x * static_cast<float>(sample), rect.y + cell_y * static_cast<float>(line)};
    }
};

/// `newest`: where the picture ends just now, a share of its length, while it falls.
Frame frameOf(const Formation& formation, const Rect& space, PictureView& view, std::optional<double> newest) {
    // Samples as wide as they are on the ground under the platform, lines as long.
    const Derived& d = formation.instrument().derived();
    const std::optional<FieldPoint> nadir = formation.instrument().field(0.0, false);
    const double across = nadir ? nadir->cell.spacing_across_m : 1.0;
    const double along = d.line_period_s > 0.0 ? formation.motion().speed_m_s() * d.line_period_s : (nadir ? nadir->cell.along_m : 1.0);
    const double wide = formation.samples() * across, tall = std::max(1e-9, formation.lines() * along);
    // The whole picture, unless a long flight would make it a thin strip: then it keeps its width and rolls by.
    const double scale = std::min(space.w / wide, std::max(space.h / tall, 0.6 * space.w / wide));
    Frame frame;
    frame.seen.w = std::max(0.12f * space.w, static_cast<float>(wide * scale));
    const float whole = std::max(std::min(space.h, 0.12f * space.w), static_cast<float>(tall * scale));  // a few lines are still a band
    frame.seen.h = std::min(whole, space.h);
    frame.seen.x = std::round(space.x + 0.5f * (space.w - frame.seen.w));
    frame.seen.y = space.y;
    frame.rect.w = frame.seen.w * static_cast<float>(view.zoom);
    frame.rect.h = whole * static_cast<float>(view.zoom);
    const double seen_across = frame.seen.w / frame.rect.w, seen_along = frame.seen.h / frame.rect.h;
    if (newest && view.zoom < 1.01) view.along = *newest - 0.35 * seen_along;  // the newest line stays in sight
    view.across = std::clamp(view.across, 0.5 * seen_across, 1.0 - 0.5 * seen_across);
    view.along = std::clamp(view.along, 0.5 * seen_along, 1.0 - 0.5 * seen_along);
    frame.rect.x = frame.seen.x + 0.5f * frame.seen.w - static_cast<float>(view.across) * frame.rect.w;
    frame.rect.y = frame.seen.y + 0.5f * frame.seen.h - static_cast<float>(view.along) * frame.rect.h;
    frame.cell_x = frame.rect.w / static_cast<float>(formation.samples());
    frame.cell_y = frame.rect.h / static_cast<float>(formation.lines());
    return frame;
}

void arrow(Ui& ui, ImVec2 from, ImVec2 to, ImU32 colour, ImU32 casing) {
    const float length = std::hypot(to.x - from.x, to.y - from.y);
    if (length < 1.0f) return;
    const ImVec2 u{(to.x - from.x) / length, (to.y - from.y) / length};
    const float head = 7 * ui.s, half = 4.5f * ui.s;
    const ImVec2 neck{to.x - u.x * head, to.y - u.y * head};
    const ImVec2 a{neck.x - u.y * half, neck.y + u.x * half}, b{neck.x + u.y * half, neck.y - u.x * half};
    ui.draw()->AddLine(from, neck, casing, 4.5f * ui.s);
    ui.draw()->AddTriangle(to, a, b, casing, 3.0f * ui.s);
    ui.draw()->AddLine(from, neck, colour, 2.0f * ui.s);
    ui.draw()->AddTriangleFilled(to, a, b, colour);
}

/// North, sun and flight on the picture: the picture's down is the track, its right is port.
void overlays(Desk& desk, const Formation& formation, const Rect& r) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    const double track = formation.motion().track_rad();
    const auto direction = [&](double azimuth) {
        const double d = azimuth - track;
        return ImVec2{static_cast<float>(-std::sin(d)), static_cast<float>(std::cos(d))};
    };
    const float reach = 17 * s;
    const ImVec2 c{r.x + 26 * s, r.y + 30 * s};
    const ImVec2 north = direction(0.0);
    arrow(ui, {c.x - north.x * reach * 0.6f, c.y - north.y * reach * 0.6f}, {c.x + north.x * reach * 0.6f, c.y + north.y * reach * 0.6f}, light, dark);
    ui.casedText(c.x + north.x * (reach + 2 * s), c.y + north.y * (reach + 2 * s) - 0.5f * ui.fonts.small->FontSize, ui.fonts.small, light, dark, "N", Align::centre);

    const Sunlight sun = desk.session.sunNow();
    const ImVec2 from = direction(sun.azimuth_rad);
    const ImVec2 k{r.right() - 30 * s, r.y + 30 * s};
    const ImVec2 disc{k.x + from.x * reach, k.y + from.y * reach};
    arrow(ui, disc, {k.x - from.x * reach * 0.8f, k.y - from.y * reach * 0.8f}, IM_COL32(255, 206, 58, 255), dark);
    ui.draw()->AddCircleFilled(disc, 6.5f * s, dark, 20);
    ui.draw()->AddCircleFilled(disc, 5.0f * s, IM_COL32(255, 206, 58, 255), 20);
    ui.casedText(r.right() - 7 * s, r.y + 60 * s, ui.fonts.small, light, dark,
                 std::to_string(std::lround(degreesFromRadians(wrappedToTurn(sun.azimuth_rad)))) + "° / " +
                     std::to_string(std::lround(degreesFromRadians(sun.elevation_rad))) + "° up", Align::right);
}

/// Words on the picture that warn: what is exaggerated, and light that comes from below.
void warnings(Desk& desk, const Formation& formation, const Rect& r) {
    if (r.h < 110 * desk.ui.s) return;
    Ui& ui = desk.ui;
    float y = r.bottom() - 6 * ui.s - ui.fonts.small->FontSize;
    const auto say = [&](const std::string& words) {
        ui.casedText(r.x + 8 * ui.s, y, ui.fonts.small, light, dark, ui.fitted(ui.fonts.small, words, r.w - 16 * ui.s));
        y -= 1.3f * ui.fonts.small->FontSize;
    };
    const double lean = desk.session.scene().flightSettings().lean;
    if (lean != 1.0) say("lean × " + figuresText(lean, 3));
    const Sunlight sun = desk.session.sunNow();
    if (sun.up() && std::cos(sun.azimuth_rad - formation.motion().track_rad()) > 0.2) {
        const std::string words = "relief may look inverted (I)";
        say(ui.size(ui.fonts.small, words).x <= r.w - 16 * ui.s ? words : "lit from below (I)");
    }
}

void mark(Desk& desk, const Frame& f, int craft, Pixel pixel, bool own) {
    Ui& ui = desk.ui;
    const ImVec2 c = f.at(pixel.sample + 0.5, pixel.line + 0.5);
    if (!f.seen.holds(c)) return;
    const float inner = 5 * ui.s, outer = (own ? 15.0f : 12.0f) * ui.s;
    const ImVec2 ways[4] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    const ImU32 colour = own ? light : colourOf(desk, craft);
    for (const ImVec2& w : ways) {
        ui.draw()->AddLine({c.x + w.x * inner, c.y + w.y * inner}, {c.x + w.x * outer, c.y + w.y * outer}, own ? dark : light, 5.0f * ui.s);
    }
    for (const ImVec2& w : ways) {
        ui.draw()->AddLine({c.x + w.x * inner, c.y + w.y * inner}, {c.x + w.x * outer, c.y + w.y * outer}, colour, 2.2f * ui.s);
    }
    const float half = std::max(2.5f * ui.s, 0.5f * std::max(f.cell_x, f.cell_y));
    ui.draw()->AddRect({c.x - half - 1, c.y - half - 1}, {c.x + half + 1, c.y + half + 1}, own ? dark : light, 0, 0, 3.0f);
    ui.draw()->AddRect({c.x - half, c.y - half}, {c.x + half, c.y + half}, own ? IM_COL32(255, 206, 58, 255) : colour, 0, 0, 1.5f);
}

void newestLine(Desk& desk, const Frame& f, int craft, int shown) {
    Ui& ui = desk.ui;
    const float y = f.rect.y + f.cell_y * static_cast<float>(shown);
    const float s = ui.s;
    if (y < f.seen.y || y > f.seen.bottom()) return;
    const ImU32 colour = colourOf(desk, craft);
    ui.cased({{f.seen.x, y}, {f.seen.right(), y}}, colour, ui.p.night ? dark : light, 2.0f, dashOf(craft));
    ui.draw()->AddTriangleFilled({f.seen.x - 7 * s, y - 6 * s}, {f.seen.x - 7 * s, y + 6 * s}, {f.seen.x + 1 * s, y}, colour);
    ui.draw()->AddTriangleFilled({f.seen.right() + 7 * s, y - 6 * s}, {f.seen.right() - 1 * s, y}, {f.seen.right() + 7 * s, y + 6 * s}, colour);
}

std::string hoverWords(Desk& desk, Craft& craft, Pixel pixel) {
    Formation& formation = craft.formation();
    const double time = craft.manner().sweep_motion ? formation.instrument().lookTime_s(pixel.line, pixel.sample, 0.0)
                                                    : formation.instrument().lineTime_s(pixel.line);
    std::string words = "line " + std::to_string(pixel.line) + ", sample " + std::to_string(pixel.sample) + " · " + shortText(time, Kind::time, 4);
    if (pixel.line >= craft.shown()) return words + " · not gathered yet";
    if (desk.ui.dragging()) return words;
    const std::optional<Vec3> ground = formation.groundPoint(pixel.line, pixel.sample);
    if (!ground) return words + " · sky";
    return words + "\n" + shortText(std::abs(ground->x), Kind::length, 3) + (ground->x < 0 ? " W, " : " E, ") +
           shortText(std::abs(ground->y), Kind::length, 3) + (ground->y < 0 ? " S, " : " N, ") + shortText(ground->z, Kind::length, 3) + " up";
}

void pointAndPick(Desk& desk, const Frame& f, int craft, const Touch& t) {
    Session& session = desk.session;
    Craft& c = *session.crafts()[static_cast<std::size_t>(craft)];
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    if (t.hovered && f.seen.holds(mouse)) {
        const Pixel pixel{std::clamp(static_cast<int>((mouse.y - f.rect.y) / f.cell_y), 0, c.formation().lines() - 1),
                          std::clamp(static_cast<int>((mouse.x - f.rect.x) / f.cell_x), 0, c.formation().samples() - 1)};
        if (!t.held) desk.ui.hint(hoverWords(desk, c, pixel));
        if (t.held && pixel.line < c.shown()) {
            desk.active = craft;
            if (!session.picked() || session.picked()->craft != craft || !(session.picked()->pixel == pixel)) session.pick(craft, pixel);
        }
    }
    if (t.focused) desk.active = craft;
    const bool mine = session.picked() && session.picked()->craft == craft;
    if (t.focused && (t.step_x != 0 || t.step_y != 0 || (t.pressed && !t.hovered && !mine)) && c.shown() > 0) {
        Pixel pixel = mine ? session.picked()->pixel : Pixel{c.shown() / 2, c.formation().samples() / 2};
        if (mine) {
            pixel.sample += t.step_x;
            pixel.line = std::min(pixel.line - t.step_y, c.shown() - 1);
        }
        session.pick(craft, pixel);
        // An enlarged picture follows the pixel that the keys move.
        PictureView& view = desk.picture_views[static_cast<std::size_t>(craft)];
        const ImVec2 at = f.at(pixel.sample + 0.5, pixel.line + 0.5);
        if (!f.seen.inset(12 * desk.ui.s).holds(at)) {
            view.across = (pixel.sample + 0.5) / c.formation().samples();
            view.along = (pixel.line + 0.5) / c.formation().lines();
        }
    }
}

void heading(Desk& desk, int craft, const Rect& place) {
    Ui& ui = desk.ui;
    const Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    const float s = ui.s;
    const Rect tag{place.x, place.y + 2 * s, 24 * s, 24 * s};
    ui.draw()->AddRectFilled(tag.min(), tag.max(), colourOf(desk, craft), 4 * s);
    const std::string letter(1, letterOf(craft));
    const ImVec2 extent = ui.size(ui.fonts.strong, letter);
    ui.text(tag.centre().x - 0.5f * extent.x, tag.centre().y - 0.5f * extent.y, ui.fonts.strong, ui.p.on_craft, letter);
    ui.text(tag.right() + 8 * s, place.y + 3 * s, ui.fonts.title, ui.p.ink, ui.fitted(ui.fonts.title, c.title(), place.w - 34 * s));
}

}  // namespace

void PictureView::zoomAbout(double factor, double at_across, double at_along) {
    const double next = std::clamp(zoom * factor, 1.0, 64.0);
    across = at_across + (across - at_across) * zoom / next;
    along = at_along + (along - at_along) * zoom / next;
    zoom = next;
}

void drawPicture(Desk& desk, int craft, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    Session& session = desk.session;
    Craft& c = *session.crafts()[static_cast<std::size_t>(craft)];
    Picture& picture = *desk.pictures[static_cast<std::size_t>(craft)];
    heading(desk, craft, place);
    const float top = headingHeight(s), foot = 22 * s;
    const Rect space{place.x, place.y + top, place.w, place.h - top - foot};
    PictureView& view = desk.picture_views[static_cast<std::size_t>(craft)];
    std::optional<double> newest;
    if (session.clock().moving()) newest = static_cast<double>(c.shown()) / c.formation().lines();
    const Frame f = frameOf(c.formation(), space, view, newest);
    picture.setSmooth(f.cell_x < 1.5f || f.cell_y < 1.5f);
    const Touch t = ui.touch(std::string("picture ") + letterOf(craft), f.seen);

    const ImGuiIO& io = ImGui::GetIO();
    if (t.hovered && io.MouseWheel != 0.0f && io.KeyShift) {
        view.along -= 0.1 * io.MouseWheel * f.seen.h / f.rect.h;
    } else if (t.hovered && io.MouseWheel != 0.0f) {
        view.zoomAbout(std::pow(1.2, static_cast<double>(io.MouseWheel)), (io.MousePos.x - f.rect.x) / f.rect.w, (io.MousePos.y - f.rect.y) / f.rect.h);
    }
    ui.draw()->AddRectFilled(f.seen.min(), f.seen.max(), ui.p.blank);
    const int shown = c.shown(), lines = c.formation().lines();
    ui.draw()->PushClipRect(f.seen.min(), f.seen.max(), true);
    if (shown > 0) {
        const float share = static_cast<float>(shown) / static_cast<float>(lines);
        ui.draw()->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(picture.texture())), f.rect.min(),
                            {f.rect.right(), f.rect.y + share * f.rect.h}, {0, 0}, {1, share});
    }
    ui.draw()->PopClipRect();
    ui.draw()->AddRect(f.seen.min(), f.seen.max(), ui.p.control, 0, 0, 1.0f);
    if (desk.overlays && f.seen.h > 84 * s && f.seen.w > 84 * s) {
        overlays(desk, c.formation(), f.seen);
        Rect fallen = f.seen;
        fallen.h = std::min(fallen.h, f.at(0, shown).y - fallen.y);
        warnings(desk, c.formation(), fallen);
    }
    if (shown < lines && shown > 0) newestLine(desk, f, craft, shown);
    pointAndPick(desk, f, craft, t);

    std::string foot_words = std::to_string(shown) + " of " + std::to_string(lines) + " lines · " + c.look().bands.name + (view.zoom > 1.01 ? " · × " + figuresText(view.zoom, 2) : "");
    if (const std::optional<Picked>& pick = session.picked()) {
        if (pick->craft == craft) {
            if (pick->pixel.line < shown) mark(desk, f, craft, pick->pixel, true);
        } else if (static_cast<std::size_t>(craft) < pick->linked.size() && pick->why) {
            const std::optional<Nearest>& near = pick->linked[static_cast<std::size_t>(craft)];
            const std::optional<FieldPoint> nadir = c.formation().instrument().field(0.0, false);
            const double cell = nadir ? std::max(nadir->cell.across_m, nadir->cell.along_m) : 10.0;
            if (near && near->off_m < 4.0 * cell) mark(desk, f, craft, near->pixel, false);
            else if (pick->why->hit.meets != Meets::sky) foot_words = shown < lines ? "not seen yet from " : "hidden from ", foot_words += letterOf(craft);
        }
    }
    ui.text(place.x + 0.5f * place.w, f.seen.bottom() + 4 * s, ui.fonts.small, ui.p.quiet, ui.fitted(ui.fonts.small, foot_words, place.w), Align::centre);
}

}  // namespace linefall
