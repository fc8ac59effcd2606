// A picture laid out as a map: north up, one scale everywhere, gaps left empty, with the same marks as the picture.

#include <algorithm>
#include <cmath>

#include "app/cause_marks.h"
#include "app/desk.h"
#include "app/picture_marks.h"
#include "app/plot.h"
#include "base/constants.h"

namespace linefall {

namespace {

/// Where the map lies on the page: whole, or enlarged about a place in it.
PictureFrame frameOf(const MapFrame& map, const Rect& space, PictureView& view) {
    const float scale = std::min(space.w / static_cast<float>(map.columns), space.h / static_cast<float>(map.rows));
    PictureFrame frame;
    frame.samples = map.columns;
    frame.lines = map.rows;
    frame.seen.w = scale * static_cast<float>(map.columns);
    frame.seen.h = scale * static_cast<float>(map.rows);
    frame.seen.x = std::round(space.x + 0.5f * (space.w - frame.seen.w));
    frame.seen.y = space.y;
    frame.rect.w = frame.seen.w * static_cast<float>(view.zoom);
    frame.rect.h = frame.seen.h * static_cast<float>(view.zoom);
    const double half = 0.5 / view.zoom;
    view.across = std::clamp(view.across, half, 1.0 - half);
    view.along = std::clamp(view.along, half, 1.0 - half);
    frame.rect.x = frame.seen.centre().x - static_cast<float>(view.across) * frame.rect.w;
    frame.rect.y = frame.seen.centre().y - static_cast<float>(view.along) * frame.rect.h;
    frame.cell_x = frame.cell_y = frame.rect.w / static_cast<float>(map.columns);
    return frame;
}

/// Where a pixel's middle lies on the page.
std::optional<ImVec2> pageOf(Desk& desk, const CauseMaps::Map& map, const PictureFrame& f, int craft, Pixel pixel) {
    std::optional<Vec2> at;
    if (desk.causes.level == MapLevel::datum) {
        at = map.placeOf({pixel.sample + 0.5, pixel.line + 0.5});
    } else if (const auto ground = desk.session.crafts()[static_cast<std::size_t>(craft)]->formation().groundPoint(pixel.line, pixel.sample)) {
        at = map.geometry->frame().placeOf({ground->x, ground->y});
    }
    if (!at) return std::nullopt;
    return f.at(at->x, at->y);
}

void scaleBar(Ui& ui, const PictureFrame& f, double cell_m) {
    const double metres = roundStep(0.9 * f.seen.w / f.cell_x * cell_m, 3.0);
    const float length = static_cast<float>(metres / cell_m) * f.cell_x, x = f.seen.x + 10 * ui.s, y = f.seen.bottom() - 12 * ui.s;
    if (length > f.seen.w - 20 * ui.s || f.seen.h < 60 * ui.s) return;
    ui.cased({{x, y - 5 * ui.s}, {x, y}, {x + length, y}, {x + length, y - 5 * ui.s}}, over_light, over_dark, 2.0f);
    ui.casedText(x + 0.5f * length, y - 8 * ui.s - ui.fonts.small->FontSize, ui.fonts.small, over_light, over_dark, shortText(metres, Kind::length, 3), Align::centre);
}

std::string hoverWords(const CauseMaps::Map& map, const MapFrame& frame, Pixel cell) {
    const Vec2 middle = frame.middleOf(cell.sample, cell.line);
    const std::string place = shortText(std::abs(middle.x), Kind::length, 4) + (middle.x < 0 ? " W, " : " E, ") + shortText(std::abs(middle.y), Kind::length, 4) + (middle.y < 0 ? " S" : " N");
    const std::optional<PicturePlace> source = map.geometry->source(cell.sample, cell.line);
    if (!source) return place + "\nno pixel lies here";
    return place + "\nfrom line " + figuresText(source->line, 5) + ", sample " + figuresText(source->sample, 5) + " of the picture";
}

void pointAndPick(Desk& desk, const CauseMaps::Map& map, const PictureFrame& f, int craft, const Touch& t) {
    Session& session = desk.session;
    Craft& c = *session.crafts()[static_cast<std::size_t>(craft)];
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const auto bounded = [&](Pixel pixel) { return Pixel{std::clamp(pixel.line, 0, c.formation().lines() - 1), std::clamp(pixel.sample, 0, c.formation().samples() - 1)}; };
    if (t.hovered && f.seen.holds(mouse)) {
        const Pixel cell = f.pixelAt(mouse);
        if (!t.held) desk.ui.hint(hoverWords(map, map.geometry->frame(), cell));
        if (const std::optional<PicturePlace> source = map.geometry->source(cell.sample, cell.line)) {
            const Pixel pixel = bounded({static_cast<int>(source->line), static_cast<int>(source->sample)});
            if (!t.held && c.gathered(pixel)) pointAtPixel(desk, craft, pixel);
            if (t.held && c.gathered(pixel)) {
                desk.active = craft;
                if (!session.picked() || session.picked()->craft != craft || !(session.picked()->pixel == pixel)) session.pick(craft, pixel);
            }
        }
    }
    if (t.focused) desk.active = craft;
    if (t.focused && (t.step_x != 0 || t.step_y != 0) && session.picked() && session.picked()->craft == craft) {  // lines and samples, as in the picture
        session.pick(craft, bounded({std::min(session.picked()->pixel.line - t.step_y, c.shown() - 1), session.picked()->pixel.sample + t.step_x}));
    }
}

}  // namespace

void drawMapPicture(Desk& desk, int craft, const Rect& space) {
    Ui& ui = desk.ui;
    const std::size_t index = static_cast<std::size_t>(craft);
    const CauseMaps::Map* map = desk.maps.of(index);
    const auto say = [&](const std::string& words) { ui.paragraph(space.x + 8 * ui.s, space.y + 8 * ui.s, space.w - 16 * ui.s, ui.fonts.small, ui.p.quiet, words); };
    if (!desk.maps.problem().empty()) return say(desk.maps.problem());
    if (map == nullptr || index >= desk.map_pictures.size() || desk.map_pictures[index]->texture() == 0) return say("The map is being laid out.");
    PictureView& view = desk.map_views[index];
    const MapFrame& frame = map->geometry->frame();
    const PictureFrame f = frameOf(frame, space, view);
    Picture& picture = *desk.map_pictures[index];
    const Touch t = ui.touch(std::string("map ") + letterOf(craft), f.seen);
    if (t.hovered && ui.wheel() != 0.0f) {
        const Vec2 under = f.imageAt(ImGui::GetIO().MousePos);
        view.zoomAbout(std::pow(1.2, static_cast<double>(ui.wheel())), under.x / f.samples, under.y / f.lines);
    }
    picture.setSmooth(f.cell_x < 1.5f);
    ui.draw()->AddRectFilled(f.seen.min(), f.seen.max(), ui.p.blank);
    ui.draw()->PushClipRect(f.seen.min(), f.seen.max(), true);
    ui.draw()->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(picture.texture())), f.rect.min(), f.rect.max(), {0, 0}, {1, 1});
    drawPlacesOverMap(desk, f.seen, craft, [&](const Vec2& m) {
        const Vec2 at = frame.placeOf(m);
        return f.at(at.x, at.y);
    });
    if (desk.overlays) {
        scaleBar(ui, f, frame.cell_m);
        if (f.seen.h > 84 * ui.s && f.seen.w > 84 * ui.s) {
            constexpr double south = constants::pi;  // is down in a map
            drawArrows(desk, south, f.seen, false);
            desk.picture_warnings[index] = drawWarnings(desk, south, {f.seen.x, f.seen.y, f.seen.w, f.seen.h - 30 * ui.s}, false, "");
        }
    }
    ui.draw()->PopClipRect();
    ui.draw()->AddRect(f.seen.min(), f.seen.max(), ui.p.control, 0, 0, 1.0f);
    pointAndPick(desk, *map, f, craft, t);
    if (const std::optional<Picked>& pick = desk.session.picked()) {
        const bool own = pick->craft == craft;
        std::optional<Pixel> pixel;
        if (own) pixel = pick->pixel;
        else if (index < pick->linked.size() && pick->linked[index]) pixel = pick->linked[index]->pixel;
        const std::optional<ImVec2> at = pixel ? pageOf(desk, *map, f, craft, *pixel) : std::nullopt;
        if (at && f.seen.holds(*at)) {
            const Vec2 place = f.imageAt(*at);
            drawMark(desk, f, craft, {static_cast<int>(place.y), static_cast<int>(place.x)}, own);
        }
    }
    if (desk.cursor.on && index < desk.cursor.pixels.size() && desk.cursor.pixels[index] && !t.hovered) {
        const std::optional<ImVec2> at = pageOf(desk, *map, f, craft, *desk.cursor.pixels[index]);
        if (at && f.seen.holds(*at)) drawCursorRing(ui, *at);
    }
    const std::string how = std::string(desk.causes.resampling == Resampling::nearest ? "nearest" : "bilinear") + (desk.causes.level == MapLevel::datum ? ", at datum" : ", on the ground");
    const std::string cell = " · cells of " + shortText(frame.cell_m, Kind::length, 3), enlarged = view.zoom > 1.01 ? " · × " + figuresText(view.zoom, 2) : "";
    ui.text(space.centre().x, f.seen.bottom() + 4 * ui.s, ui.fonts.small, ui.p.quiet,
            ui.fitting(ui.fonts.small, {"map, " + how + cell + enlarged, how + cell + enlarged, how + enlarged, how}, space.w), Align::centre);
}

}  // namespace linefall
