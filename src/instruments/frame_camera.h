#pragma once
// Frame camera: rows and columns of detectors, all exposed at one instant.

#include "instruments/focal_plane.h"

namespace linefall {

struct FrameCameraSettings : FocalPlaneSettings {
    int rows;
    double exposure_s;
    double station;  ///< where along the flight the frame is taken
};

[[nodiscard]] const Keys<FrameCameraSettings>& frameCameraKeys();

/// Given: focal length, detector pitch and samples (or IFOV and FOV in their place), rows. Row 0 is aft.
class FrameCamera final : public Instrument {
public:
    FrameCamera(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems);

    [[nodiscard]] PlatformLook look(int line, int sample, const Offset& offset) const override;
    [[nodiscard]] std::span<const Vec3> centreDirections(int) const override { return {}; }  // as many as pixels: too many to keep
    [[nodiscard]] double lookTime_s(int line, int sample, double dwell_share) const override;
    [[nodiscard]] double offAxisCosine(int line, int sample) const override;
    [[nodiscard]] int detectorOf(int line, int sample) const override { return line * derived_.samples + sample; }
    [[nodiscard]] bool hasMirror() const override { return false; }
    [[nodiscard]] std::optional<FieldPoint> field(double share, bool curved) const override;
    [[nodiscard]] double lineTime_s(int) const override { return time_s_; }
    [[nodiscard]] double lineDone_s(int) const override { return time_s_ + 0.5 * derived_.dwell_s; }

private:
    double time_s_ = 0.0;
};

}  // namespace linefall
