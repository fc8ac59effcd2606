#include "flight/formation.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdlib>

#include "base/constants.h"
#include "flight/causes.h"
#include "flight/shared_reflectances.h"
#include "flight/shared_sun_field.h"
#include "physics/noise.h"
#include "physics/solar_spectrum.h"

namespace linefall {

/// What is kept of a line.
struct Formation::Line {
    LineLooks looks;
    std::vector<std::uint8_t> seen;   ///< points of the sun in view, one a contribution
    std::vector<float> radiance;      ///< band by band, one a sample
};

namespace {

/// Looks above this many bytes are not kept but made again when asked for: memory grows with the image alone.
constexpr std::size_t most_kept_bytes = std::size_t{3} << 30;
constexpr std::size_t bytes_a_look = 32;

}  // namespace

Formation::Formation(const Scene& scene, std::size_t instrument_index) : index_(instrument_index) {
    rebuild(scene, Ready::nothing);
    causes_ = causesOf(scene, scene.instruments.at(index_));
}

Formation::~Formation() = default;

Ready Formation::update(const Scene& scene) {
    const std::vector<std::string> now = causesOf(scene, scene.instruments.at(index_));
    Ready keep = Ready::counts;
    for (int stage = 3; stage >= 0; --stage) {
        if (now[static_cast<std::size_t>(stage)] != causes_[static_cast<std::size_t>(stage)]) keep = static_cast<Ready>(stage);
    }
    if (scene.place != place_) keep = Ready::nothing;
    if (keep == Ready::counts) return keep;
    rebuild(scene, keep);
    causes_ = now;
    return keep;
}

void Formation::rebuild(const Scene& scene, Ready keep) {
    Problems problems;
    std::unique_ptr<Instrument> instrument = makeInstrument(scene, index_, problems);
    if (!problems.empty()) throw InputError(problems);
    auto motion = std::make_unique<Motion>(scene.flightSettings());  // throws before anything is changed

    place_ = scene.place;
    instrument_ = std::move(instrument);
    motion_ = std::move(motion);
    sun_ = sunKeys().read(scene.settings);
    air_ = airKeys().read(scene.settings);

    path_ = LightPath{};
    path_.instrument = instrument_.get();
    path_.motion = motion_.get();
    path_.ground = place_->ground.get();
    path_.effects = effectKeys().read(scene.settings);
    path_.manner = lookManner(scene.flightSettings(), path_.effects);
    path_.noise_seed = std::strtoull(noiseSeedKeys().read(scene.settings).seed.c_str(), nullptr, 10);
    const std::vector<Band>& bands = instrument_->bands();
    for (const Material& material : place_->materials) path_.water.push_back(material.water ? 1 : 0);
    const std::shared_ptr<const BandReflectances> reflect = sharedReflectances(place_, bands);
    path_.reflectances = reflect->reflectances;
    path_.wavelengths_um = reflect->wavelengths_um;
    double mean_wavelength_um = 0.0;
    for (std::size_t b = 0; b < bands.size(); ++b) {
        mean_wavelength_um += path_.wavelengths_um[b] / static_cast<double>(bands.size());
        if (path_.effects.pattern) {
            path_.patterns.push_back(detectorPattern(instrument_->detector(), instrument_->derived().detectors, static_cast<int>(b)));
        }
    }
    PointSpread spread;
    const int contributions = qualityKeys().read(scene.settings).contributions;
    spread.contributions = path_.effects.blur ? contributions : 1;
    spread.blur_pitch = instrument_->optics().blur_pitch;
    // One diffraction pattern serves all bands: that of their mean wavelength.
    spread.diffraction_pitch = mean_wavelength_um * 1e-6 * instrument_->optics().f_number / instrument_->derived().detector_pitch_m;
    spread.dwell = !instrument_->followsGround();
    path_.offsets = contributionOffsets(spread);
    if (instrument_->hasReceptors()) {  // as many looks for each band, one band after the other
        const std::vector<Offset> each = path_.offsets;
        path_.offsets.clear();
        for (int band = 0; band < static_cast<int>(bands.size()); ++band) {
            for (Offset offset : each) {
                offset.band = band;
                path_.offsets.push_back(offset);
            }
        }
    }

    weather_ = nullptr;
    asked_weather_ = nullptr;
    if (!sun_.moves) {
        weather_ = weatherOf(0);
        if (!sun_.disc && path_.effects.cast_shadow) {
            const Vec3& towards = weather_->sun.towards;
            if (!field_ || field_->towards() != towards || keep == Ready::nothing) {
                field_ = sharedSunField(place_->ground, towards);
            }
            auto with_field = std::make_shared<Weather>(*weather_);
            with_field->field = field_;
            weather_ = with_field;
        }
    }

    const auto lines = static_cast<std::size_t>(instrument_->lines());
    if (keep == Ready::nothing) {
        kept_.clear();
        kept_.resize(lines);
        ready_.assign(lines, Ready::nothing);
        image_ = Image{};
        image_.bands = bands;
        image_.counts.assign(bands.size(), Raster<std::uint16_t>(instrument_->samples(), instrument_->lines()));
        image_.sky = Raster<std::uint8_t>(instrument_->samples(), instrument_->lines());
    }
    for (Ready& r : ready_) r = std::min(r, keep);
    const Steps steps = stepsOf(path_);
    image_.most_count = steps.most;
    image_.step_e = steps.step_e;
}

std::shared_ptr<const Weather> Formation::weatherOf(int line) const {
    const Sunlight light = sunlight(sun_, place_->site, instrument_->bands(), instrument_->lineTime_s(line));
    return std::make_shared<Weather>(Weather{light, Air(air_, solarSpectrum(), instrument_->bands(), light.zenith_rad()), sunDirections(light, sun_.disc), nullptr});
}

Sunlight Formation::sun(int line) const {
    return weather_ ? weather_->sun : sunlight(sun_, place_->site, instrument_->bands(), instrument_->lineTime_s(line));
}

const Weather& Formation::weather(int line) {
    if (weather_) return *weather_;
    asked_weather_ = weatherOf(line);
    return *asked_weather_;
}

void Formation::formLine(int line) {
    const auto l = static_cast<std::size_t>(line);
    if (ready_[l] == Ready::counts) return;
    const std::size_t bands = instrument_->bands().size();
    const auto samples = static_cast<std::size_t>(instrument_->samples());
    const std::size_t looks_in_all = samples * static_cast<std::size_t>(instrument_->lines()) * path_.offsets.size();
    const bool keep_looks = looks_in_all * bytes_a_look <= most_kept_bytes;
    if (!kept_[l]) kept_[l] = std::make_unique<Line>();
    Line& kept = *kept_[l];
    const std::shared_ptr<const Weather> weather = weather_ ? weather_ : weatherOf(line);
    const LinePart part{line, 0, instrument_->samples()};

    if (ready_[l] < Ready::radiance) {
        if (kept.looks.empty() || ready_[l] < Ready::looks) {
            lookBack(*instrument_, *motion_, *place_->ground, path_.offsets, path_.manner, line, kept.looks);
            seeSky(*place_->ground, kept.looks);
            for (int s = 0; s < instrument_->samples(); ++s) {
                const auto first = kept.looks.meets.begin() + s * kept.looks.contributions;
                image_.sky.at(s, line) = std::any_of(first, first + kept.looks.contributions, [](Meets m) { return m == Meets::sky; }) ? 1 : 0;
            }
        }
        if (ready_[l] < Ready::sun_seen || kept.seen.size() != kept.looks.meets.size()) {
            kept.seen.resize(kept.looks.meets.size());
            seeSun(path_, *weather, kept.looks, part, kept.seen);
        }
        kept.radiance.resize(bands * samples);
        walkToSensor(path_, *weather, kept.looks, kept.seen, part, kept.radiance);
        if (!keep_looks) {
            kept.looks = LineLooks{};
            kept.seen = std::vector<std::uint8_t>{};
        }
    }
    std::vector<std::uint16_t> counts(bands * samples);
    walkToCounts(path_, kept.radiance, part, counts);
    for (std::size_t b = 0; b < bands; ++b) {
        std::copy_n(counts.begin() + static_cast<std::ptrdiff_t>(b * samples), samples, image_.counts[b].row(line).begin());
    }
    ready_[l] = Ready::counts;
}

bool Formation::form(int first, int last, int threads, const Cancel* cancel, const std::function<void(int)>& progress) {
    first = std::max(0, first);
    last = std::min(last, lines());
    std::atomic<int> done{0};
    return parallelFor(std::max(0, last - first), threads, [&](int i) {
        formLine(first + i);
        const int so_far = done.fetch_add(1, std::memory_order_relaxed) + 1;
        if (progress) progress(so_far);
    }, cancel);
}

int Formation::linesBy(double time_s) const {
    int low = 0;
    int high = lines();
    while (low < high) {  // line times never fall with the line number
        const int middle = (low + high) / 2;
        if (instrument_->lineDone_s(middle) <= time_s) low = middle + 1;
        else high = middle;
    }
    return low;
}

Ray Formation::ray(int line, int sample, const Offset& offset) const {
    return lookRay(*instrument_, *motion_, offset, path_.manner, line, sample);
}

double Formation::lookTime_s(int line, int sample) const {
    return path_.manner.sweep_motion ? instrument_->lookTime_s(line, sample, 0.0) : instrument_->lineTime_s(line);
}

std::optional<Vec3> Formation::groundPoint(int line, int sample) {
    formLine(line);
    const Line& kept = *kept_[static_cast<std::size_t>(line)];
    // The centre is the last of an odd number of contributions; of an even number none is, and the pairs lie about it.
    if (kept.looks.empty() || path_.offsets.size() % 2 == 0 || instrument_->hasReceptors()) {
        const GroundHit hit = place_->ground->intersect(ray(line, sample));
        if (hit.meets == Meets::sky) return std::nullopt;
        return hit.point_m;
    }
    const std::size_t at = (static_cast<std::size_t>(sample) + 1) * path_.offsets.size() - 1;
    if (kept.looks.meets[at] == Meets::sky) return std::nullopt;
    return Vec3(kept.looks.x_m[at], kept.looks.y_m[at], kept.looks.z_m[at]);
}

Why Formation::why(int line, int sample) {
    if (line < 0 || line >= lines() || sample < 0 || sample >= samples()) {
        throw InputError(Problem{{"", 0, 0}, "line, sample", std::to_string(line) + ", " + std::to_string(sample),
                                 "a line of 0 to " + std::to_string(lines() - 1) + " and a sample of 0 to " + std::to_string(samples() - 1), ""});
    }
    formLine(line);
    Why why;
    why.line = line;
    why.sample = sample;
    why.time_s = lookTime_s(line, sample);
    why.pose = motion_->at(why.time_s);
    why.sensor_m = path_.manner.perspective ? why.pose.position_m : parallelOrigin(*instrument_, why.pose, Offset{}, line, sample);
    why.attitude_rad = motion_->attitude_rad(why.time_s);
    const Ray central = ray(line, sample);
    why.look = central.direction;
    why.hit = place_->ground->intersect(central);
    why.sun = weather(line).sun;
    why.sun_incidence_rad = why.sun.zenith_rad();
    const auto between = [](const Vec3& a, const Vec3& b) { return std::acos(std::clamp(glm::dot(a, b), -1.0, 1.0)); };
    if (why.hit.meets != Meets::sky) {
        const Vec3 to_sensor = glm::normalize(why.sensor_m - why.hit.point_m);
        why.slant_range_m = glm::length(why.sensor_m - why.hit.point_m);
        why.view_incidence_rad = between(to_sensor, why.hit.up);
        why.local_view_incidence_rad = between(to_sensor, why.hit.normal);
        why.local_incidence_rad = between(why.sun.towards, why.hit.normal);
        why.material = place_->materials[why.hit.material].name;
        if (why.hit.object >= 0) {
            const Object& thing = place_->ground->thing(why.hit.object);
            why.object = thing.name;
            if (thing.moves()) why.moving = Why::Moving{thing.speed_m_s, thing.track_rad};
        }
        if (why.local_incidence_rad < 0.5 * constants::pi && why.sun.up()) {
            if (const auto blocking = place_->ground->blocking(why.hit.point_m, why.hit.normal, why.sun.towards, why.time_s)) {
                why.blocked_at_m = blocking->point_m;
                const std::string name = blocking->object < 0 ? "terrain" : place_->ground->thing(blocking->object).name;
                why.blocked_by = name.empty() ? "an unnamed object" : name;
            }
        }
    }
    // The walk itself, of this one sample, from the same kept looks and by the same functions as the image.
    const LinePart part{line, sample, 1};
    const std::size_t n = path_.offsets.size();
    Line& kept = *kept_[static_cast<std::size_t>(line)];
    LineLooks made_again;
    const LineLooks* looks = &kept.looks;
    if (kept.looks.empty()) {
        lookBack(*instrument_, *motion_, *place_->ground, path_.offsets, path_.manner, line, made_again);
        seeSky(*place_->ground, made_again);
        looks = &made_again;
    }
    std::vector<std::uint8_t> seen(n);
    const Weather& here = weather(line);
    seeSun(path_, here, *looks, part, seen);
    std::vector<float> radiance(instrument_->bands().size());
    why.counts.resize(radiance.size());
    walkToSensor(path_, here, *looks, seen, part, radiance, &why.trace);
    walkToCounts(path_, radiance, part, why.counts, &why.trace);
    why.looks.resize(n);
    for (std::size_t k = 0; k < n; ++k) why.looks[k].meets = looks->meets[static_cast<std::size_t>(sample) * n + k];
    for (const TraceRow& row : why.trace.rows()) {
        if (row.stage != "aim" || row.contribution < 0) continue;
        WhyLook& one = why.looks[static_cast<std::size_t>(row.contribution)];
        for (int axis = 0; axis < 3; ++axis) {
            if (row.symbol == std::string(1, "XYZ"[axis])) one.sensor_m[axis] = row.value;
            if (row.symbol == std::string(1, "xyz"[axis])) one.point_m[axis] = row.value;
        }
    }
    why.sun_share = static_cast<double>(seen.back()) / static_cast<double>(here.sun_points.size());
    return why;
}

}  // namespace linefall
