#include "app/steps.h"

#include <algorithm>

#include "app/desk.h"
#include "base/angle.h"
#include "flight/light_stops.h"

namespace linefall {

namespace {

/// "Island, 43.1 s, sun 128° / 37°": enough to know it again.
std::string nameOfState(Desk& desk) {
    const Sunlight sun = desk.session.sunNow();
    std::string name = desk.session.scene().place->title + ", " + shortText(desk.session.clock().time_s(), Kind::time, 3) + ", sun " +
                       figuresText(degreesFromRadians(sun.azimuth_rad), 3) + "° / " + figuresText(degreesFromRadians(sun.elevation_rad), 3) + "° up, " +
                       shortText(desk.session.crafts().front()->formation().motion().height_m(), Kind::length, 3);
    if (desk.open_stop >= 0) name += std::string(", ") + lightStops()[static_cast<std::size_t>(desk.open_stop)].name;
    return name;
}

LectureStep stateOf(Desk& desk) {
    LectureStep step;
    step.name = nameOfState(desk);
    step.scene = desk.session.scene();
    const SimClock& clock = desk.session.clock();
    step.time_s = clock.time_s();
    step.pace = clock.pace();
    step.paused = clock.paused();
    if (const auto& pick = desk.session.picked()) step.pick = {pick->craft, pick->pixel};
    step.open_stop = desk.open_stop;
    step.open_tool = desk.open_tool;
    for (std::size_t i = 0; i < desk.session.crafts().size(); ++i) {
        const Craft& craft = *desk.session.crafts()[i];
        step.pictures.push_back({craft.bands(), craft.look(), i < desk.picture_views.size() ? desk.picture_views[i] : PictureView{}});
    }
    step.view_kind = static_cast<int>(desk.view.kind);
    step.turn_rad = desk.view.turn_rad;
    step.rise_rad = desk.view.rise_rad;
    step.zoom = desk.view.zoom;
    step.angles = desk.angles;
    step.overlays = desk.overlays;
    step.pictures_large = desk.pictures_large;
    step.active = desk.active;
    return step;
}

}  // namespace

void keepStep(Desk& desk) {
    if (!desk.session.loaded()) return;
    LectureSteps& steps = desk.steps;
    const int behind = std::clamp(steps.at + 1, 0, static_cast<int>(steps.kept.size()));
    steps.kept.insert(steps.kept.begin() + behind, stateOf(desk));
    steps.at = behind;
}

void showStep(Desk& desk, int index) {
    if (!desk.session.loaded() || index < 0 || index >= static_cast<int>(desk.steps.kept.size())) return;
    desk.steps.at = index;
    const LectureStep& step = desk.steps.kept[static_cast<std::size_t>(index)];
    Session& session = desk.session;
    if (!session.takeScene(step.scene).empty()) return;
    takeGeneration(desk);
    desk.picture_views.resize(session.crafts().size());
    for (std::size_t i = 0; i < step.pictures.size() && i < session.crafts().size(); ++i) {
        session.crafts()[i]->setLook(step.pictures[i].bands, step.pictures[i].look);
        if (i < desk.picture_views.size()) desk.picture_views[i] = step.pictures[i].view;
    }
    session.scrub(step.time_s);
    session.clock().setPace(step.pace);
    session.clock().setPaused(step.paused);
    if (step.pick) session.pick(step.pick->first, step.pick->second);
    else session.unpick();
    desk.open_stop = step.open_stop;
    desk.open_tool = step.open_tool;
    desk.view.from = desk.view.camera;  // it glides there, unless motion is reduced
    desk.view.change = 0.0;
    desk.view.kind = static_cast<ViewKind>(step.view_kind);
    desk.view.turn_rad = step.turn_rad;
    desk.view.rise_rad = step.rise_rad;
    desk.view.zoom = step.zoom;
    desk.angles = step.angles;
    desk.overlays = step.overlays;
    desk.pictures_large = step.pictures_large;
    desk.active = step.active;
}

void removeStep(Desk& desk, int index) {
    LectureSteps& steps = desk.steps;
    if (index < 0 || index >= static_cast<int>(steps.kept.size())) return;
    steps.kept.erase(steps.kept.begin() + index);
    if (steps.at >= index) --steps.at;
}

}  // namespace linefall
