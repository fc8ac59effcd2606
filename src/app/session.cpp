#include "app/session.h"

#include <algorithm>
#include <chrono>

#include "app/machine.h"
#include "flight/shared_sun_field.h"
#include "scene/memory.h"
#include "scene/scene_files.h"

namespace linefall {

/// What the loading job makes.
struct Session::Loaded {
    Scene scene;
    std::vector<std::unique_ptr<Craft>> crafts;
};

/// What the drape job makes, and for which light.
struct Session::DrapeJob {
    Scene scene;
    int version = 0, side = 0, generation = 0;
    bool with_objects = false;
    Drape drape;
    Mesh objects;
};

namespace {

constexpr int first_drape = 128;
constexpr std::chrono::milliseconds between_dragged_drapes{160};
constexpr std::size_t most_object_triangles = 30000;

std::string problemKey(const ParameterOf& parameter) { return parameter.row->key + "#" + std::to_string(parameter.craft); }

/// Settings under which the brightness of a picture stays comparable.
bool keepsLook(const std::string& key) {
    for (const char* prefix : {"sun.", "air.", "effect.", "noise.", "show.as", "show.cause", "show.displacement", "show.resampling", "show.map_height", "show.turned"}) {
        if (key.rfind(prefix, 0) == 0) return key != "effect.quantisation";
    }
    return false;
}

}  // namespace

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
        double duration = 0.0;
        for (const auto& craft : crafts_) duration = std::max(duration, craft->duration_s());
        clock_.reset(duration);
        picked_.reset();
        ++picked_version_;
        problems_.clear();
        behind_ = false;
        ++light_version_;
        ++generation_;
        if (!first) {  // what was draped belongs to another land
            drape_side_ = 0;
            draped_version_ = -1;
            drape_.reset();
            objects_.reset();
        }
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

void Session::runDrape() {
    if (draper_.ended()) {
        draper_.finish();
        DrapeJob& job = *drape_job_;
        const bool current = job.version == light_version_;
        if (job.generation == generation_ && job.drape.side > 0 && (current || job.side <= 2 * first_drape)) {
            drape_side_ = job.drape.side;
            drape_ = std::move(job.drape);
            draped_version_ = job.version;
            if (job.with_objects && !job.objects.vertices.empty()) objects_ = std::move(job.objects);
        }
    }
    if (draper_.running()) {
        // A fine drape for a light that has gone by is not worth waiting for; a coarse one is shown.
        if (drape_job_->generation != generation_ || (drape_job_->version != light_version_ && drape_job_->side > first_drape)) draper_.cancel();
        return;
    }
    const bool current = draped_version_ == light_version_;
    if (current && drape_side_ >= finest_drape_) return;
    // Under a dragging hand the land follows a few times a second: the processors are the pictures' and the page's.
    const auto now = std::chrono::steady_clock::now();
    if (following_ && now - drape_begun_ < between_dragged_drapes) return;
    drape_begun_ = now;
    auto job = std::make_shared<DrapeJob>();
    job->scene = scene_;
    job->version = light_version_;
    job->generation = generation_;
    job->side = current ? std::min(finest_drape_, 2 * drape_side_) : first_drape;
    job->with_objects = job->side == 2 * first_drape;
    drape_job_ = job;
    draper_.start([job](const Cancel& cancel) {
        job->drape = makeDrape(job->scene, job->side, 1, &cancel);
        if (job->with_objects && !cancel) job->objects = makeObjects(job->scene, most_object_triangles, &cancel);
    });
}

std::optional<Drape> Session::takeDrape() {
    std::optional<Drape> out;
    out.swap(drape_);
    return out;
}

std::optional<Mesh> Session::takeObjects() {
    std::optional<Mesh> out;
    out.swap(objects_);
    return out;
}

ParameterOf Session::sceneParameter(const std::string& key) const { return {findSceneRow(key), -1}; }

Value Session::valueOf(const ParameterOf& parameter) const {
    const Settings& settings =
        parameter.craft < 0 ? scene_.settings : scene_.instruments.at(static_cast<std::size_t>(parameter.craft)).settings;
    const Setting* given = settings.find(parameter.row->key);
    return given != nullptr ? given->value : parameter.row->default_value;
}

std::string Session::problemOf(const ParameterOf& parameter) const {
    const std::string key = problemKey(parameter);
    for (const auto& problem : problems_) {
        if (problem.first == key) return problem.second;
    }
    return "";
}

void Session::clearProblem(const ParameterOf& parameter) {
    std::erase_if(problems_, [key = problemKey(parameter)](const auto& problem) { return problem.first == key; });
}

std::string Session::setText(const ParameterOf& parameter, const std::string& text) {
    Problems problems;
    const std::optional<Value> value = readValue(*parameter.row, text, {}, problems);
    if (value) return setValue(parameter, *value);
    clearProblem(parameter);
    const Problem& problem = problems.front();
    const std::string words = "expected " + problem.expected + (problem.nearest.empty() ? "" : "; did you mean " + problem.nearest + "?");
    problems_.emplace_back(problemKey(parameter), words);
    return words;
}

std::string Session::setValue(const ParameterOf& parameter, const Value& value) { return setValues({{parameter, value}}); }

std::string Session::setValues(const std::vector<std::pair<ParameterOf, Value>>& values) {
    if (!loaded()) return "";
    Scene next = scene_;
    for (const auto& change : values) {
        const ParameterOf& parameter = change.first;
        clearProblem(parameter);
        Settings& settings = parameter.craft < 0 ? next.settings : next.instruments.at(static_cast<std::size_t>(parameter.craft)).settings;
        settings.replace(*parameter.row, change.second);
    }
    const std::string wrong = apply(next, values.front().first.row->key);
    if (!wrong.empty()) problems_.emplace_back(problemKey(values.front().first), wrong);
    return wrong;
}

/// The sun field of a scene, held so that the crafts that fly under it find it made.
struct Session::Shadows {
    Scene scene;
    int version = 0;
    std::shared_ptr<const SunField> field;
};

void Session::sceneChanged() {
    ++scene_version_;
    shadows_.reset();  // of a scene that is gone
}

/// True when the shadows of a dragged sun are there to be taken; otherwise they are being worked out.
bool Session::shadowsReady() {
    if (shader_.ended()) {
        shader_.finish();
        if (shadows_) return true;
    }
    if (shader_.running()) return false;
    shadows_ = std::make_shared<Shadows>();
    shadows_->scene = scene_;
    shadows_->version = scene_version_;
    const bool cast = sunNow().up() && !sun_settings_->moves && !sun_settings_->disc && effectKeys().read(scene_.settings).cast_shadow;
    if (!cast) return true;
    shader_.start([shadows = shadows_, towards = sunNow().towards](const Cancel&) { shadows->field = sharedSunField(shadows->scene.place->ground, towards); });
    return false;
}

void Session::catchUp() {
    if (!behind_) return;
    if (following_) {
        if (!shadowsReady()) return;
        const std::shared_ptr<Shadows> made = std::move(shadows_);
        shadows_.reset();
        behind_ = made->version != scene_version_;
        for (const auto& craft : crafts_) craft->update(made->scene, true);
    } else {
        behind_ = false;
        shadows_.reset();
        for (const auto& craft : crafts_) craft->update(scene_, true);
    }
    refreshPicked(true);
}

std::string Session::apply(const Scene& next, const std::string& key) {
    std::size_t done = 0;
    if (key == "sun.azimuth" || key == "sun.elevation") {  // always possible: nothing to check first
        scene_ = next;
        ++scene_version_;
        behind_ = true;
        ++light_version_;
        return "";
    }
    try {
        if (!keepsLook(key)) {  // a slider can ask for more than there is
            Problems problems;
            checkGeometry(next, true, problems);
            if (!problems.empty()) throw InputError(problems);
            checkMachine(next);
        }
        for (; done < crafts_.size(); ++done) crafts_[done]->update(next, keepsLook(key));
    } catch (const InputError& error) {
        for (std::size_t i = 0; i < done; ++i) crafts_[i]->update(scene_, keepsLook(key));
        const Problem& problem = error.problems().front();
        return problem.expected.empty() ? std::string(error.what()) : "expected " + problem.expected;
    }
    scene_ = next;
    sceneChanged();
    behind_ = false;
    double duration = 0.0;
    for (const auto& craft : crafts_) duration = std::max(duration, craft->duration_s());
    clock_.setDuration(duration);
    const auto begins = [&](const char* prefix) { return key.rfind(prefix, 0) == 0; };
    if (begins("sun.") || begins("air.") || begins("effect.")) ++light_version_;
    refreshPicked(begins("sun.") || begins("air."));
    return "";
}

std::string Session::takeScene(const Scene& next) {
    if (!loaded()) return "";
    const bool same_place = next.place == scene_.place, as_many = next.instruments.size() == crafts_.size();
    try {
        if (as_many) {
            const std::string wrong = apply(next, "");
            if (!wrong.empty()) return wrong;
        } else {
            std::vector<std::unique_ptr<Craft>> crafts;
            for (std::size_t i = 0; i < next.instruments.size(); ++i) crafts.push_back(std::make_unique<Craft>(next, i));
            crafts_ = std::move(crafts);
            picked_.reset();
            scene_ = next;
            sceneChanged();
            behind_ = false;
            double duration = 0.0;
            for (const auto& craft : crafts_) duration = std::max(duration, craft->duration_s());
            clock_.setDuration(duration);
        }
    } catch (const InputError& error) {
        return error.what();
    }
    problems_.clear();
    ++light_version_;
    if (same_place && as_many) return "";
    ++generation_;
    if (!same_place) {  // what was draped belongs to another land
        drape_side_ = 0;
        draped_version_ = -1;
        drape_.reset();
        objects_.reset();
    }
    return "";
}

const WorldLight& Session::lightNow() const {
    (void)sunNow();
    if (!light_ || light_of_ != scene_version_ || light_time_s_ != sun_time_s_) light_.emplace(worldLight(scene_, clock_.time_s()));
    light_of_ = scene_version_;
    light_time_s_ = sun_time_s_;
    return *light_;
}

const Sunlight& Session::sunNow() const {
    if (sun_version_ != scene_version_) sun_settings_ = sunKeys().read(scene_.settings);
    const double time_s = sun_settings_->moves ? clock_.time_s() : 0.0;
    if (sun_version_ != scene_version_ || sun_time_s_ != time_s) sun_ = sunlight(*sun_settings_, scene_.place->site, worldBands(), clock_.time_s());
    sun_version_ = scene_version_;
    sun_time_s_ = time_s;
    return sun_;
}

void Session::pick(int craft, Pixel pixel) {
    if (craft < 0 || craft >= static_cast<int>(crafts_.size())) return;
    const Formation& formation = crafts_[static_cast<std::size_t>(craft)]->formation();
    pixel.line = std::clamp(pixel.line, 0, formation.lines() - 1);
    pixel.sample = std::clamp(pixel.sample, 0, formation.samples() - 1);
    picked_ = Picked{craft, pixel, std::nullopt, {}, {}};
    refreshPicked();
}

void Session::refreshPicked(bool same_looks) {
    ++picked_version_;
    if (!picked_) return;
    Picked& picked = *picked_;
    Craft& own = *crafts_[static_cast<std::size_t>(picked.craft)];
    picked.pixel.line = std::min(picked.pixel.line, own.formation().lines() - 1);
    picked.pixel.sample = std::min(picked.pixel.sample, own.formation().samples() - 1);
    if (!same_looks) {
        picked.linked.assign(crafts_.size(), std::nullopt);
        picked.linked_at.assign(crafts_.size(), {-1, -1});
    }
    picked.why.reset();
    if (!own.gathered(picked.pixel)) return;
    picked.why = own.formation().why(picked.pixel.line, picked.pixel.sample);
    if (!same_looks) link();
}

/// The same ground in the other pictures, searched again as their lines fall and are formed anew.
void Session::link() {
    if (!picked_ || !picked_->why || picked_->why->hit.meets == Meets::sky) return;
    Picked& picked = *picked_;
    for (std::size_t i = 0; i < crafts_.size() && i < picked.linked.size(); ++i) {
        const std::pair<int, int> now{crafts_[i]->shown(), crafts_[i]->stale()};
        if (static_cast<int>(i) == picked.craft || picked.linked_at[i] == now) continue;
        picked.linked_at[i] = now;
        picked.linked[i] = nearestSample(crafts_[i]->formation(), crafts_[i]->shown(), picked.why->hit.point_m);
    }
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
