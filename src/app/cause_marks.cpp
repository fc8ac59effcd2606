#include "app/cause_marks.h"

#include <cmath>

#include "app/desk.h"
#include "app/picture_marks.h"

namespace linefall {

namespace {

constexpr ImU32 arrow_ink = IM_COL32(255, 206, 58, 255);

/// An outline; dashed where it is true, whole where it is shown.
void outline(const Ui& ui, const std::vector<ImVec2>& ring, ImU32 colour, ImU32 casing, float dash) {
    if (ring.size() > 1) ui.cased(ring, colour, casing, 1.6f, dash);
}

bool anyIn(const Rect& seen, const std::vector<ImVec2>& ring) {
    for (const ImVec2& at : ring) {
        if (seen.holds(at)) return true;
    }
    return false;
}

template <typename Places, typename To>
std::vector<ImVec2> onPage(const Places& places, const To& to) {
    std::vector<ImVec2> ring;
    for (const auto& place : places) ring.push_back(to(place));
    return ring;
}

}  // namespace

void drawPlacesOver(Desk& desk, const PictureFrame& f, int craft) {
    const CausePlaces::Places* places = desk.causes.places ? desk.cause_places.of(static_cast<std::size_t>(craft)) : nullptr;
    if (places == nullptr || places->arrows.empty()) return;  // what moves nothing gets no outlines either
    Ui& ui = desk.ui;
    const auto to = [&](const PicturePlace& place) { return f.at(place.sample, place.line); };
    const double gathered = desk.session.crafts()[static_cast<std::size_t>(craft)]->shown();
    ui.draw()->PushClipRect(f.seen.min(), f.seen.max(), true);
    for (const Ghost& ghost : places->ghosts) {
        const std::vector<ImVec2> truth = onPage(ghost.truth, to), top = onPage(ghost.top, to);
        if (!anyIn(f.seen, truth) || (!ghost.truth.empty() && ghost.truth.front().line > gathered)) continue;
        outline(ui, truth, over_light, over_dark, 4.0f);
        outline(ui, top, arrow_ink, over_dark, 0.0f);
    }
    for (const Displacement& d : places->arrows) {
        const ImVec2 home = to(d.home), seen = to(d.seen);
        if (d.seen.line > gathered || !f.seen.holds(seen) || std::hypot(seen.x - home.x, seen.y - home.y) < 3 * ui.s) continue;
        drawArrow(ui, home, seen, d.visible ? arrow_ink : over_light, over_dark);
    }
    ui.draw()->PopClipRect();
}

void drawPlacesOverMap(Desk& desk, const Rect& seen, int craft, const std::function<ImVec2(const Vec2&)>& place_of) {
    const CausePlaces::Places* places = desk.causes.places ? desk.cause_places.of(static_cast<std::size_t>(craft)) : nullptr;
    if (places == nullptr || places->arrows.empty()) return;  // what moves nothing gets no outlines either
    Ui& ui = desk.ui;
    const double gathered = desk.session.crafts()[static_cast<std::size_t>(craft)]->shown();
    for (const Ghost& ghost : places->ghosts) {
        const std::vector<ImVec2> truth = onPage(ghost.truth_m, place_of), top = onPage(ghost.top_map_m, place_of);
        if (!anyIn(seen, truth) || (!ghost.truth.empty() && ghost.truth.front().line > gathered)) continue;
        outline(ui, truth, over_light, over_dark, 4.0f);
        if (desk.causes.level == MapLevel::datum) outline(ui, top, arrow_ink, over_dark, 0.0f);
    }
    if (desk.causes.level != MapLevel::datum) return;  // on the ground everything stands at its true place
    for (const Displacement& d : places->arrows) {
        const ImVec2 home = place_of({d.true_m.x, d.true_m.y}), shown = place_of(d.map_m);
        if (d.seen.line > gathered || !seen.holds(shown) || std::hypot(shown.x - home.x, shown.y - home.y) < 3 * ui.s) continue;
        drawArrow(ui, home, shown, d.visible ? arrow_ink : over_light, over_dark);
    }
}

std::string wordsOfPlaces(const Desk& desk, int craft) {
    if (!desk.causes.places) return "";
    const CausePlaces::Places* places = desk.cause_places.of(static_cast<std::size_t>(craft));
    if (places == nullptr) return "The places are being worked out.";
    if (places->arrows.empty()) return "It moves nothing by half a pixel or more.";
    const Displacement& most = places->arrows.front();
    return "Arrows run from where a thing would be shown without it to where it is shown; dashed: its outline without it. Largest in " + std::string(1, letterOf(craft)) + ": " +
           (most.object < 0 && most.name == "ground" ? "a place on the ground" : most.name + ", " + shortText(most.true_m.z, Kind::length, 3) + " up") + ", by " + figuresText(most.pixels(), 3) + " pixels.";
}

}  // namespace linefall
