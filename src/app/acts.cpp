// What each key of the table does.

#include <algorithm>
#include <cmath>

#include "app/desk.h"
#include "app/tools.h"
#include "base/constants.h"

namespace linefall {

namespace {

void setView(Desk& desk, ViewKind kind) {
    desk.view.from = desk.view.camera;
    desk.view.change = 0.0;
    desk.view.kind = kind;
    desk.view.turn_rad = desk.view.rise_rad = 0.0;
    desk.view.zoom = 1.0;
}

void stepLine(Desk& desk, bool on) {
    const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(desk.active)];
    SimClock& clock = desk.session.clock();
    clock.setPaused(true);
    desk.session.scrub(nextLineDone_s(craft.formation().instrument(), clock.time_s(), on));
}

void stepSample(Desk& desk, bool on) {
    const Craft& craft = *desk.session.crafts()[static_cast<std::size_t>(desk.active)];
    SimClock& clock = desk.session.clock();
    clock.setPaused(true);
    desk.stepping = true;
    if (const std::optional<int> by_hand = desk.session.handCraft()) {
        Craft& swept = *desk.session.crafts()[static_cast<std::size_t>(*by_hand)];
        swept.moveHand(swept.hand()->at() + (on ? 1 : -1));
        return;
    }
    desk.session.scrub(nextDwellEnd_s(craft.formation().instrument(), clock.time_s(), on));
}

/// The ruler covers a longer time (-1) or a shorter one (1).
void changeRuler(Desk& desk, int by) {
    const RulerChoice ruler = rulerOf(desk);
    desk.ruler_level = std::clamp(ruler.level + by, 0, static_cast<int>(ruler.levels.size()) - 1);
}

/// The line of sight in the hand, or back to the machine.
void byHand(Desk& desk) {
    if (desk.session.handCraft()) {
        desk.session.endHand();
        return;
    }
    desk.session.beginHand(desk.active);
    desk.ui.focus(hand_control);
}

/// The pictures by turns; where motion is reduced each press shows the next one, and Escape ends it.
void blink(Desk& desk) {
    const int count = static_cast<int>(desk.session.crafts().size());
    if (!desk.blink.on()) desk.blink.begin(desk.active, count);
    else if (desk.reduced_motion) desk.blink.next();
    else desk.blink.end();
}

void showAs(Desk& desk, const char* what) { desk.session.setValue(desk.session.sceneParameter("show.as"), Value{std::string(what)}); }

void nextBands(Desk& desk) {
    const Image& image = desk.session.crafts().front()->formation().image();
    std::vector<std::string> choices{"true colour", "false colour"};
    for (const Band& band : image.bands) choices.push_back(band.name);
    const ParameterOf bands = desk.session.sceneParameter("show.bands");
    const auto now = std::find(choices.begin(), choices.end(), std::get<std::string>(desk.session.valueOf(bands)));
    const bool last = now == choices.end() || now + 1 == choices.end();
    desk.session.setValue(bands, Value{last ? choices.front() : *(now + 1)});
}

/// Nearer or farther: the picture that has the focus, else the flight.
void zoom(Desk& desk, double factor) {
    const std::string& focus = desk.ui.focused();
    if (focus.rfind("picture ", 0) != 0 || static_cast<std::size_t>(desk.active) >= desk.picture_views.size()) {
        desk.view.zoom = std::clamp(desk.view.zoom / factor, 0.02, 20.0);
        return;
    }
    PictureView& view = desk.picture_views[static_cast<std::size_t>(desk.active)];
    const Formation& formation = desk.session.crafts()[static_cast<std::size_t>(desk.active)]->formation();
    double across = view.across, along = view.along;
    if (const std::optional<Picked>& pick = desk.session.picked(); pick && pick->craft == desk.active) {
        across = (pick->pixel.sample + 0.5) / formation.samples();
        along = (pick->pixel.line + 0.5) / formation.lines();
    }
    view.zoomAbout(factor, across, along);
}

void turnSun(Desk& desk) {
    const ParameterOf azimuth = desk.session.sceneParameter("sun.azimuth");
    const double now = desk.session.sunNow().azimuth_rad;
    desk.session.setValue(azimuth, Value{std::fmod(now + constants::pi, 2.0 * constants::pi)});
}

/// The keys go to the help while it lies over the page, and back to where they were.
void showHelp(Desk& desk, bool on) {
    if (on == desk.help) return;
    desk.help = on;
    if (on) desk.focus_before_help = desk.ui.focused();
    desk.ui.focus(on ? help_control : desk.focus_before_help);
}

void close(Desk& desk) {
    if (desk.test_card) desk.test_card = false;
    else if (desk.help) showHelp(desk, false);
    else if (desk.blink.on()) desk.blink.end();
    else if (desk.session.loaded() && desk.session.handCraft()) desk.session.dropHand();
    else if (desk.open_stop >= 0 || desk.open_tool >= 0) desk.open_stop = desk.open_tool = -1;
    else desk.session.unpick();
}

}  // namespace

void act(Desk& desk, Act what) {
    Session& session = desk.session;
    for (const Tool& tool : toolTable()) {
        if (tool.act == what) return toggleTool(desk, what);
    }
    switch (what) {
        case Act::help: showHelp(desk, !desk.help); return;
        case Act::theme: desk.night = !desk.night; return;
        case Act::text_larger: desk.text_scale = std::min(2.0f, desk.text_scale * 1.1f); desk.rescale = true; return;
        case Act::text_smaller: desk.text_scale = std::max(0.8f, desk.text_scale / 1.1f); desk.rescale = true; return;
        case Act::text_standard: desk.text_scale = 1.0f; desk.rescale = true; return;
        case Act::swap: desk.pictures_large = !desk.pictures_large; return;
        case Act::test_card: desk.test_card = !desk.test_card; return;
        case Act::blank: desk.blank = !desk.blank; return;
        case Act::freeze: desk.frozen = !desk.frozen; return;
        case Act::keep_step: keepStep(desk); return;
        case Act::step_next: showStep(desk, desk.steps.at + 1); return;  // nothing behind the last
        case Act::step_back: showStep(desk, std::max(desk.steps.at - 1, 0)); return;
        case Act::lecture: desk.lecture = !desk.lecture; desk.rescale = true; return;
        default: break;
    }
    if (!session.loaded()) return;
    SimClock& clock = session.clock();
    switch (what) {
        case Act::pause:
            desk.stepping = false;
            if (session.handCraft()) {
                session.endHand();
                break;
            }
            if (clock.atEnd()) session.restart();
            else clock.setPaused(!clock.paused() || clock.filling());
            break;
        case Act::slower: setPace(desk, clock.pace() / 1.25892541); break;
        case Act::faster: setPace(desk, clock.pace() * 1.25892541); break;
        case Act::line_back: stepLine(desk, false); break;
        case Act::line_on: stepLine(desk, true); break;
        case Act::sample_back: stepSample(desk, false); break;
        case Act::sample_on: stepSample(desk, true); break;
        case Act::blink: blink(desk); break;
        case Act::difference: showAs(desk, desk.causes.difference ? "picture" : "difference"); break;
        case Act::map_geometry: showAs(desk, desk.causes.map ? "picture" : "map"); break;
        case Act::displacement: session.setValue(session.sceneParameter("show.displacement"), Value{!desk.causes.places}); break;
        case Act::by_hand: byHand(desk); break;
        case Act::ruler_longer: changeRuler(desk, -1); break;
        case Act::ruler_shorter: changeRuler(desk, 1); break;
        case Act::to_start: session.scrub(0.0); break;
        case Act::fill: clock.fill(); break;
        case Act::restart: session.restart(); break;
        case Act::view_next: setView(desk, static_cast<ViewKind>((static_cast<int>(desk.view.kind) + 1) % 4)); break;
        case Act::view_1: setView(desk, ViewKind::island); break;
        case Act::view_2: setView(desk, ViewKind::chase); break;
        case Act::view_3: setView(desk, ViewKind::side); break;
        case Act::view_4: setView(desk, ViewKind::top); break;
        case Act::zoom_in: zoom(desk, 1.15); break;
        case Act::zoom_out: zoom(desk, 1.0 / 1.15); break;
        case Act::overlays: desk.overlays = !desk.overlays; break;
        case Act::stop_1: case Act::stop_2: case Act::stop_3: case Act::stop_4:
        case Act::stop_5: case Act::stop_6: case Act::stop_7: case Act::stop_8: {
            const int stop = static_cast<int>(what) - static_cast<int>(Act::stop_1);
            desk.open_stop = desk.open_stop == stop ? -1 : stop;
            desk.open_tool = -1;
            break;
        }
        case Act::other_picture: {
            const int count = static_cast<int>(session.crafts().size());
            const int next = (desk.active + 1) % std::max(1, count);
            if (session.picked() && next != desk.active) {
                const std::optional<Nearest> linked = session.picked()->linked.size() > static_cast<std::size_t>(next)
                                                          ? session.picked()->linked[static_cast<std::size_t>(next)] : std::nullopt;
                if (linked) session.pick(next, linked->pixel);
            }
            desk.active = next;
            break;
        }
        case Act::bands: nextBands(desk); break;
        case Act::stretch:
            for (const auto& craft : session.crafts()) craft->stretchAgain();
            break;
        case Act::turn_sun: turnSun(desk); break;
        case Act::save: actKeep(desk); break;
        case Act::copy_walk: copyWalk(desk); break;
        case Act::save_walk: saveWalk(desk); break;
        case Act::figures: actFigures(desk); break;
        case Act::turn_pictures: {
            const ParameterOf turned = session.sceneParameter("show.turned");
            session.setValue(turned, Value{!std::get<bool>(session.valueOf(turned))});
            break;
        }
        case Act::close: close(desk); break;
        default: break;
    }
}

}  // namespace linefall
