#pragma once
// Push broom: a line of detectors across the track; the platform's own motion draws the picture.

#include "instruments/focal_plane.h"

namespace linefall {

struct PushBroomSettings : FocalPlaneSettings {
    std::optional<double> line_rate_Hz;
    double duty_cycle;
};

[[nodiscard]] const Keys<PushBroomSettings>& pushBroomKeys();

/// Given: focal length, detector pitch and samples (or IFOV and FOV in their place). The line rate "auto" makes pixels
/// square on level ground: speed / (height * pitch / focal length).
class PushBroom final : public Instrument {
public:
    PushBroom(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems);

    [[nodiscard]] PlatformLook look(int line, int sample, const Offset& offset) const override;
    [[nodiscard]] std::span<const Vec3> centreDirections(int) const override { return centres_; }
    [[nodiscard]] double lookTime_s(int line, int sample, double dwell_share) const override;
    [[nodiscard]] double offAxisCosine(int line, int sample) const override;
    [[nodiscard]] int detectorOf(int, int sample) const override { return sample; }
    [[nodiscard]] bool hasMirror() const override { return false; }
    [[nodiscard]] std::optional<FieldPoint> field(double share, bool curved) const override;
    [[nodiscard]] double lineTime_s(int line) const override { return (line + 0.5) * derived_.line_period_s; }
    [[nodiscard]] double lineDone_s(int line) const override { return lineTime_s(line) + 0.5 * derived_.dwell_s; }

private:
    [[nodiscard]] Vec3 direction(int sample, const Offset& offset) const;
    std::vector<Vec3> centres_;
};

}  // namespace linefall
