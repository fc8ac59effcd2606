#include "app/report.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "app/desk.h"
#include "app/tools.h"
#include "base/angle.h"

namespace linefall {

using Json = nlohmann::ordered_json;

namespace {

/// The sun's path when it is shown, in the flight view or in its tool.
Json sunPathReport(Desk& desk) {
    const bool tool = desk.open_tool >= 0 && toolTable()[static_cast<std::size_t>(desk.open_tool)].act == Act::tool_angles;
    if (!tool && !desk.angles.shows(AngleMark::sun_path)) return nullptr;
    const PathOf of = pathOf(desk);
    const SunPath& path = sunPathNow(desk);
    const auto clock = [&](const std::optional<Instant>& instant) { return instant ? Json(clockText(*instant, of.utc_offset_s)) : Json(nullptr); };
    return {{"latitude_deg", degreesFromRadians(of.latitude_rad)}, {"date", dateText(of.date)}, {"noon", clock(path.noon.time)},
            {"noon_elevation_deg", degreesFromRadians(path.noon.elevation_rad)}, {"rises", clock(path.day.sunrise)}, {"sets", clock(path.day.sunset)}};
}

}  // namespace

Report::Report(const std::string& path) {
    if (!path.empty()) file_.open(path);
}

void Report::started(double at_s, const std::string& renderer, int width, int height) {
    if (!on()) return;
    file_ << Json{{"at", at_s}, {"event", "start"}, {"renderer", renderer}, {"width", width}, {"height", height}}.dump() << std::endl;
}

void Report::error(double at_s, const std::string& text) {
    if (on()) file_ << Json{{"at", at_s}, {"event", "error"}, {"text", text}}.dump() << std::endl;
}

void Report::controls(double at_s, Desk& desk) {
    if (!on()) return;
    desk.ui.watchWords();
    Json places = Json::object();
    for (const auto& [name, r] : desk.ui.places()) places[name] = {std::lround(r.x), std::lround(r.y), std::lround(r.w), std::lround(r.h)};
    const Json spoilt(desk.ui.spoilt());
    const std::string text = places.dump() + spoilt.dump();
    if (text == controls_) return;
    controls_ = text;
    file_ << Json{{"at", at_s}, {"event", "controls"}, {"controls", places}, {"spoilt", spoilt}}.dump() << std::endl;
}

void Report::words(double at_s, const Desk& desk) {
    if (!on()) return;
    Json words = Json::array();
    for (const Ui::Words& w : desk.ui.words()) {
        if (!w.whole) continue;
        words.push_back({std::lround(w.place.x), std::lround(w.place.y), std::lround(w.place.w), std::lround(w.place.h), w.words, w.over_picture, {w.ink >> IM_COL32_R_SHIFT & 255, w.ink >> IM_COL32_G_SHIFT & 255, w.ink >> IM_COL32_B_SHIFT & 255}});
    }
    const std::string text = words.dump();
    if (text == words_) return;
    words_ = text;
    file_ << Json{{"at", at_s}, {"event", "words"}, {"words", words}}.dump() << std::endl;
}

void Report::state(double at_s, const char* event, Desk& desk, double frames_per_s) {
    if (!on()) return;
    Json j{{"at", at_s}, {"event", event}, {"frames_per_s", std::round(10.0 * frames_per_s) / 10.0}};
    if (desk.world) {
        j["draw_ms"] = desk.world->draw_ms();
        j["grid"] = desk.world->grid();
    }
    Session& session = desk.session;
    j["theme"] = desk.night ? "night" : "day";
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    j["page"] = {std::lround(size.x), std::lround(size.y)};
    j["stacked"] = stacks(size.x, size.y, desk.ui.s);
    j["rolled"] = std::lround(desk.roll);
    j["scale"] = desk.ui.s;
    j["error"] = session.failure();
    j["rebuilt"] = desk.rebuilt;
    j["typing"] = desk.ui.takesLetters();
    j["lecture"] = desk.lecture;
    j["blank"] = desk.blank;
    j["frozen"] = desk.frozen;
    j["test_card"] = desk.test_card;
    j["steps"] = desk.steps.kept.size();
    j["step"] = desk.steps.at + 1;
    if (session.loaded()) {
        const SimClock& clock = session.clock();
        j["drape"] = session.drapeSide();
        j["lines"] = Json::array();
        for (const auto& craft : session.crafts()) j["lines"].push_back(craft->shown());
        j["samples"] = Json::array();
        for (const auto& craft : session.crafts()) j["samples"].push_back(craft->partly().run.count());
        j["slow"] = Json::array();
        for (int i = 0; i < static_cast<int>(session.crafts().size()); ++i) j["slow"].push_back(isSlow(desk, i));
        j["instruments"] = Json::array();
        for (const InstrumentSetup& setup : session.scene().instruments) j["instruments"].push_back(setup.preset);
        j["exchanging"] = session.exchanging();
        j["refused"] = session.exchangeProblem();
        j["blink"] = desk.blink.on() ? std::string(1, letterOf(desk.blink.shown())) : "";
        j["hand"] = nullptr;
        if (const std::optional<int> by_hand = session.handCraft()) {
            const HandSweep& hand = *session.crafts()[static_cast<std::size_t>(*by_hand)]->hand();
            j["hand"] = {{"craft", std::string(1, letterOf(*by_hand))}, {"line", hand.line()}, {"sample", hand.at()}, {"gathered", hand.count()}, {"samples", hand.samples()}};
        }
        if (desk.ruler_page) j["ruler"] = {desk.ruler_page->from_s, desk.ruler_page->to_s};
        j["settled"] = Json::array();
        for (const auto& craft : session.crafts()) j["settled"].push_back(craft->settled());
        j["time_s"] = clock.time_s();
        j["duration_s"] = clock.duration_s();
        j["pace"] = clock.pace();
        j["paused"] = clock.paused();
        j["view"] = nameOf(desk.view.kind);
        j["stop"] = desk.open_stop + 1;
        j["focus"] = desk.ui.focused();
        j["place"] = session.scene().place->name;
        j["problems"] = session.openProblems();
        j["left"] = desk.keep.left.has_value();
        j["said"] = desk.keep.said.empty() ? desk.keep.maker.said() : desk.keep.said;
        j["figures"] = {{"working", desk.keep.maker.working()}, {"share", desk.keep.maker.now().share}, {"files", desk.keep.maker.files()}, {"problems", desk.keep.maker.problems()}};
        j["measured"] = Json::array();
        for (const Reading& reading : readingsOf(desk)) j["measured"].push_back({{"name", reading.name}, {"value", reading.ok() ? Json(reading.value) : Json()}, {"sigma", reading.sigma}, {"text", textOf(reading, desk.measure.units)}});
        j["tool"] = desk.open_tool < 0 ? "" : toolTable()[static_cast<std::size_t>(desk.open_tool)].name;
        j["large"] = desk.pictures_large ? "pictures" : "flight";
        j["turned"] = session.scene().showSettings().turned;
        j["warnings"] = desk.picture_warnings;
        j["profile"] = nullptr;
        if (const auto& span = desk.measure.profile; span && measuring(desk)) {
            j["profile"] = {{"lowest_m", span->lowest_m}, {"lowest_at_m", span->lowest_at_m}, {"highest_m", span->highest_m}, {"highest_at_m", span->highest_at_m}};
        }
        j["stretch"] = Json::array();
        for (const StretchLimits& limits : session.crafts().front()->look().limits) j["stretch"].push_back({limits.low, limits.high});
        j["bands"] = session.crafts().front()->look().bands.name;
        const Sunlight sun = session.sunNow();
        j["sun"] = {degreesFromRadians(sun.azimuth_rad), degreesFromRadians(sun.elevation_rad)};
        j["height_m"] = session.crafts().front()->formation().motion().height_m();
        j["causes"] = Json::array();
        for (const CauseRow& row : causeTable()) {
            if (isOn(session.scene(), row.cause)) j["causes"].push_back(row.word);
        }
        j["cause"] = rowOf(desk.causes.cause).word;
        j["difference"] = nullptr;
        if (const CauseStudy::Shown* shown = desk.study.shown(static_cast<std::size_t>(desk.active)); shown != nullptr && !shown->numbers.empty()) {
            j["difference"] = {{"limit", shown->limit}, {"lines", std::count(shown->stands.begin(), shown->stands.end(), 1)}, {"stale", desk.study.stale()}, {"mean", Json::array()}, {"rms", Json::array()}, {"changed", Json::array()}};
            for (const DifferenceStatistics& n : shown->numbers) {
                j["difference"]["mean"].push_back(n.mean);
                j["difference"]["rms"].push_back(n.rms);
                j["difference"]["changed"].push_back(n.changed);
            }
        }
        j["arrows"] = nullptr;
        if (const CausePlaces::Places* places = desk.cause_places.of(static_cast<std::size_t>(desk.active)); places != nullptr && desk.causes.places) {
            j["arrows"] = {{"count", places->arrows.size()}, {"outlines", places->ghosts.size()}, {"most", places->arrows.empty() ? 0.0 : places->arrows.front().pixels()}, {"name", places->arrows.empty() ? "" : places->arrows.front().name}};
        }
        j["map"] = nullptr;
        if (const CauseMaps::Map* map = desk.maps.of(static_cast<std::size_t>(desk.active)); map != nullptr && desk.causes.map) {
            std::size_t covered = 0;
            for (const std::uint8_t cell : map->picture.covered.values()) covered += cell;
            j["map"] = {{"columns", map->geometry->frame().columns}, {"rows", map->geometry->frame().rows}, {"cell_m", map->geometry->frame().cell_m}, {"covered", covered},
                        {"resampling", map->geometry->resampling() == Resampling::nearest ? "nearest" : "bilinear"}, {"level", map->geometry->level() == MapLevel::datum ? "datum" : "ground"}};
        }
        j["cursor"] = nullptr;
        if (desk.cursor.on) {
            j["cursor"] = {{"point", {desk.cursor.point_m.x, desk.cursor.point_m.y, desk.cursor.point_m.z}}, {"pixels", Json::array()}};
            for (const std::optional<Pixel>& pixel : desk.cursor.pixels) j["cursor"]["pixels"].push_back(pixel ? Json{pixel->line, pixel->sample} : Json());
        }
        j["picked"] = nullptr;
        j["linked"] = nullptr;
        j["ray"] = {{"sun", desk.ray.sun}, {"blocked_by", desk.ray.blocked_by}, {"lit", desk.ray.lit}, {"looks", desk.ray.looks}};
        const auto& rows = walkNow(desk);
        j["walk"] = {{"rows", std::count_if(rows.begin(), rows.end(), [&](const WalkRow& row) { return row.stop == desk.open_stop; })},
                     {"roll", std::lround(desk.walk.roll)}, {"verdict", desk.open_stop >= 0 ? desk.walk.verdict : ""}, {"copied", desk.walk.copied}, {"saved", desk.walk.saved}};
        j["angles"] = Json::array();
        for (std::size_t i = 0; i < angle_count; ++i) {
            if (desk.angles.on[i]) j["angles"].push_back(angleTable()[i].word);
        }
        j["labels"] = Json::array();
        for (const auto& [words, r] : desk.flight_labels) j["labels"].push_back({words, std::lround(r.x), std::lround(r.y), std::lround(r.w), std::lround(r.h)});
        j["sun_path"] = sunPathReport(desk);
        j["saying"] = desk.saying;
        if (const auto& pick = session.picked()) {
            j["picked"] = {{"craft", std::string(1, letterOf(pick->craft))}, {"line", pick->pixel.line}, {"sample", pick->pixel.sample}};
            if (pick->why) {
                j["picked"]["counts"] = pick->why->counts;
                j["picked"]["blocked"] = pick->why->blocked_at_m.has_value();
                for (const auto& near : pick->linked) {
                    if (near) j["linked"] = {{"line", near->pixel.line}, {"sample", near->pixel.sample}, {"off_m", near->off_m}};
                }
            }
        }
    }
    file_ << j.dump() << std::endl;
}

}  // namespace linefall
