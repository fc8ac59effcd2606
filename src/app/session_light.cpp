// The light that a session flies under: the sun now, the shadows of a sun that is dragged, and the land in its colours.

#include <algorithm>
#include <chrono>

#include "app/machine.h"
#include "app/session.h"
#include "flight/shared_sun_field.h"

namespace linefall {

/// What the drape job makes, and for which light.
struct Session::DrapeJob {
    Scene scene;
    int version = 0, side = 0, generation = 0;
    bool with_objects = false;
    Drape drape;
    Mesh objects;
};

/// The sun field of a scene, held so that the crafts that fly under it find it made.
struct Session::Shadows {
    Scene scene;
    int version = 0;
    std::shared_ptr<const SunField> field;
};

namespace {

constexpr int first_drape = 128;
constexpr std::chrono::milliseconds between_dragged_drapes{160};
constexpr std::size_t most_object_triangles = 30000;

}  // namespace

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
        standBack();
        job->drape = makeDrape(job->scene, job->side, 1, &cancel);
        if (job->with_objects && !cancel) job->objects = makeObjects(job->scene, most_object_triangles, &cancel);
    });
}

void Session::dropDrape() {
    drape_side_ = 0;
    draped_version_ = -1;
    drape_.reset();
    objects_.reset();
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
    shader_.start([shadows = shadows_, towards = sunNow().towards](const Cancel&) {
        standBack();
        shadows->field = sharedSunField(shadows->scene.place->ground, towards);
    });
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

}  // namespace linefall
