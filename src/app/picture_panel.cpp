// A picture, falling line by line: newest line marked, arrows of north, sun and flight, the picked pixel and the cursor.

#include <algorithm>
#include <cmath>

#include "app/cause_marks.h"
#include "app/desk.h"
#include "app/picture_marks.h"
#include "app/twin_view.h"
#include "base/angle.h"

namespace linefall {

namespace {

std::string hoverWords(Desk& desk, Craft& craft, Pixel pixel) {
    Formation& formation = craft.formation();
    const double time = craft.manner().sweep_motion ? formation.instrument().lookTime_s(pixel.line, pixel.sample, 0.0)
                                                    : formation.instrument().lineTime_s(pixel.line);
    std::string words = "line " + std::to_string(pixel.line) + ", sample " + std::to_string(pixel.sample) + " · " + shortText(time, Kind::time, 4);
    if (!craft.gathered(pixel)) return words + " · not gathered yet";
    if (desk.ui.dragging()) return words;
    const std::optional<Vec3> ground = formation.groundPoint(pixel.line, pixel.sample);
    if (!ground) return words + " · sky";
    return words + "\n" + shortText(std::abs(ground->x), Kind::length, 3) + (ground->x < 0 ? " W, " : " E, ") +
           shortText(std::abs(ground->y), Kind::length, 3) + (ground->y < 0 ? " S, " : " N, ") + shortText(ground->z, Kind::length, 3) + " up";
}

/// The lines that are being gathered, as far as their light had fallen.
void drawPartly(Desk& desk, const PictureFrame& f, int craft) {
    const Craft& c = *desk.session.crafts()[static_cast<std::size_t>(craft)];
    const Partly& part = c.partly();
    const auto uv = [&](int sample, int line) { return ImVec2{static_cast<float>(sample) / static_cast<float>(f.samples), static_cast<float>(line) / static_cast<float>(f.lines)}; };
    const auto id = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(desk.pictures[static_cast<std::size_t>(craft)]->texture()));
    for (const SampleRun& run : c.partlyRuns()) {
        const ImVec2 a = f.at(run.first, part.line), b = f.at(run.last, part.line + part.lines);
        const ImVec2 from = uv(run.first, part.line), to = uv(run.last, part.line + part.lines);
        if (f.turned) desk.ui.draw()->AddImage(id, b, a, to, from);
        else desk.ui.draw()->AddImage(id, a, b, from, to);
    }
}

void pointAndPick(Desk& desk, const PictureFrame& f, int craft, const Touch& t) {
    Session& session = desk.session;
    Craft& c = *session.crafts()[static_cast<std::size_t>(craft)];
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const bool measured = !c.hand() && measureTouch(desk, f, craft, t);
    if (t.hovered && f.seen.holds(mouse)) {
        const Pixel pixel = f.pixelAt(mouse);
        if (!t.held) desk.ui.hint(hoverWords(desk, c, pixel));
        if (!t.held && c.gathered(pixel) && !desk.ui.dragging()) pointAtPixel(desk, craft, pixel);
        if (t.held && c.hand()) {
            c.moveHand(pixel.sample, ImGui::IsMouseClicked(0));
        } else if (t.held && !measured && c.gathered(pixel)) {
            desk.active = craft;
            if (!session.picked() || session.picked()->craft != craft || !(session.picked()->pixel == pixel)) session.pick(craft, pixel);
        }
    }
    if (t.focused) desk.active = craft;
    const bool mine = session.picked() && session.picked()->craft == craft;
    if (t.focused && (t.step_x != 0 || t.step_y != 0 || (t.pressed && !t.hovered && !mine)) && c.shown() > 0) {
        Pixel pixel = mine ? session.picked()->pixel : Pixel{c.shown() / 2, c.formation().samples() / 2};
        if (mine) {
            const int way = f.turned ? -1 : 1;  // the keys move it as it is seen
            pixel.sample += way * t.step_x;
            pixel.line = std::min(pixel.line - way * t.step_y, c.shown() - 1);
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

/// A veil over the rows of a difference that hold for another light, until they are taken again.
void drawStale(Desk& desk, const PictureFrame& f, const CauseStudy::Shown& shown, int fallen) {
    const ImU32 veil = (desk.ui.p.paper & ~IM_COL32_A_MASK) | (IM_COL32_A_MASK / 255 * 150);
    const int lines = std::min(fallen, static_cast<int>(shown.stands.size()));
    const auto stands = [&](int line) { return !shown.old && shown.stands[static_cast<std::size_t>(line)] != 0; };
    for (int from = 0; from < lines;) {
        int to = from;
        while (to < lines && stands(to) == stands(from)) ++to;
        if (!stands(from)) {
            const Rect part = f.part(from, to);
            desk.ui.draw()->AddRectFilled(part.min(), part.max(), veil);
        }
        from = to;
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

void drawPicture(Desk& desk, int craft, const Rect& place) {
    Ui& ui = desk.ui;
    const float s = ui.s;
    Session& session = desk.session;
    Craft& c = *session.crafts()[static_cast<std::size_t>(craft)];
    const bool differs = desk.causes.difference && desk.study.shown(static_cast<std::size_t>(craft)) != nullptr && static_cast<std::size_t>(craft) < desk.differences.size();
    Picture& picture = differs ? *desk.differences[static_cast<std::size_t>(craft)] : *desk.pictures[static_cast<std::size_t>(craft)];
    heading(desk, craft, place);
    const float top = headingHeight(s), foot = footHeight(s);
    const Rect space{place.x, place.y + top, place.w, place.h - top - foot};
    desk.picture_warnings.resize(session.crafts().size());
    desk.picture_warnings[static_cast<std::size_t>(craft)].clear();
    if (desk.causes.map) return drawMapPicture(desk, craft, space);
    PictureView& view = desk.picture_views[static_cast<std::size_t>(craft)];
    view.turned = session.scene().showSettings().turned;
    std::optional<double> newest;
    // Lines may fall in the very frame in which the clock comes to rest: they are followed too.
    if (session.clock().moving() || view.followed) newest = static_cast<double>(c.shown()) / c.formation().lines();
    view.followed = session.clock().moving();
    const PictureFrame f = desk.blink.on() ? blinkFrame(desk, craft, space) : pictureFrame(c.formation(), space, view, newest);
    picture.setSmooth(f.cell_x < 1.5f || f.cell_y < 1.5f);
    const Touch t = ui.touch(std::string("picture ") + letterOf(craft), f.seen);

    const ImGuiIO& io = ImGui::GetIO();
    if (t.hovered && ui.wheel() != 0.0f && io.KeyShift) {
        view.along -= (view.turned ? -0.1 : 0.1) * ui.wheel() * f.seen.h / f.rect.h;
    } else if (t.hovered && ui.wheel() != 0.0f) {
        const Vec2 under = f.imageAt(io.MousePos);
        view.zoomAbout(std::pow(1.2, static_cast<double>(ui.wheel())), under.x / f.samples, under.y / f.lines);
    }
    ui.draw()->AddRectFilled(f.seen.min(), f.seen.max(), ui.p.blank);
    const int shown = c.shown(), lines = c.formation().lines();
    ui.draw()->PushClipRect(f.seen.min(), f.seen.max(), true);
    if (shown > 0) {
        // Turned: the texture's corners change places, both ways, so that nothing is mirrored.
        const float share = static_cast<float>(shown) / static_cast<float>(lines);
        const Rect part = f.part(0, shown);
        const ImVec2 first = f.turned ? ImVec2{1, share} : ImVec2{0, 0}, last = f.turned ? ImVec2{0, 0} : ImVec2{1, share};
        ui.draw()->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(picture.texture())), part.min(), part.max(), first, last);
    }
    if (c.partly().lines > 0 && !differs) drawPartly(desk, f, craft);
    const bool stale = differs && desk.study.stale();
    if (stale) drawStale(desk, f, *desk.study.shown(static_cast<std::size_t>(craft)), shown);
    ui.draw()->PopClipRect();
    drawPlacesOver(desk, f, craft);
    ui.draw()->AddRect(f.seen.min(), f.seen.max(), ui.p.control, 0, 0, 1.0f);
    if (desk.blink.on()) {
        const Rect& r = f.seen;  // whose picture it is just now, by its line as well as by letter and colour
        ui.cased({r.min(), {r.right(), r.y}, r.max(), {r.x, r.bottom()}, r.min()}, colourOf(desk, craft), ui.p.paper, 4.0f, dashOf(craft));
        for (PictureView& each : desk.picture_views) each.zoom = view.zoom;
    }
    if (desk.overlays && f.seen.h > 84 * s && f.seen.w > 84 * s) {
        drawArrows(desk, downOf(c.formation()), f.seen, f.turned);
        Rect fallen = f.part(0, shown);
        const float bottom = std::min(fallen.bottom(), f.seen.bottom());
        fallen = {f.seen.x, std::max(fallen.y, f.seen.y), f.seen.w, 0};
        fallen.h = bottom - fallen.y;
        if (!differs) desk.picture_warnings[static_cast<std::size_t>(craft)] = drawWarnings(desk, downOf(c.formation()), fallen, f.turned, "Z");
    }
    if (shown < lines && shown > 0) drawNewestLine(desk, f, craft, shown);
    pointAndPick(desk, f, craft, t);
    drawMeasure(desk, f, craft);

    const std::string enlarged = view.zoom > 1.01 ? " · × " + figuresText(view.zoom, 2) : "", of = std::to_string(shown) + " of " + std::to_string(lines);
    std::string foot_words = ui.fitting(ui.fonts.small, {of + " lines · " + c.look().bands.name + enlarged, of + " · " + c.look().bands.name + enlarged, of + " lines" + enlarged, of}, place.w);
    if (differs) {
        const std::string cause = rowOf(desk.causes.cause).name;
        const double fresh = desk.study.shown(static_cast<std::size_t>(craft))->fresh;
        const std::string taken = std::to_string(static_cast<int>(100.0 * fresh)) + " % taken";
        if (stale) foot_words = ui.fitting(ui.fonts.small, {"difference: " + cause + " · " + taken, taken}, place.w);
        else foot_words = ui.fitting(ui.fonts.small, {"with minus without " + cause + " · " + c.look().bands.name, "difference: " + cause, cause}, place.w);
    }
    if (const std::optional<Picked>& pick = session.picked()) {
        if (pick->craft == craft) {
            if (c.gathered(pick->pixel)) drawMark(desk, f, craft, pick->pixel, true);
        } else if (static_cast<std::size_t>(craft) < pick->linked.size() && pick->why) {
            const std::optional<Nearest>& near = pick->linked[static_cast<std::size_t>(craft)];
            if (near && near->off_m < sameGround_m(c.formation())) drawMark(desk, f, craft, near->pixel, false);
            else if (pick->why->hit.meets != Meets::sky) foot_words = shown < lines ? "not seen yet from " : "hidden from ", foot_words += letterOf(craft);
        }
    }
    drawCursor(desk, f, craft);
    ui.text(place.x + 0.5f * place.w, f.seen.bottom() + 4 * s, ui.fonts.small, ui.p.quiet, foot_words, Align::centre);
}

}  // namespace linefall
