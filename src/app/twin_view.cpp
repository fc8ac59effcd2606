#include "app/twin_view.h"

#include <algorithm>
#include <limits>

#include "app/desk.h"

namespace linefall {

namespace {

/// Lines of a picture that the ground under the platform passes in a second.
double linesPerSecond(const Formation& formation) {
    const Derived& d = formation.instrument().derived();
    if (d.line_period_s > 0.0) return 1.0 / d.line_period_s;
    const std::optional<FieldPoint> nadir = formation.instrument().field(0.0, false);
    return formation.motion().speed_m_s() / (nadir ? nadir->cell.along_m : 1.0);
}

}  // namespace

Vec2 nadirPlace(const Formation& formation, double time_s) {
    const Instrument& instrument = formation.instrument();
    const double rate = linesPerSecond(formation), middle = 0.5 * formation.samples();
    if (instrument.derived().line_period_s > 0.0) return {middle, (time_s - sweepOf(instrument, 0).from_s) * rate};
    return {middle, 0.5 * formation.lines() + (time_s - instrument.lineTime_s(0)) * rate};
}

std::pair<double, double> nadirTimes(const Formation& formation) {
    const double at_zero = nadirPlace(formation, 0.0).y, rate = linesPerSecond(formation);
    return {-at_zero / rate, (formation.lines() - at_zero) / rate};
}

PictureFrame blinkFrame(const Desk& desk, int craft, const Rect& space) {
    const auto& crafts = desk.session.crafts();
    const PictureView& view = desk.picture_views.front();
    double scale = std::numeric_limits<double>::max(), from_s = 0.0, to_s = desk.session.clock().time_s();
    for (const auto& each : crafts) {
        scale = std::min(scale, scaleIn(each->formation(), space));
        const auto [begins_s, ends_s] = nadirTimes(each->formation());
        from_s = std::max(from_s, begins_s);
        to_s = std::min(to_s, ends_s);
    }
    scale *= view.zoom;
    const Formation& own = crafts[static_cast<std::size_t>(craft)]->formation();
    Vec2 middle = nadirPlace(own, 0.0);
    const std::optional<Picked>& pick = desk.session.picked();
    const std::size_t index = static_cast<std::size_t>(craft);
    if (pick && pick->why && pick->craft == craft) {
        middle = {pick->pixel.sample + 0.5, pick->pixel.line + 0.5};
    } else if (pick && pick->why && index < pick->linked.size() && pick->linked[index]) {
        middle = {pick->linked[index]->pixel.sample + 0.5, pick->linked[index]->pixel.line + 0.5};
    } else {
        // As much as was gathered, the newest at the edge: what all of them saw.
        const double half_s = 0.5 * space.h / scale / own.motion().speed_m_s();
        const double last_s = std::max(from_s, to_s - half_s);
        middle = nadirPlace(own, std::max(last_s, std::min(0.5 * (from_s + to_s), from_s + half_s)));
    }
    return pictureFrameAbout(own, space, scale, middle, view.turned);
}

}  // namespace linefall
