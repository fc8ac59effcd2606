#pragma once
// A human eye that looks down from the craft: pupil, lens, retina. One fixation, as a frame camera takes one picture.

#include "instruments/instrument.h"
#include "instruments/retina.h"

namespace linefall {

struct EyeSettings {
    double focal_length_m;
    double cone_spacing_rad;  ///< at the middle of the fovea
    int samples, rows;
    double integration_s;
    bool follow;
    double station;
    double spacing_doubles_rad, foveola_rad, rod_free_rad;
    double s_share, l_share;
};

/// The geometry; the front of the eye is declared in physics/ocular, its receptors' answer in physics/pigment.
[[nodiscard]] const Keys<EyeSettings>& eyeKeys();

/// The reduced eye: one nodal point, and a flat retina behind it (within 5 deg of the axis a plane and a sphere about that
/// point differ by less than 0.3 % in place). A pixel is as wide as a foveal cone. Each band of it is read from the nearest
/// receptor of the band's kind, so that away from the fovea, and between the few S cones, neighbouring pixels show one
/// reading. A receptor gathers over an area as wide as a foveal cone wherever it lies (real cones grow, by less than their
/// spacing). A caught photon counts as one electron. Left out: aberrations other than defocus, light scattered in the eye,
/// the macula's yellow pigment, that light through the pupil's edge counts less, adaptation (half_saturation is set), and
/// all that nerves do after the receptor.
class Eye final : public Instrument {
public:
    Eye(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight, Problems& problems);

    [[nodiscard]] PlatformLook look(int line, int sample, const Offset& offset) const override;
    [[nodiscard]] std::span<const Vec3> centreDirections(int) const override { return {}; }
    [[nodiscard]] double lookTime_s(int line, int sample, double dwell_share) const override;
    [[nodiscard]] double offAxisCosine(int line, int sample) const override;
    [[nodiscard]] int detectorOf(int line, int sample) const override;
    [[nodiscard]] std::optional<ReceptorRead> receptorOf(int line, int sample, int band) const override;
    [[nodiscard]] Offset placed(int line, int sample, const Offset& offset) const override;
    [[nodiscard]] bool hasReceptors() const override { return true; }
    [[nodiscard]] bool followsGround() const override { return follow_; }
    [[nodiscard]] std::vector<OwnFact> ownFacts() const override;
    [[nodiscard]] std::string caution() const override { return "Never look at the sun or its glint, least of all through an optic: it blinds."; }
    [[nodiscard]] bool hasMirror() const override { return false; }
    [[nodiscard]] std::optional<FieldPoint> field(double share, bool curved) const override;
    [[nodiscard]] double lineTime_s(int) const override { return time_s_; }
    [[nodiscard]] double lineDone_s(int) const override { return time_s_ + 0.5 * derived_.dwell_s; }
    [[nodiscard]] const Retina& retina() const { return *retina_; }
    [[nodiscard]] double pupil_m() const { return pupil_m_; }

private:
    /// Place of a pixel's centre on the retina, in pitches from the middle.
    [[nodiscard]] double columnOf(int sample) const { return sample + 0.5 - 0.5 * derived_.samples; }
    [[nodiscard]] double rowOf(int line) const { return line + 0.5 - 0.5 * derived_.lines; }

    std::shared_ptr<const Retina> retina_;
    double pupil_m_ = 0.003;
    double time_s_ = 0.0;
    bool follow_ = true;
};

}  // namespace linefall
