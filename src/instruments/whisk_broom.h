#pragma once
// Whisk broom: a mirror sweeps one detector, or a short column of them, across the track.

#include "instruments/instrument.h"

namespace linefall {

enum class Sweep { one_way, two_way };

struct WhiskBroomSettings {
    std::optional<double> ifov_rad, fov_rad, samples, detector_pitch_m, sample_step_rad, line_rate_Hz, duty_cycle, facets;
    double focal_length_m;
    int detectors;
    Sweep sweep;
};

[[nodiscard]] const Keys<WhiskBroomSettings>& whiskBroomKeys();

/// Given: IFOV and FOV (or, in their place, detector pitch and samples). Samples = floor(FOV / sample step).
/// Sample i of a sweep looks (i + 1/2 - N/2) steps off nadir; a dwell is duty x step / FOV of the scan period.
/// The line rate "auto" makes neighbouring scans touch at nadir: speed / (height * IFOV).
class WhiskBroom final : public Instrument {
public:
    WhiskBroom(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems);

    [[nodiscard]] PlatformLook look(int line, int sample, const Offset& offset) const override;
    [[nodiscard]] std::span<const Vec3> centreDirections(int line) const override;
    [[nodiscard]] double lookTime_s(int line, int sample, double dwell_share) const override;
    [[nodiscard]] double offAxisCosine(int, int) const override { return 1.0; }
    [[nodiscard]] int detectorOf(int line, int) const override { return line % derived_.lines_at_once; }
    [[nodiscard]] bool hasMirror() const override { return true; }
    /// Between sweeps a mirror of facets turns on evenly; one that swings returns or turns round smoothly, which is drawn and
    /// no more.
    [[nodiscard]] std::optional<MirrorState> mirrorAt(double time_s) const override;
    [[nodiscard]] std::optional<FieldPoint> field(double share, bool curved) const override;
    [[nodiscard]] double lineTime_s(int line) const override;
    [[nodiscard]] double lineDone_s(int line) const override;

private:
    [[nodiscard]] Vec3 direction(int detector, int sample, const Offset& offset, bool back) const;

    Sweep sweep_ = Sweep::one_way;
    int facets_ = 0;
    std::vector<Vec3> centres_;  // detector by detector, one a sample
};

}  // namespace linefall
