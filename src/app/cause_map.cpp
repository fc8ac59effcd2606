#include "app/cause_map.h"

#include "app/cause_places.h"

namespace linefall {

namespace {

constexpr double between_fills_s = 0.6;  ///< a map of falling lines is filled no more often
constexpr int most_cells = 1'500'000;    ///< about what a page can show

}  // namespace

std::optional<Vec2> CauseMaps::Map::placeOf(const PicturePlace& place) const {
    const std::optional<Vec2> at = meetsLevel(locator->rayAt(place), 0.0);
    if (!at) return std::nullopt;
    return geometry->frame().placeOf(*at);
}

void CauseMaps::frame(const Session& session, double seconds) {
    if (maker_.ended()) {
        const std::shared_ptr<Job> made = std::move(job_);
        maps_.clear();
        filled_.clear();
        problem_.clear();
        try {
            maker_.finish();
            maps_ = std::move(made->maps);
            filled_.resize(maps_.size());
        } catch (const std::exception& error) {
            problem_ = error.what();
        }
        key_ = made->key;
        since_s_ = 1e9;
    }
    waits_ = false;
    const CauseView view = session.loaded() ? causeViewOf(session.scene()) : CauseView{};
    if (!view.map) return;
    if (checked_ != session.sceneVersion() || !(checked_view_ == view)) {
        checked_ = session.sceneVersion();
        checked_view_ = view;
        asked_ = placesKey(session.scene()) + "\n" + std::to_string(static_cast<int>(view.resampling)) + std::to_string(static_cast<int>(view.level));
    }
    if (key_ == asked_) {
        fill(session, seconds);
        return;
    }
    if (maker_.running()) {
        if (job_->key != asked_) maker_.cancel();
        return;
    }
    job_ = std::make_shared<Job>();
    job_->key = asked_;
    maker_.start([job = job_, scene = session.scene(), view](const Cancel& cancel) {
        for (std::size_t i = 0; i < scene.instruments.size(); ++i) {
            Map map;
            const auto aim = std::make_shared<const Aim>(scene, i);
            map.locator = std::make_shared<const Locator>(aim);
            MapPictureRequest request;
            request.resampling = view.resampling;
            request.level = view.level;
            request.most_cells = most_cells;
            map.geometry = mapGeometry(*aim, request, &cancel);
            if (!map.geometry) return;
            job->maps.push_back(std::move(map));
        }
    });
}

void CauseMaps::fill(const Session& session, double seconds) {
    since_s_ += seconds;
    for (std::size_t i = 0; i < maps_.size() && i < session.crafts().size(); ++i) {
        const Craft& craft = *session.crafts()[i];
        const Filled now{craft.shown(), craft.stale(), session.sceneVersion()};
        if (filled_[i] == now) continue;
        if (since_s_ < between_fills_s && (session.clock().moving() || !craft.settled())) {
            waits_ = true;
            continue;
        }
        maps_[i].picture = mapPicture(maps_[i].geometry, craft.formation().image(), craft.shown());
        maps_[i].version = ++versions_;
        filled_[i] = now;
        if (i + 1 == maps_.size()) since_s_ = 0.0;
    }
}

const CauseMaps::Map* CauseMaps::of(std::size_t craft) const {
    return key_ == asked_ && craft < maps_.size() && maps_[craft].picture.image.samples() > 0 ? &maps_[craft] : nullptr;
}

}  // namespace linefall
