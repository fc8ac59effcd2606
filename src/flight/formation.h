#pragma once
// The clock of a flight: asks one instrument for lines and appends them to its image. Cost follows cause: looks are
// made once and kept; new sun or air re-walks from the ground; new noise re-walks from the detector.

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "base/threads.h"
#include "base/trace.h"
#include "flight/image.h"
#include "instruments/light_walk.h"
#include "scene/scene.h"

namespace linefall {

/// One of the looks that a sample gathers its light from.
struct WhyLook {
    Vec3 sensor_m{0.0}, point_m{0.0};
    Meets meets = Meets::sky;
};

/// Answer to "why this pixel?".
struct Why {
    int line = 0, sample = 0;
    double time_s = 0.0;
    Pose pose;
    Vec3 sensor_m{0.0};            ///< where the line of sight begins: the platform, but for parallel ones (effect.perspective)
    Vec3 attitude_rad{0.0};        ///< yaw, pitch, roll
    Vec3 look{0.0, 0.0, -1.0};     ///< world direction of the central look
    GroundHit hit;                 ///< of the central contribution, as kept
    double slant_range_m = 0.0;
    double view_incidence_rad = 0.0;   ///< on level ground
    double local_view_incidence_rad = 0.0;  ///< view against the surface's normal
    double sun_incidence_rad = 0.0;    ///< solar zenith angle
    double local_incidence_rad = 0.0;  ///< sun against the surface's normal
    double sun_share = 0.0;            ///< of the disc, central contribution
    std::optional<Vec3> blocked_at_m;  ///< where the way to the sun is blocked
    std::string blocked_by;            ///< the object that blocks it, "an unnamed object" or "terrain"; empty: nothing
    Sunlight sun;
    std::string material;
    std::string object;                ///< name, or empty
    struct Moving {
        double speed_m_s = 0.0, track_rad = 0.0;
    };
    std::optional<Moving> moving;      ///< of an object that moves: it was met where it stood at time_s
    std::vector<std::uint16_t> counts;  ///< one a band
    std::vector<WhyLook> looks;         ///< all contributions; the central one is the last of an odd number
    Trace trace;
};

/// Stages of a line that are up to date.
enum class Ready : std::uint8_t { nothing, looks, sun_seen, radiance, counts };

/// One instrument over one scene. Not copyable; use from one thread (it starts its own helpers).
class Formation {
public:
    /// Throws InputError when the scene cannot be formed.
    Formation(const Scene& scene, std::size_t instrument_index);
    Formation(const Formation&) = delete;
    Formation& operator=(const Formation&) = delete;
    ~Formation();

    /// Takes a changed scene and keeps all that still holds. Returns the stage from which lines must be walked again.
    Ready update(const Scene& scene);

    [[nodiscard]] const Instrument& instrument() const { return *instrument_; }
    [[nodiscard]] const Motion& motion() const { return *motion_; }
    [[nodiscard]] const PlaceData& place() const { return *place_; }
    /// How lines of sight are made, for whoever draws or follows them.
    [[nodiscard]] const LookManner& manner() const { return path_.manner; }
    [[nodiscard]] int lines() const { return instrument_->lines(); }
    [[nodiscard]] int samples() const { return instrument_->samples(); }

    /// Forms the lines first .. last - 1 that are not up to date. False when cancelled.
    /// `progress`: lines done so far, from any thread.
    bool form(int first, int last, int threads = 0, const Cancel* cancel = nullptr,
              const std::function<void(int)>& progress = {});
    bool formAll(int threads = 0) { return form(0, lines(), threads); }
    [[nodiscard]] bool ready(int line) const { return ready_[static_cast<std::size_t>(line)] == Ready::counts; }
    /// Number of lines whose light has been gathered by a time: lines 0 .. result - 1 may be shown.
    [[nodiscard]] int linesBy(double time_s) const;

    [[nodiscard]] const Image& image() const { return image_; }
    /// The whole walk of one sample; forms its line when needed.
    [[nodiscard]] Why why(int line, int sample);
    /// The central ground point of a sample as kept; nothing for sky.
    [[nodiscard]] std::optional<Vec3> groundPoint(int line, int sample);
    /// The sun and air of a line (the same for all unless the sun moves).
    [[nodiscard]] const Weather& weather(int line);
    /// The sun of a line alone.
    [[nodiscard]] Sunlight sun(int line) const;
    [[nodiscard]] const LightPath& lightPath() const { return path_; }
    /// The ray of a sample's look as the kept looks have it: leaned, and at the time that the sweep-motion switch leaves.
    [[nodiscard]] Ray ray(int line, int sample, const Offset& offset = {}) const;
    /// The time of that look, s since the flight began.
    [[nodiscard]] double lookTime_s(int line, int sample) const;
    [[nodiscard]] const SunSettings& sunSettings() const { return sun_; }

private:
    struct Line;
    void rebuild(const Scene& scene, Ready keep);
    void formLine(int line);
    [[nodiscard]] std::shared_ptr<const Weather> weatherOf(int line) const;

    std::shared_ptr<const PlaceData> place_;
    std::unique_ptr<Instrument> instrument_;
    std::unique_ptr<Motion> motion_;
    LightPath path_;
    SunSettings sun_{};
    AirSettings air_{};
    std::size_t index_ = 0;
    std::vector<std::string> causes_;         // of each stage: see causes.h
    std::shared_ptr<const Weather> weather_;  // when the sun stands still
    std::shared_ptr<const Weather> asked_weather_;
    std::shared_ptr<const SunField> field_;   // of the last sun that stood still
    std::vector<std::unique_ptr<Line>> kept_;
    std::vector<Ready> ready_;
    Image image_;
};

}  // namespace linefall
