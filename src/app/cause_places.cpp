#include "app/cause_places.h"

#include <algorithm>
#include <numeric>
#include <span>

#include "flight/causes.h"

namespace linefall {

namespace {

constexpr int most_ghosts = 60;

std::vector<int> tallest(std::span<const Object> objects) {
    std::vector<int> order(objects.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return objects[static_cast<std::size_t>(a)].height_m > objects[static_cast<std::size_t>(b)].height_m; });
    if (order.size() > most_ghosts) order.resize(most_ghosts);
    return order;
}

}  // namespace

std::string placesKey(const Scene& scene) {
    std::string key = scene.place->name;
    for (const InstrumentSetup& setup : scene.instruments) key += "\n" + causesOf(scene, setup).front();
    return key;
}

void CausePlaces::frame(const Session& session) {
    if (maker_.ended()) {
        const std::shared_ptr<Job> made = std::move(job_);
        try {
            maker_.finish();
            places_ = std::move(made->places);
        } catch (const std::exception&) {  // a scene that cannot be flown is refused where it is set
            places_.clear();
        }
        key_ = made->key;
    }
    const CauseView view = session.loaded() ? causeViewOf(session.scene()) : CauseView{};
    if (!view.places) return;
    if (checked_ != session.sceneVersion() || checked_cause_ != view.cause || asked_.empty()) {
        checked_ = session.sceneVersion();
        checked_cause_ = view.cause;
        asked_ = placesKey(session.scene()) + "\n" + rowOf(view.cause).word;
    }
    if (key_ == asked_ || maker_.running()) return;
    job_ = std::make_shared<Job>();
    job_->key = asked_;
    maker_.start([job = job_, scene = session.scene(), cause = view.cause](const Cancel& cancel) {
        const std::vector<int> objects = tallest(scene.place->ground->objects());
        for (std::size_t i = 0; i < scene.instruments.size() && !cancel; ++i) {
            const TwoPictures pictures = picturesBy(scene, i, cause);
            job->places.push_back({displacements(pictures), ghostOutlines(pictures, objects)});
        }
    });
}

const CausePlaces::Places* CausePlaces::of(std::size_t craft) const { return key_ == asked_ && craft < places_.size() ? &places_[craft] : nullptr; }

}  // namespace linefall
