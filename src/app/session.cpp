#include "app/session.h"

#include <algorithm>
#include <chrono>

#include "app/machine.h"
#include "scene/memory.h"

namespace linefall {

/// What the loading job makes.
struct Session::Loaded {
    Scene scene;
    std::vector<std::unique_ptr<Craft>> crafts;
};

Session::Session(SceneRequest request) { open(std::move(request)); }

void Session::open(SceneRequest request) {
    if (loading_) loader_.cancel();  // what was asked for last is what counts
    asked_ = std::move(request);
    loading_ = std::make_shared<Loaded>();
    loader_.start([asked = asked_, out = loading_, held = loaded() ? imagesBytes(scene_) : 0.0](const Cancel&) {
        out->scene = loadScene(asked);
        checkMachine(out->scene, false, held);
        out->crafts.resize(out->scene.instruments.size());
        parallelFor(static_cast<int>(out->crafts.size()), 0, [&out](int i) {
            const auto index = static_cast<std::size_t>(i);
            out->crafts[index] = std::make_unique<Craft>(out->scene, index);
        });
    });
}

Session::~Session() = default;

void Session::takeLoaded() {
    open_problems_.clear();
    try {
        loader_.finish();
        const bool first = !loaded();
        scene_ = std::move(loading_->scene);
        sceneChanged();
        crafts_ = std::move(loading_->crafts);
        request_ = asked_;
        clock_.reset(longest_s());
        picked_.reset();
        ++picked_version_;
        problems_.clear();
        behind_ = false;
        ++light_version_;
        ++generation_;
        if (!first) dropDrape();
        takeShown();
        failure_.clear();
    } catch (const InputError& error) {
        for (const Problem& problem : error.problems()) open_problems_.push_back(problem.text());
        if (!loaded()) failure_ = error.what();
    } catch (const std::exception& error) {
        open_problems_.push_back(error.what());
        if (!loaded()) failure_ = error.what();
    }
    loading_.reset();
}

void Session::refuseOpen(const Problems& problems) {
    open_problems_.clear();
    for (const Problem& problem : problems) open_problems_.push_back(problem.text());
    if (!loaded() && !loading_) failure_ = textOf(problems);
}

double Session::longest_s() const {
    double longest = 0.0;
    for (const auto& craft : crafts_) longest = std::max(longest, craft->duration_s());
    return longest;
}

Scene Session::sceneOfNow() const {
    Scene scene = scene_;
    const auto put = [&](const char* key, Value value) { scene.settings.replace(*findSceneRow(key), std::move(value)); };
    put("show.time", clock_.atEnd() ? Value{Auto{}} : Value{clock_.time_s()});
    put("show.pixel", picked_ ? writtenPixel({picked_->craft, picked_->pixel.line, picked_->pixel.sample}) : std::string());
    return scene;
}

std::string Session::stateOfNow(const std::string& folder) const { return stateText(sceneOfNow(), folder); }

void Session::takeShown() {
    const ShowSettings show = scene_.showSettings();
    if (show.time_s) {  // the lines up to there fall as fast as they can be formed
        clock_.setPaused(true);
        clock_.goTo(*show.time_s);
    }
    if (const std::optional<ShownPixel> pixel = readShownPixel(show.pixel)) pick(pixel->instrument, {pixel->line, pixel->sample});
}

bool Session::frame(double seconds, double budget_ms) {
    bool changed = false;
    if (loading_ && loader_.ended()) {
        takeLoaded();
        changed = true;
    }
    if (!loaded()) return changed;
    runDrape();
    catchUp();
    takeExchanged();
    sendHome();
    watchHand();
    const double wanted = clock_.wanted(std::min(seconds, 0.25));
    double reached = wanted;
    // The crafts take turns at the budget; what one leaves, the next may use.
    const auto start = std::chrono::steady_clock::now();
    for (std::size_t i = 0; i < crafts_.size(); ++i) {
        Craft& craft = *crafts_[(i + turn_) % crafts_.size()];
        const double used = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
        const double left = std::max(1.0, budget_ms - used);
        reached = std::min(reached, craft.advance(wanted, left / static_cast<double>(crafts_.size() - i)));
    }
    ++turn_;
    if (reached != clock_.time_s()) {
        clock_.goTo(std::max(reached, clock_.time_s()));
        changed = true;
    }
    for (const auto& craft : crafts_) craft->show(clock_.time_s());
    if (picked_ && !picked_->why && crafts_[static_cast<std::size_t>(picked_->craft)]->gathered(picked_->pixel)) refreshPicked();
    link();
    return changed;
}

bool Session::busy() const {
    if (loader_.running() || loader_.ended() || draper_.running() || draper_.ended() || exchange_) return true;
    if (!loaded()) return false;
    for (const auto& craft : crafts_) {
        if (!craft->settled()) return true;
    }
    return clock_.moving() || behind_;
}

void Session::scrub(double time_s) {
    dropHand();
    clock_.scrub(time_s);
    for (const auto& craft : crafts_) craft->show(clock_.time_s());
    if (picked_) refreshPicked();
}

void Session::restart() {
    clock_.restart();
    dropHand();
    for (const auto& craft : crafts_) craft->show(0.0);
    if (picked_) refreshPicked();
}

}  // namespace linefall
